//! The client's changes as a numbered list.

use super::super::speak;
use super::passed::PassedLines;
use crate::text::revise::{Change, ChangeKind, Wording};

/// Of words that stayed, so many are shown beside a change.
const BESIDE: usize = 4;
/// Of whole lines, so many characters.
const LONGEST: usize = 72;

/// One line of the list.
struct Listed {
    number: usize,
    place: String,
    words: String,
    note: String,
}

/// Every change on a line of its own, with its number; lines that were added, cut or moved together are told together.
pub(super) fn listed(changes: &[Change], passed: &PassedLines) -> String {
    let runs = changes.chunk_by(|one, other| {
        let alone = matches!(one.kind, ChangeKind::Changed | ChangeKind::Indented);
        !alone && (one.number, one.kind) == (other.number, other.kind)
    });
    let lines: Vec<Listed> = runs.flat_map(|run| lines_of(run, passed)).collect();
    let numbers = lines.last().map_or(0, |line| line.number).to_string().len();
    let places = lines.iter().map(|line| line.place.chars().count()).max();
    let places = places.unwrap_or(0);
    let written = lines.iter().map(|line| {
        format!(
            "{:>numbers$}  {:<places$}  {}{}\n",
            line.number, line.place, line.words, line.note
        )
    });
    written.collect()
}

/// How many lines changed, and so on.
pub(super) fn counts(changes: &[Change]) -> String {
    let mut parts: Vec<String> = Vec::new();
    let kinds = [
        (ChangeKind::Changed, "changed"),
        (ChangeKind::Added, "added"),
        (ChangeKind::Cut, "cut"),
        (ChangeKind::Moved, "moved"),
        (ChangeKind::Indented, "indented otherwise"),
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
    let spaced = |change: &&Change| change.kind == ChangeKind::Spaced;
    match changes.iter().filter(spaced).count() {
        0 => {}
        1 => parts.push("the blank lines in 1 place".to_string()),
        n => parts.push(format!("the blank lines in {n} places")),
    }
    parts.join(", ")
}

/// The lines for changes that are told together.
fn lines_of(run: &[Change], passed: &PassedLines) -> Vec<Listed> {
    let first = &run[0];
    let mut names: Vec<String> = Vec::new();
    for name in run.iter().flat_map(|change| passed.names(change)) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let note = match names.is_empty() {
        true => String::new(),
        false => format!("  ({}, passed for press)", names.join(", ")),
    };
    let line = |number: usize, words: String| Listed {
        number,
        place: place(first),
        words,
        note: note.clone(),
    };
    let differs = |wording: &Wording| matches!(wording, Wording::Other { .. });
    if first.words.iter().any(differs) {
        let places = (0..first.words.len()).filter(|at| differs(&first.words[*at]));
        let lines = places.map(|at| difference(&first.words, at));
        return lines.map(|(number, words)| line(number, words)).collect();
    }
    let words = match first.words.first() {
        Some(Wording::Same(words)) => cut_short(words),
        _ => String::new(),
    };
    let words = match (run.len(), first.paragraph) {
        (1, _) => words,
        (n, false) => format!("{words} ({n} lines)"),
        (n, true) => format!("{words} ({n} paragraphs)"),
    };
    let what = match first.kind {
        ChangeKind::Changed => "read otherwise".to_string(),
        ChangeKind::Added => "added".to_string(),
        ChangeKind::Cut => "cut".to_string(),
        ChangeKind::Moved => format!("moved from line {}", first.was.unwrap_or_default()),
        ChangeKind::Indented => "indented otherwise".to_string(),
        ChangeKind::Spaced => "other blank lines above".to_string(),
    };
    vec![line(first.number, format!("{what}: {words}"))]
}

/// Where a change is, in words.
fn place(change: &Change) -> String {
    let heading = if change.heading { ", heading" } else { "" };
    match (change.kind, change.line) {
        (ChangeKind::Cut, 0) => format!("at the head{heading}"),
        (ChangeKind::Cut, line) => format!("after line {line}{heading}"),
        (_, line) => format!("line {line}{heading}"),
    }
}

/// The number of a difference, and its words with some of those beside it.
fn difference(words: &[Wording], at: usize) -> (usize, String) {
    let Wording::Other { number, was, now } = &words[at] else {
        return (0, String::new());
    };
    let part = match (was.is_empty(), now.is_empty()) {
        (true, _) => format!("[+ {now}]"),
        (_, true) => format!("[− {was}]"),
        _ => format!("[{was} → {now}]"),
    };
    let beside = |at: Option<usize>| match at.and_then(|at| words.get(at)) {
        Some(Wording::Same(same)) => same.split_whitespace().collect(),
        _ => Vec::new(),
    };
    let before: Vec<&str> = beside(at.checked_sub(1));
    let behind: Vec<&str> = beside(Some(at + 1));
    let mut parts: Vec<String> = Vec::new();
    if before.len() > BESIDE + 1 {
        parts.push(format!("… {}", before[before.len() - BESIDE..].join(" ")));
    } else if !before.is_empty() {
        parts.push(before.join(" "));
    }
    parts.push(speak::bold(&part));
    if behind.len() > BESIDE + 1 {
        parts.push(format!("{} …", behind[..BESIDE].join(" ")));
    } else if !behind.is_empty() {
        parts.push(behind.join(" "));
    }
    (*number, parts.join(" "))
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
