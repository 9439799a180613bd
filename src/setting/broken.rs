//! The last resort: lines filled cluster by cluster where a word alone is wider than the measure.

use std::ops::Range;

use unicode_segmentation::UnicodeSegmentation;

use super::here::LineContext;
use super::part::Setter;
use super::turnover::may_begin;
use super::{Column, Note, Row, RowNote, Setting, Stand};
use crate::names::Length;
use crate::text::{Manuscript, Part};

impl Setter<'_> {
    /// The last resort where a word alone is wider than the measure: lines filled cluster by cluster,
    /// broken between words where that is possible.
    pub(super) fn broken(&self, row: &Row, here: &LineContext<'_>) -> Stand {
        let text = &row.shaped.text;
        let end = row.shaped.trimmed_end(text.len());
        let mut placed = Vec::new();
        let mut broke = Vec::new();
        let mut from = row.shaped.start();
        while from < end {
            let indent = if placed.is_empty() {
                self.least_indent(row)
            } else {
                Length::ZERO
            };
            let setting = here.line(placed.len());
            let (to, cut) = self.fill(row, from..end, setting.measure - indent);
            let width = row.shaped.width(self.shaper, from..to);
            placed.push((from..to, setting.left + indent, width));
            if cut {
                broke.push(placed.len() - 1);
            }
            from = to + text[to..].len() - text[to..].trim_start_matches([' ', '\t']).len();
        }
        Stand::turned_over(placed, &broke)
    }

    /// How far a line can be filled, and whether that breaks a word.
    pub(super) fn fill(&self, row: &Row, stretch: Range<usize>, measure: Length) -> (usize, bool) {
        let text = &row.shaped.text;
        let mut last_word = None;
        let mut last_cluster = None;
        for (at, cluster) in text[stretch.clone()].grapheme_indices(true) {
            let to = stretch.start + at + cluster.len();
            if row.shaped.width(self.shaper, stretch.start..to) > measure && last_cluster.is_some()
            {
                break;
            }
            // Even so, no piece begins with a dash or an ellipsis.
            if last_cluster.is_none() || to == stretch.end || may_begin(&text[to..]) {
                last_cluster = Some(to);
            }
            let at_end = to == stretch.end || text[to..].starts_with([' ', '\t']);
            if at_end && !cluster.starts_with([' ', '\t']) {
                last_word = Some(to);
            }
        }
        match (last_word, last_cluster) {
            (Some(word), _) => (word, false),
            (None, Some(cluster)) => (cluster, true),
            (None, None) => (stretch.end, true),
        }
    }
}

/// Words that have to be broken because they alone are wider than a measure.
pub(super) fn notes(
    manuscript: &Manuscript,
    part: &Part,
    rows: &[Row],
    columns: &[Column],
) -> Vec<RowNote> {
    let mut notes = Vec::new();
    for (number, column) in columns.iter().enumerate() {
        // On slots no word is broken.
        let Column::Plain(Setting { measure, .. }) = column else {
            continue;
        };
        for (index, row) in rows.iter().enumerate() {
            let stand = row.at[number].stand(0);
            if stand.pieces.iter().any(|piece| piece.broken) {
                let note = Note {
                    word: "wide-word",
                    what: format!("a word is wider than the measure of {measure} and is broken"),
                    place: Some(manuscript.place(part.lines[row.line].bytes.clone())),
                };
                notes.push(RowNote {
                    row: index,
                    column: number,
                    note,
                });
            }
        }
    }
    notes
}
