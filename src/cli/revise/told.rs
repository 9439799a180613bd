//! What `revise` tells: what the client changed, and what needs a look.

use super::super::args::OutputArgs;
use super::super::report::{self, FaultRecord};
use super::super::written::MovedAsideRecord;
use super::super::{Done, speak};
use crate::json::{Format, records};
use crate::names::Fault;
use crate::text::revise::{CalloutNotice, Change, ChangeKind, Revision, Wording};

/// How many changes are shown to people.
const SHOWN: usize = 20;
/// How many of the words that stayed are shown beside a change.
const BESIDE: usize = 4;
/// How many characters of whole lines are shown.
const LONGEST: usize = 72;

/// A revision that was written.
pub(super) struct WrittenRevision<'a> {
    pub revision: &'a Revision,
    pub manuscript: &'a str,
    /// The old manuscript's name now.
    pub kept: &'a str,
    /// What is wrong with the book as it is now.
    pub faults: &'a [Fault],
}

records! {
    /// `revise`: what the client changed, and what needs a look.
    pub(in crate::cli) struct ReviseRecord {
        /// The number of the form that this record has.
        format: Format,
        /// The file name of the manuscript.
        manuscript: String,
        /// Files that have a new content: the manuscript, or none where the client changed nothing.
        written: Vec<String>,
        /// The manuscript as it was, under the name that it has now.
        moved_aside: Vec<MovedAsideRecord>,
        /// Whether the client's file has callouts of the manuscript, and so was read with its mark-up.
        with_callouts: bool,
        /// How many words of the manuscript are found again in the client's text.
        words_found: usize,
        /// How many it had.
        words_before: usize,
        /// What the client changed, in the order of the new manuscript.
        changes: Vec<ChangeRecord>,
        /// How many callouts stand beside the words that they stood beside.
        callouts_carried: usize,
        /// The callouts that need a look.
        callouts: Vec<CalloutRecord>,
        /// Mark-up that could not be carried over, with its words.
        lost: Vec<String>,
        /// What is wrong with the book as it is now.
        faults: Vec<FaultRecord>,
    }

    /// One change of the client's.
    pub(in crate::cli) struct ChangeRecord {
        /// `changed`, `added`, `cut`, `moved`, or `spaced`: other blank lines above it.
        kind: &'static str,
        /// The line of the new manuscript; of what was cut, the one it stood after, 0 at the head.
        line: usize,
        /// The line of the old manuscript, if it was there.
        was_line: Option<usize>,
        /// Whether it is a paragraph of prose.
        paragraph: bool,
        /// Its words in order.
        words: Vec<WordingRecord>,
    }

    /// Words that stayed, or words that are others now.
    pub(in crate::cli) struct WordingRecord {
        /// The words that stayed. Null where they are others.
        same: Option<String>,
        /// What stood there; empty for words that were put in. Null where they stayed.
        was: Option<String>,
        /// What stands there; empty for words that were taken out. Null where they stayed.
        now: Option<String>,
    }

    /// A callout that needs a look.
    pub(in crate::cli) struct CalloutRecord {
        /// As it is written.
        callout: String,
        /// Its line in the old manuscript.
        was_line: usize,
        /// Its line in the new one. Null where it could not be carried over.
        line: Option<usize>,
        /// What happened, in a sentence for people.
        what: String,
    }
}

/// Tells that there is nothing to do.
pub(super) fn nothing(
    output: &OutputArgs,
    revision: &Revision,
    (manuscript, file): (&str, &str),
) -> Done {
    if output.json {
        return speak::json(&record(revision, manuscript));
    }
    if !output.quiet {
        speak::result(&format!(
            "Nothing has changed: {file} has the words of the manuscript.\n"
        ))?;
    }
    Ok(())
}

pub(super) fn tell(output: &OutputArgs, written: &WrittenRevision<'_>) -> Done {
    let (revision, manuscript) = (written.revision, written.manuscript);
    if output.json {
        return speak::json(&ReviseRecord {
            written: vec![manuscript.to_string()],
            moved_aside: vec![MovedAsideRecord::of(manuscript, written.kept)],
            faults: report::fault_records(written.faults),
            ..record(revision, manuscript)
        });
    }
    let said = match output.quiet {
        true => Ok(()),
        false => speak::result(&summary(written)),
    };
    // What she has to look at is said in any case.
    if !written.faults.is_empty() {
        speak::message("\nThe words are in; but the book cannot be made now:");
        for fault in written.faults {
            speak::message(&report::drawn(fault));
        }
    }
    said
}

/// The record of a revision that has not been written.
fn record(revision: &Revision, manuscript: &str) -> ReviseRecord {
    ReviseRecord {
        format: Format,
        manuscript: manuscript.to_string(),
        written: Vec::new(),
        moved_aside: Vec::new(),
        with_callouts: revision.marked,
        words_found: revision.found.0,
        words_before: revision.found.1,
        changes: revision.changes.iter().map(change_record).collect(),
        callouts_carried: revision.carried,
        callouts: revision.callouts.iter().map(callout_record).collect(),
        lost: revision.lost.clone(),
        faults: Vec::new(),
    }
}

fn change_record(change: &Change) -> ChangeRecord {
    let words = change.words.iter().map(|wording| match wording {
        Wording::Same(words) => WordingRecord {
            same: Some(words.clone()),
            was: None,
            now: None,
        },
        Wording::Other { was, now } => WordingRecord {
            same: None,
            was: Some(was.clone()),
            now: Some(now.clone()),
        },
    });
    ChangeRecord {
        kind: word(change.kind),
        line: change.line,
        was_line: change.was,
        paragraph: change.paragraph,
        words: words.collect(),
    }
}

fn callout_record(told: &CalloutNotice) -> CalloutRecord {
    CalloutRecord {
        callout: told.callout.clone(),
        was_line: told.was,
        line: told.line,
        what: told.what.clone(),
    }
}

fn word(kind: ChangeKind) -> &'static str {
    match kind {
        ChangeKind::Changed => "changed",
        ChangeKind::Added => "added",
        ChangeKind::Cut => "cut",
        ChangeKind::Moved => "moved",
        ChangeKind::Spaced => "spaced",
    }
}

fn summary(written: &WrittenRevision<'_>) -> String {
    let revision = written.revision;
    let mut text = format!("{}\n", counts(&revision.changes));
    if !revision.changes.is_empty() {
        text.push('\n');
    }
    let runs = runs(&revision.changes);
    for run in runs.iter().take(SHOWN) {
        text.push_str(&shown(run));
    }
    if runs.len() > SHOWN {
        text.push_str(&format!(
            "and {} more; `--json` has them all\n",
            runs.len() - SHOWN
        ));
    }
    if revision.marked {
        text.push_str("\nThe client's file has callouts of the manuscript, so it was read with its mark-up.\n");
    }
    text.push_str(&format!("\n{}\n", carried(revision)));
    let looks = revision.callouts.iter().map(|told| told.what.clone());
    let lost = revision
        .lost
        .iter()
        .map(|lost| format!("mark-up that could not be carried over: {lost}"));
    for look in looks.chain(lost) {
        text.push_str(&format!("– {look}\n"));
    }
    text.push_str(&format!(
        "\n{} has the client's words; as it was, it is kept as {}.\n",
        written.manuscript, written.kept
    ));
    text
}

fn carried(revision: &Revision) -> String {
    let all = revision.carried + revision.callouts.len();
    match (all, revision.callouts.len()) {
        (0, _) => "The manuscript has no callouts.".to_string(),
        (1, 0) => "Its one callout stands beside the words that it stood beside.".to_string(),
        (2, 0) => "Both callouts stand beside the words that they stood beside.".to_string(),
        (all, 0) => format!("All {all} callouts stand beside the words that they stood beside."),
        (all, need) => format!(
            "{} of {all} callouts stand beside the words that they stood beside; {need} {} a look:",
            revision.carried,
            if need == 1 { "needs" } else { "need" }
        ),
    }
}

/// How many lines changed, and so on.
fn counts(changes: &[Change]) -> String {
    let mut parts: Vec<String> = Vec::new();
    let kinds = [
        (ChangeKind::Changed, "changed"),
        (ChangeKind::Added, "added"),
        (ChangeKind::Cut, "cut"),
        (ChangeKind::Moved, "moved"),
    ];
    for (kind, word) in kinds {
        for (paragraph, one, many) in [(false, "line", "lines"), (true, "paragraph", "paragraphs")]
        {
            let own = |change: &&Change| change.kind == kind && change.paragraph == paragraph;
            match changes.iter().filter(own).count() {
                0 => {}
                1 => parts.push(format!("1 {one} {word}")),
                n => parts.push(format!("{n} {many} {word}")),
            }
        }
    }
    match changes
        .iter()
        .filter(|change| change.kind == ChangeKind::Spaced)
        .count()
    {
        0 => {}
        1 => parts.push("the blank lines in 1 place".to_string()),
        n => parts.push(format!("the blank lines in {n} places")),
    }
    match parts.is_empty() {
        true => "The words are the same; their mark-up has changed.".to_string(),
        false => format!("The client's corrections: {}.", parts.join(", ")),
    }
}

/// Lines that moved together, or that were added or cut together, are told together.
fn runs(changes: &[Change]) -> Vec<&[Change]> {
    let follow = |one: &Change, other: &Change| {
        let told_together = matches!(
            one.kind,
            ChangeKind::Moved | ChangeKind::Added | ChangeKind::Cut
        );
        let near = |one: usize, other: usize| other >= one && other - one <= 2;
        let was = match (one.was, other.was) {
            (Some(one), Some(other)) => near(one, other),
            (one, other) => one == other,
        };
        told_together && one.kind == other.kind && near(one.line, other.line) && was
    };
    changes.chunk_by(follow).collect()
}

/// One line for changes that are told together.
fn shown(run: &[Change]) -> String {
    let (first, last) = (&run[0], &run[run.len() - 1]);
    let more = match (run.len(), first.paragraph) {
        (1, _) => String::new(),
        (n, false) => format!(" ({n} lines)"),
        (n, true) => format!(" ({n} paragraphs)"),
    };
    let whole = |change: &Change| match change.words.first() {
        Some(Wording::Same(words)) => cut_short(words),
        _ => String::new(),
    };
    let words = match run.len() {
        1 => whole(first),
        _ => format!("{}{more}", whole(first)),
    };
    let _ = last;
    let (place, words) = match first.kind {
        ChangeKind::Changed => (format!("line {}", first.line), differences(&first.words)),
        ChangeKind::Added => (format!("line {}", first.line), format!("added: {words}")),
        ChangeKind::Cut if first.line == 0 => ("at the head".to_string(), format!("cut: {words}")),
        ChangeKind::Cut => (
            format!("after line {}", first.line),
            format!("cut: {words}"),
        ),
        ChangeKind::Moved => {
            let was = first.was.unwrap_or_default();
            (
                format!("line {}", first.line),
                format!("moved, it was line {was}: {words}"),
            )
        }
        ChangeKind::Spaced => (
            format!("line {}", first.line),
            format!("other blank lines above: {words}"),
        ),
    };
    format!("{place:<14} {words}\n")
}

/// Words with their differences; of those that stayed, what stands beside.
fn differences(words: &[Wording]) -> String {
    let mut text: Vec<String> = Vec::new();
    let count = words.len();
    if !words
        .iter()
        .any(|wording| matches!(wording, Wording::Other { .. }))
    {
        let same = words.iter().map(|wording| match wording {
            Wording::Same(words) => words.as_str(),
            Wording::Other { .. } => "",
        });
        return format!(
            "other spaces: {}",
            cut_short(&same.collect::<Vec<_>>().join(" "))
        );
    }
    for (at, wording) in words.iter().enumerate() {
        match wording {
            Wording::Other { was, now } => {
                let part = match (was.is_empty(), now.is_empty()) {
                    (true, _) => format!("[+ {now}]"),
                    (_, true) => format!("[− {was}]"),
                    _ => format!("[{was} → {now}]"),
                };
                text.push(speak::bold(&part));
            }
            Wording::Same(same) => {
                let all: Vec<&str> = same.split_whitespace().collect();
                let (before, behind) = (at > 0, at + 1 < count);
                let sides = usize::from(before) + usize::from(behind);
                if all.len() <= BESIDE * sides + 2 {
                    text.push(all.join(" "));
                    continue;
                }
                let head = all[..BESIDE].join(" ");
                let tail = all[all.len() - BESIDE..].join(" ");
                text.push(match (before, behind) {
                    (true, true) => format!("{head} … {tail}"),
                    (true, false) => format!("{head} …"),
                    _ => format!("… {tail}"),
                });
            }
        }
    }
    text.join(" ")
}

/// A line, or its beginning.
fn cut_short(words: &str) -> String {
    if words.chars().count() <= LONGEST {
        return words.to_string();
    }
    let head: String = words.chars().take(LONGEST).collect();
    let head = head
        .rsplit_once(' ')
        .map_or(head.as_str(), |(head, _)| head);
    format!("{head} …")
}
