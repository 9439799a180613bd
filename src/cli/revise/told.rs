//! What `revise` tells: what the client changed, and what needs a look.

use serde_json::{Value, json};

use super::super::call::Verbosity;
use super::super::{Done, report, speak};
use crate::names::Fault;
use crate::text::revise::{CalloutNotice, Change, ChangeKind, Revision, Wording};

/// How many changes are shown to people.
const SHOWN: usize = 20;
/// Of words that stayed, so many are shown beside a change.
const BESIDE: usize = 4;
/// Of whole lines, so many characters.
const LONGEST: usize = 72;

/// A revision that was written.
pub(super) struct Taken<'a> {
    pub revision: &'a Revision,
    pub manuscript: &'a str,
    /// The old manuscript's name now.
    pub kept: &'a str,
    /// What is wrong with the book as it is now.
    pub faults: &'a [Fault],
}

/// Tells that there is nothing to do.
pub(super) fn nothing(voice: &Verbosity, file: &str) -> Done {
    if voice.json {
        let value =
            json!({ "changed": false, "changes": [], "callouts": [], "lost": [], "faults": [] });
        return speak::json(&value);
    }
    if !voice.quiet {
        speak::result(&format!(
            "Nothing has changed: {file} has the words of the manuscript.\n"
        ))?;
    }
    Ok(())
}

pub(super) fn tell(voice: &Verbosity, taken: &Taken<'_>) -> Done {
    let revision = taken.revision;
    if voice.json {
        let value = json!({
            "changed": true,
            "manuscript": taken.manuscript,
            "kept": taken.kept,
            "with_callouts": revision.marked,
            "words_found": revision.found.0,
            "words_before": revision.found.1,
            "changes": revision.changes.iter().map(change_value).collect::<Vec<_>>(),
            "callouts_carried": revision.carried,
            "callouts": revision.callouts.iter().map(callout_value).collect::<Vec<_>>(),
            "lost": revision.lost,
            "faults": taken.faults.iter().map(report::fault_value).collect::<Vec<_>>(),
        });
        return speak::json(&value);
    }
    let said = match voice.quiet {
        true => Ok(()),
        false => speak::result(&summary(taken)),
    };
    // What she has to look at is said in any case.
    if !taken.faults.is_empty() {
        speak::message("\nThe words are in; but the book cannot be made now:");
        for fault in taken.faults {
            speak::message(&report::drawn(fault));
        }
    }
    said
}

fn change_value(change: &Change) -> Value {
    let words = change.words.iter().map(|wording| match wording {
        Wording::Same(words) => json!({ "same": words }),
        Wording::Other { was, now } => json!({ "was": was, "now": now }),
    });
    json!({
        "kind": word(change.kind),
        "line": change.line,
        "was_line": change.was,
        "paragraph": change.paragraph,
        "words": words.collect::<Vec<_>>(),
    })
}

fn callout_value(told: &CalloutNotice) -> Value {
    json!({ "callout": told.callout, "was_line": told.was, "line": told.line, "what": told.what })
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

fn summary(taken: &Taken<'_>) -> String {
    let revision = taken.revision;
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
        taken.manuscript, taken.kept
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
