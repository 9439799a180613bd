//! What `revise` tells other programs.

use super::super::report::FaultRecord;
use super::super::written::MovedAsideRecord;
use super::passed::PassedLines;
use crate::json::{Format, records};
use crate::text::revise::{CalloutNotice, Change, ChangeKind, Revision, Wording};

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
        /// What the client changed and is taken in, in the order of the new manuscript.
        changes: Vec<ChangeRecord>,
        /// What he changed and is left out, with the numbers that it has among all his changes.
        left_out: Vec<ChangeRecord>,
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
        /// Its number, which `--only` and `--except` take; changes that are told together have one.
        number: usize,
        /// `changed`, `added`, `cut`, `moved`, `indented`, or `spaced`: other blank lines above it.
        kind: &'static str,
        /// The line of the new manuscript; of what was cut, the one it stood after, 0 at the head.
        line: usize,
        /// The line of the old manuscript, if it was there.
        was_line: Option<usize>,
        /// Whether it is a paragraph of prose.
        paragraph: bool,
        /// Whether it is, or was, a title or a heading.
        heading: bool,
        /// The panels passed for press on which it changes something.
        passed: Vec<String>,
        /// Its words in order.
        words: Vec<WordingRecord>,
    }

    /// Words that stayed, or words that are others now.
    pub(in crate::cli) struct WordingRecord {
        /// The number of this change. Null for words that stayed.
        number: Option<usize>,
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

/// The record of a revision that has not been written.
pub(super) fn record(revision: &Revision, passed: &PassedLines, manuscript: &str) -> ReviseRecord {
    ReviseRecord {
        format: Format,
        manuscript: manuscript.to_string(),
        written: Vec::new(),
        moved_aside: Vec::new(),
        with_callouts: revision.marked,
        words_found: revision.found.0,
        words_before: revision.found.1,
        changes: change_records(&revision.changes, passed),
        left_out: change_records(&revision.left_out, &PassedLines::default()),
        callouts_carried: revision.carried,
        callouts: revision.callouts.iter().map(callout_record).collect(),
        lost: revision.lost.clone(),
        faults: Vec::new(),
    }
}

fn change_records(changes: &[Change], passed: &PassedLines) -> Vec<ChangeRecord> {
    let record = |change| change_record(change, passed);
    changes.iter().map(record).collect()
}

fn change_record(change: &Change, passed: &PassedLines) -> ChangeRecord {
    let words = change.words.iter().map(|wording| match wording {
        Wording::Same(words) => WordingRecord {
            number: None,
            same: Some(words.clone()),
            was: None,
            now: None,
        },
        Wording::Other { number, was, now } => WordingRecord {
            number: Some(*number),
            same: None,
            was: Some(was.clone()),
            now: Some(now.clone()),
        },
    });
    ChangeRecord {
        number: change.number,
        kind: word(change.kind),
        line: change.line,
        was_line: change.was,
        paragraph: change.paragraph,
        heading: change.heading,
        passed: passed.names(change),
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
        ChangeKind::Indented => "indented",
        ChangeKind::Spaced => "spaced",
    }
}
