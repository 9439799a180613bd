//! Proof that a layout holds every word of the manuscript exactly once, in order, whole and shown.
//!
//! These are promises F1 to F4 of the crate root; F5 is proved on the written files.

use std::ops::Range;

use unicode_segmentation::UnicodeSegmentation;

use super::{LaidLine, Layout};
use crate::text::{LineKind, Manuscript, paragraph};
use crate::typeface::is_ignorable;

/// A broken promise: the program's own fault, never the author's.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BrokenPromise {
    /// Which promise, F1 to F5.
    pub promise: &'static str,
    /// What went wrong, where.
    pub what: String,
}

impl BrokenPromise {
    fn new(promise: &'static str, what: impl Into<String>) -> BrokenPromise {
        BrokenPromise {
            promise,
            what: what.into(),
        }
    }
}

/// Checks a layout against its manuscript.
///
/// # Errors
/// The first promise that is broken.
pub fn verify(manuscript: &Manuscript, layout: &Layout) -> Result<(), BrokenPromise> {
    let lines: Vec<&LaidLine> = in_logical_order(manuscript, layout);
    words_once(manuscript, &lines)?;
    for line in &lines {
        words_apart(manuscript, line)?;
    }
    for line in layout.panels.iter().flat_map(|panel| &panel.lines) {
        glyphs_whole(line)?;
        added_marked(line)?;
    }
    Ok(())
}

/// The lines that show words of the manuscript, part by part in its order.
fn in_logical_order<'a>(manuscript: &Manuscript, layout: &'a Layout) -> Vec<&'a LaidLine> {
    let mut lines: Vec<&LaidLine> = layout
        .panels
        .iter()
        .flat_map(|panel| &panel.lines)
        .filter(|line| line.part.is_some())
        .collect();
    let order = |line: &LaidLine| {
        manuscript
            .parts()
            .iter()
            .position(|part| Some(&part.name) == line.part.as_ref())
    };
    // A part's own panels hold its lines in order; the sort is stable.
    let panels_in_order = |line: &&LaidLine| (order(line), line.row, line.sources.first().copied());
    lines.sort_by_key(panels_in_order);
    lines
}

/// F1: the sources are exactly the word bytes, each once, in whole grapheme clusters.
fn words_once(manuscript: &Manuscript, lines: &[&LaidLine]) -> Result<(), BrokenPromise> {
    let text = &manuscript.source().text;
    let mut words = manuscript.word_ranges().flatten();
    for line in lines {
        for &(from, to) in &line.sources {
            for byte in from..to {
                if words.next() != Some(byte) {
                    let what = format!(
                        "byte {byte} of the manuscript is set out of its turn: {}",
                        line.text
                    );
                    return Err(BrokenPromise::new("F1", what));
                }
            }
        }
        if let Some(&(from, _)) = line.sources.first()
            && splits_cluster(text, from)
        {
            return Err(BrokenPromise::new(
                "F1",
                format!("a line begins inside a character: {}", line.text),
            ));
        }
    }
    match words.next() {
        None => Ok(()),
        Some(byte) => Err(BrokenPromise::new(
            "F1",
            format!("byte {byte} of the manuscript was not set"),
        )),
    }
}

/// Whether a byte lies inside a grapheme cluster of its physical line.
fn splits_cluster(text: &str, at: usize) -> bool {
    let line_start = text[..at].rfind(['\n', '\r']).map_or(0, |end| end + 1);
    let line_end = text[at..]
        .find(['\n', '\r'])
        .map_or(text.len(), |end| at + end);
    // Mark-up parts what it stands between, so that only word bytes beside each other can be split.
    let before = text[line_start..at].chars().next_back();
    if before.is_none_or(|c| c.is_whitespace() || c == '*' || c == '\\') {
        return false;
    }
    let line = &text[line_start..line_end];
    !line
        .grapheme_indices(true)
        .any(|(start, _)| line_start + start == at)
}

/// F2: words apart in the manuscript stay apart, and inner spaces are kept.
fn words_apart(manuscript: &Manuscript, line: &LaidLine) -> Result<(), BrokenPromise> {
    let source = &manuscript.source().text;
    let mut expected = String::new();
    let mut last = None;
    for &(from, to) in &line.sources {
        if let Some(last) = last {
            expected.push_str(&space_between(source, last..from, line));
        }
        expected.push_str(&source[from..to]);
        last = Some(to);
    }
    if expected == line.text {
        Ok(())
    } else {
        Err(BrokenPromise::new(
            "F2",
            format!("“{expected}” became “{}”", line.text),
        ))
    }
}

/// The space that belongs between two stretches of words: in prose and captions one at most, whatever stands between.
fn space_between(source: &str, between: Range<usize>, line: &LaidLine) -> String {
    let gap = &source[between.clone()];
    if !line.kind.is_folded() {
        return gap.chars().filter(|c| matches!(c, ' ' | '\t')).collect();
    }
    let ends_line = |c: char| c.is_whitespace() && !matches!(c, ' ' | '\t');
    let parts = if gap.contains(ends_line) {
        paragraph::parts_words(&source[..between.start], &source[between.end..])
    } else {
        gap.contains([' ', '\t'])
    };
    if parts { " " } else { "" }.to_string()
}

/// F3: every cluster has glyphs, none of them the face's sign for a missing one.
fn glyphs_whole(line: &LaidLine) -> Result<(), BrokenPromise> {
    if matches!(line.kind, LineKind::Room(_)) {
        return Ok(());
    }
    let mut shown = vec![false; line.text.len()];
    for glyph in line.runs.iter().flat_map(|run| &run.glyphs) {
        if glyph.id == 0 {
            return Err(BrokenPromise::new(
                "F3",
                format!("a character has no glyph in “{}”", line.text),
            ));
        }
        shown[glyph.text.clone()].fill(true);
    }
    let missing = line
        .text
        .char_indices()
        .find(|&(at, c)| !shown[at] && !is_ignorable(c));
    match missing {
        None => Ok(()),
        Some((_, c)) => Err(BrokenPromise::new(
            "F3",
            format!("`{c}` is not shown in “{}”", line.text),
        )),
    }
}

/// F4: what the program adds is marked as added, and nothing else is.
fn added_marked(line: &LaidLine) -> Result<(), BrokenPromise> {
    let wholly_added = line.part.is_none() && line.sources.is_empty();
    let right = match &line.added {
        Some(added) if wholly_added => *added == line.text,
        Some(added) => line.kind.is_prose() && added == "-",
        None => !wholly_added,
    };
    let glyphs = line.runs.iter().flat_map(|run| &run.glyphs);
    let hyphens = glyphs.filter(|glyph| glyph.added == Some('-')).count();
    let said = usize::from(line.added.is_some() && !wholly_added);
    if right && hyphens == said {
        Ok(())
    } else {
        Err(BrokenPromise::new(
            "F4",
            format!("“{}” is not marked as added", line.text),
        ))
    }
}
