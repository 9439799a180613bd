//! What `revise` tells people: what the client changed, and what needs a look.

use super::super::args::OutputArgs;
use super::super::report;
use super::super::written::MovedAsideRecord;
use super::super::{Done, speak};
use super::listed::{counts, listed};
use super::passed::PassedLines;
use super::record::{ReviseRecord, record};
use crate::names::Fault;
use crate::text::revise::Revision;

/// A revision, and what is to be told of it.
pub(super) struct Told<'a> {
    pub revision: &'a Revision,
    pub passed: &'a PassedLines,
    pub manuscript: &'a str,
    /// Whether the changes have been told already, when she was asked about them.
    pub listed: bool,
}

/// Where the manuscript is after a revision was written.
pub(super) struct Written<'a> {
    /// The old manuscript's name now.
    pub kept: &'a str,
    /// What is wrong with the book as it is now.
    pub faults: &'a [Fault],
}

/// Tells that there is nothing to do.
pub(super) fn nothing(output: &OutputArgs, told: &Told<'_>, file: &str) -> Done {
    if output.json {
        return speak::json(&record(told.revision, told.passed, told.manuscript));
    }
    if output.quiet {
        return Ok(());
    }
    speak::result(&match told.revision.left_out.is_empty() {
        true => format!("Nothing has changed: {file} has the words of the manuscript.\n"),
        false => format!(
            "Every change is left out: {} is as it was.\n",
            told.manuscript
        ),
    })
}

/// Tells what the client changed, where nothing is written.
pub(super) fn looked_at(output: &OutputArgs, told: &Told<'_>) -> Done {
    if output.json {
        return speak::json(&record(told.revision, told.passed, told.manuscript));
    }
    let mut text = changes(told);
    text.push_str(&left_out(told.revision));
    text.push_str(&carried(told.revision));
    text.push_str("\nNothing was written.\n");
    speak::result(&text)
}

/// Tells what was taken in and written.
pub(super) fn tell(output: &OutputArgs, told: &Told<'_>, written: &Written<'_>) -> Done {
    if output.json {
        return speak::json(&ReviseRecord {
            written: vec![told.manuscript.to_string()],
            moved_aside: vec![MovedAsideRecord::of(told.manuscript, written.kept)],
            faults: report::fault_records(written.faults),
            ..record(told.revision, told.passed, told.manuscript)
        });
    }
    let said = match output.quiet {
        true => Ok(()),
        false => speak::result(&summary(told, written)),
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

fn summary(told: &Told<'_>, written: &Written<'_>) -> String {
    let mut text = match told.listed {
        true => String::new(),
        false => changes(told),
    };
    text.push_str(&left_out(told.revision));
    text.push_str(&carried(told.revision));
    text.push_str(&format!(
        "\n{} has the client's words; as it was, it is kept as {}.\n",
        told.manuscript, written.kept
    ));
    text
}

/// What the client changed.
pub(super) fn changes(told: &Told<'_>) -> String {
    let revision = told.revision;
    let mut text = match revision.changes.is_empty() {
        true => "The words are the same; their mark-up has changed.\n".to_string(),
        false => format!(
            "The client's corrections: {}.\n\n",
            counts(&revision.changes)
        ),
    };
    text.push_str(&listed(&revision.changes, told.passed));
    let panels = told.passed.all(&revision.changes);
    if !panels.is_empty() {
        text.push_str(&format!(
            "\nPassed for press, and otherwise now: {}. Tell the printer first.\n",
            panels.join(", ")
        ));
    }
    if revision.marked {
        text.push_str("\nThe client's file has callouts of the manuscript, so it was read with its mark-up.\n");
    }
    text
}

/// What is left out.
fn left_out(revision: &Revision) -> String {
    match revision.left_out.is_empty() {
        true => String::new(),
        false => format!(
            "\nLeft out, by the numbers in the whole list: {}.\n\n{}",
            counts(&revision.left_out),
            listed(&revision.left_out, &PassedLines::default())
        ),
    }
}

/// What became of the callouts and the mark-up.
fn carried(revision: &Revision) -> String {
    let mut text = format!("\n{}\n", callouts(revision));
    let looks = revision.callouts.iter().map(|notice| notice.what.clone());
    let lost = revision
        .lost
        .iter()
        .map(|lost| format!("mark-up that could not be carried over: {lost}"));
    for look in looks.chain(lost) {
        text.push_str(&format!("– {look}\n"));
    }
    text
}

fn callouts(revision: &Revision) -> String {
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
