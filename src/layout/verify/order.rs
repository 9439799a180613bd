//! F1: every word once, in the order of the text, in whole grapheme clusters.
//!
//! The order is that of the part: its lines one after the other, on its panels in the order that the plan gives them
//! (`on`), whichever side and whichever end of the strip they are at. Parts are looked at one by one, paired ones too:
//! where each stands beside the other is no matter of its words. Nothing of a part stands out of order: a reading is
//! read right behind its base, a caption where it was written. Of a caption more is asked: that it stands with its
//! picture.

use unicode_segmentation::GraphemeCursor;

use super::{BrokenPromise, PartLaid, PlacedLine, Promise};
use crate::text::{LineKind, Manuscript, Part};

/// Every word of the manuscript is of a part.
pub(super) fn all_are_of_parts(manuscript: &Manuscript) -> Result<(), BrokenPromise> {
    let all: usize = manuscript.word_ranges().map(|word| word.len()).sum();
    let parts = manuscript.parts().iter();
    let of_parts: usize = parts
        .flat_map(|part| words_of(manuscript, part))
        .map(|word| word.len())
        .sum();
    match all == of_parts {
        true => Ok(()),
        false => Err(BrokenPromise::new(
            Promise::F1,
            format!("{all} bytes of the manuscript are words, and {of_parts} are in its parts"),
        )),
    }
}

/// The sources of a part's lines are its word bytes, each once and in order.
pub(super) fn check(manuscript: &Manuscript, part: &PartLaid<'_>) -> Result<(), BrokenPromise> {
    let text = &manuscript.source().text;
    let mut words = words_of(manuscript, part.written).flatten();
    for on in &part.lines {
        for &(from, to) in &on.line.sources {
            for byte in from..to {
                if words.next() != Some(byte) {
                    let what = format!(
                        "byte {byte} of the manuscript is set out of its turn: “{}”",
                        on.line.text
                    );
                    return Err(on.broken(Promise::F1, what));
                }
            }
        }
        let ends = on.line.sources.iter().flat_map(|&(from, to)| [from, to]);
        let first = on.line.sources.first();
        if ends.into_iter().any(|at| !text.is_char_boundary(at))
            || first.is_some_and(|&(from, _)| splits_cluster(text, from))
        {
            let what = format!(
                "a line begins or ends inside a character: “{}”",
                on.line.text
            );
            return Err(on.broken(Promise::F1, what));
        }
        is_of_its_row(part.written, on)?;
    }
    match words.next() {
        None => Ok(()),
        Some(byte) => Err(BrokenPromise::new(
            Promise::F1,
            format!("byte {byte} of the manuscript was not set"),
        )),
    }
}

/// The word bytes of a part: those of the manuscript that lie within its lines.
fn words_of<'a>(
    manuscript: &'a Manuscript,
    part: &'a Part,
) -> impl Iterator<Item = std::ops::Range<usize>> + 'a {
    let mut lines = part.lines.iter().map(|line| line.bytes.clone()).peekable();
    manuscript.word_ranges().filter(move |word| {
        while lines.next_if(|line| line.end <= word.start).is_some() {}
        lines.peek().is_some_and(|line| line.start <= word.start)
    })
}

/// A line is what its row is in the manuscript, and has words of that row; a caption stands with its picture.
fn is_of_its_row(part: &Part, on: &PlacedLine<'_>) -> Result<(), BrokenPromise> {
    let line = on.line;
    let broken = |what: &str| Err(on.broken(Promise::F1, format!("“{}” {what}", line.text)));
    let Some(row) = part.lines.get(line.row) else {
        return broken("is of a line that the manuscript does not have");
    };
    let within = |&(from, to): &(usize, usize)| row.bytes.start <= from && to <= row.bytes.end;
    if row.kind != line.kind || row.block != line.block || !line.sources.iter().all(within) {
        return broken("is of another line of the manuscript than it says");
    }
    if line.sources.is_empty() {
        return broken("has no words of the manuscript");
    }
    let is_own = || {
        let call = part.captions.iter().find(|call| call.line == line.row);
        call.map(|call| &call.name) == on.panel.picture.as_ref()
    };
    if line.kind == LineKind::Caption && !is_own() {
        return broken("is a caption, and does not stand with its picture");
    }
    Ok(())
}

/// Whether a byte lies inside a grapheme cluster of words that stand beside each other.
fn splits_cluster(text: &str, at: usize) -> bool {
    // Mark-up parts what it stands between.
    let before = text[..at].chars().next_back();
    if before.is_none_or(|c| c.is_whitespace() || c == '*' || c == '\\') {
        return false;
    }
    let boundary = GraphemeCursor::new(at, text.len(), true).is_boundary(text, 0);
    !boundary.unwrap_or(true)
}
