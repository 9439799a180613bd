//! A part's words as breaks see them: a line for each row, and how many words lie before each place.

use std::ops::Range;

use crate::setting::{Row, SetPart};
use crate::text::alignment::{Lines, pieces};
use crate::text::{LineKind, Manuscript};

/// The words of a part.
pub(super) struct PartText<'a> {
    /// The words of each row.
    pub lines: Lines<'a>,
    /// How many words lie before each place, and before the end.
    pub before: Vec<usize>,
}

impl<'a> PartText<'a> {
    pub fn new(manuscript: &'a Manuscript, set: &'a SetPart) -> PartText<'a> {
        let mut lines: Lines<'a> = Vec::with_capacity(set.rows.len());
        let mut before = Vec::with_capacity(set.places.len() + 1);
        let mut count = 0;
        let mut places = set.places.iter().peekable();
        for (index, row) in set.rows.iter().enumerate() {
            let text = row_text(manuscript, set, row);
            let words = pieces(text);
            while let Some(place) = places.next_if(|place| place.row == index) {
                let from = place_byte(row, place.at);
                before.push(count + words.partition_point(|word| word.start < from));
            }
            count += words.len();
            lines.push(words.into_iter().map(|word| &text[word]).collect());
        }
        before.push(count);
        PartText { lines, before }
    }

    /// How many words there are.
    pub fn count(&self) -> usize {
        self.before.last().copied().unwrap_or(0)
    }

    /// The first place with at least so many words before it.
    pub fn place_from(&self, words: usize) -> usize {
        let place = self.before.partition_point(|before| *before < words);
        place.min(self.before.len() - 1)
    }

    /// The last place with at most so many words before it.
    pub fn place_to(&self, words: usize) -> usize {
        let behind = self.before.partition_point(|before| *before <= words);
        behind.saturating_sub(1)
    }
}

/// The text of a row; of room that is left empty, its callout.
pub fn row_text<'a>(manuscript: &'a Manuscript, set: &SetPart, row: &'a Row) -> &'a str {
    match row.kind {
        LineKind::Room(_) => {
            let line = &manuscript.parts()[set.manuscript_index].lines[row.line];
            manuscript.source().text[line.bytes.clone()].trim()
        }
        _ => &row.shaped.text,
    }
}

/// A line without the spaces around it; wide spaces are the author's own and stay.
pub fn bare(text: &str) -> &str {
    text.trim_matches([' ', '\t'])
}

/// Where in a row's text the words begin behind one of its breaks.
fn place_byte(row: &Row, at: usize) -> usize {
    match &row.paragraph {
        Some(paragraph) if at > 0 => paragraph.breaks[at].next,
        _ => 0,
    }
}

/// The rows, or parts of them, between two places of a part: (row, bytes of its text).
pub fn between(
    manuscript: &Manuscript,
    set: &SetPart,
    places: Range<usize>,
) -> Vec<(usize, Range<usize>)> {
    let mut found: Vec<(usize, Range<usize>)> = Vec::new();
    for at in places {
        let place = &set.places[at];
        let row = &set.rows[place.row];
        let from = place_byte(row, place.at);
        let next = set.places.get(at + 1).filter(|next| next.row == place.row);
        let text = row_text(manuscript, set, row);
        let to = next.map_or(text.len(), |next| place_byte(row, next.at));
        match found.last_mut() {
            Some((last, bytes)) if *last == place.row => bytes.end = to,
            _ => found.push((place.row, from..to)),
        }
    }
    found
}
