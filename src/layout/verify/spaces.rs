//! F2: words apart in the manuscript stay apart, within a line and from line to line; inner spaces of verse are kept.

use std::ops::Range;

use super::{BrokenPromise, PartLaid, PlacedLine, Promise};
use crate::layout::LaidLine;
use crate::text::{Manuscript, paragraph};

pub(super) fn check(manuscript: &Manuscript, part: &PartLaid<'_>) -> Result<(), BrokenPromise> {
    let source = &manuscript.source().text;
    for on in &part.lines {
        within(source, on)?;
    }
    let mut next = part.lines.iter().skip(1);
    for on in &part.lines {
        goes_on(source, on, next.next())?;
    }
    Ok(())
}

/// The text of a line is its words with the spaces that belong between them.
fn within(source: &str, on: &PlacedLine<'_>) -> Result<(), BrokenPromise> {
    let line = on.line;
    let mut expected = String::with_capacity(line.text.len());
    let mut last = None;
    for &(from, to) in &line.sources {
        if let Some(last) = last {
            expected.push_str(&white_between(source, last..from, line));
        }
        expected.push_str(&source[from..to]);
        last = Some(to);
    }
    if expected == line.text {
        return Ok(());
    }
    Err(on.broken(Promise::F2, format!("“{expected}” became “{}”", line.text)))
}

/// A line of prose is glued to the next just where the manuscript has no space between them.
fn goes_on(
    source: &str,
    on: &PlacedLine<'_>,
    next: Option<&PlacedLine<'_>>,
) -> Result<(), BrokenPromise> {
    let line = on.line;
    let next = next.filter(|next| next.line.row == line.row && line.kind.is_prose());
    let ends = |line: &LaidLine| line.sources.last().map(|source| source.1);
    let begins = |line: &LaidLine| line.sources.first().map(|source| source.0);
    let between = next.and_then(|next| Some(ends(line)?..begins(next.line)?));
    let glued = between.is_some_and(|between| white_between(source, between, line).is_empty());
    // A passed panel may hold a space that parted its last word from one that is gone.
    if line.glued == glued || (on.panel.passed && !line.glued) {
        return Ok(());
    }
    let what = match glued {
        true => format!("“{}” is parted from what follows", line.text),
        false => format!("“{}” is glued to what follows", line.text),
    };
    Err(on.broken(Promise::F2, what))
}

/// The space that belongs between two stretches of words: in prose and captions one at most, whatever stands between.
/// It is worked out from the manuscript alone, and independently of how lines are set on purpose: the proof does not ask
/// what it proves.
fn white_between(source: &str, between: Range<usize>, line: &LaidLine) -> String {
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
