//! Second halves of verse lines, all at one place.
//!
//! A half begins behind two spaces or more, or a tab, the first such place of its line. Where lines have no room for a
//! place that suits most others, they keep the space that is written.

use super::part::Setter;
use super::{Note, Row, RowNote};
use crate::names::Length;
use crate::plan::Caesura;

/// A line of two halves.
struct Halves {
    row: usize,
    /// The byte at which the second half begins.
    begins: usize,
    /// How far from the line's edge the first half reaches.
    first: Length,
    /// How wide the second half is.
    second: Length,
    /// The space that is shaped with the second half.
    space: Length,
}

impl Setter<'_> {
    /// Sets the second halves of a part's verse lines below each other, where the plan asks for it.
    pub(super) fn align_halves(&self, rows: &mut [Row]) {
        if self.style.caesura == Caesura::AsWritten {
            return;
        }
        let numbered = rows.iter().enumerate();
        let halves: Vec<Halves> = numbered
            .filter_map(|(number, row)| self.halves(number, row))
            .collect();
        // Two ems part halves, as a tab does.
        let gap = self.style.size * 2;
        // Where a picture leaves less room, lines turn over.
        let widths = self.own_areas.iter().map(|id| self.areas.get(*id).width);
        let measure = widths.max().unwrap_or_default();
        let Some(place) = common_place(&halves, gap, measure) else {
            return;
        };
        for half in &halves {
            if half.first + gap <= place && place + half.second <= measure {
                let wide = place - half.first - half.space;
                rows[half.row].shaped.caesura = Some((half.begins, wide));
            }
        }
    }

    /// What is told of lines whose second halves had no room below the others.
    pub(super) fn notes_of_halves(&self, rows: &[Row], columns: usize) -> Vec<RowNote> {
        if self.style.caesura == Caesura::AsWritten {
            return Vec::new();
        }
        let numbered = rows.iter().enumerate();
        let left = numbered.filter(|(_, row)| row.shaped.caesura.is_none());
        let left = left.filter_map(|(number, row)| self.halves(number, row));
        let notes = left.flat_map(|half| {
            let text = &rows[half.row].shaped.text;
            let first = text[half.begins..].chars().next().map_or(0, char::len_utf8);
            let sources = rows[half.row].shaped.sources(half.begins..half.begins + first);
            let place = sources.first();
            let note = Note {
                word: "half-without-room",
                what: "the second half of a line has no room below the others, and keeps the space that is written"
                    .to_string(),
                place: place.map(|(from, to)| self.manuscript.place(*from..*to)),
            };
            RowNote::everywhere(half.row, columns, note)
        });
        notes.collect()
    }

    /// The halves of a line that has two, begins where its indent says and reads as its part does.
    fn halves(&self, number: usize, row: &Row) -> Option<Halves> {
        let shaped = &row.shaped;
        let other_way = shaped.reads() != self.reads;
        if !row.kind.is_verse() || row.stepped || shaped.drop.is_some() || other_way {
            return None;
        }
        let text = &shaped.text;
        let all = shaped.start()..shaped.trimmed_end(text.len());
        let hangs = self.hanging(row, &all, self.style.size).0;
        let wide_space = |at: usize| {
            let before = &text[..at];
            let spaces = &before[shaped.trimmed_end(at)..];
            spaces.len() > 1 || spaces.contains('\t')
        };
        let words = shaped.set(self.shaper, all.clone());
        let mut reach = row.indent - hangs;
        let mut found = None;
        for word in words.iter() {
            let at = word.text.start;
            if word.context.space_before && at > all.start {
                if found.is_none() && wide_space(at) {
                    found = Some((at, reach, word.shaped.space_width));
                    reach = Length::ZERO;
                } else {
                    reach +=
                        word.shaped.space_width + shaped.extra_space(self.shaper, at, word.voice);
                }
            }
            reach += word.shaped.width;
        }
        let (begins, first, space) = found?;
        Some(Halves {
            row: number,
            begins,
            first,
            second: reach,
            space,
        })
    }
}

/// The place at which most second halves can stand; of several the one nearest the edge.
fn common_place(halves: &[Halves], gap: Length, measure: Length) -> Option<Length> {
    let rooms = halves
        .iter()
        .map(|half| (half.first + gap, measure - half.second));
    let rooms: Vec<(Length, Length)> = rooms.filter(|(from, to)| from <= to).collect();
    let mut begin: Vec<Length> = rooms.iter().map(|room| room.0).collect();
    let mut end: Vec<Length> = rooms.iter().map(|room| room.1).collect();
    begin.sort_unstable();
    end.sort_unstable();
    let suits = |place: &Length| {
        let begun = begin.partition_point(|from| from <= place);
        begun - end.partition_point(|to| to < place)
    };
    begin.iter().copied().rev().max_by_key(suits)
}
