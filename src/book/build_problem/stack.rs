//! From set lines to how they stand under each other: whole numbers only.

use crate::names::HalfLines;
use crate::setting::line_breaks::{BrokenLine, LineBreaks};
use crate::setting::{Paragraph, RowPlace, SetPart};
use crate::stack::{Filled, Line, Stack, Start, Takes};

/// How the rows of a part stand in each of its columns.
pub(super) fn of(part: &SetPart) -> Stack {
    let space = |place: &RowPlace| match place.at {
        0 => part.rows[place.row].space_above,
        _ => HalfLines::ZERO,
    };
    let columns = 0..part.columns.len();
    Stack {
        spaces: part.places.iter().map(space).collect(),
        columns: columns.map(|column| filled(part, column)).collect(),
    }
}

fn filled(part: &SetPart, column: usize) -> Filled {
    let boxes = part.columns[column].boxes();
    let mut filled = Filled {
        boxes: boxes.clone(),
        ..Filled::default()
    };
    let falls = part
        .rows
        .iter()
        .filter_map(|row| row.at[column].paragraph.as_ref());
    filled
        .lines
        .reserve_exact(falls.map(|at| at.fall.kept()).sum());
    filled.starts.reserve_exact(part.places.len());
    for places in part.places.chunk_by(|one, next| one.row == next.row) {
        let row = &part.rows[places[0].row];
        let at = &row.at[column];
        let first = filled.takes.len();
        let takes = at.stands.iter().map(|stand| Takes {
            skip: stand.skip,
            height: stand.height,
            line: None,
        });
        filled.takes.extend(takes);
        let behind = filled.starts.len() + places.len();
        filled.starts.push(Start::Row(first as u32));
        let Some((paragraph, at)) = row.paragraph.as_ref().zip(at.paragraph.as_ref()) else {
            continue;
        };
        let place_at = places_at(paragraph, places, behind - places.len());
        let mut translation = Translation::new(&mut filled, &at.fall, &place_at);
        for slot in 0..row.at[column].stands.len() {
            let Takes { skip, height, .. } = translation.filled.takes[first + slot];
            let slot = (slot, slot + skip.whole_lines());
            let lines: Vec<BrokenLine> = at.fall.lines_on(slot.1).collect();
            let line = translation.begin_paragraph(&lines, at.begins(slot.1).held, height);
            translation.filled.takes[first + slot.0].line = line;
        }
        translation.go_on(&places[1..], first as u32);
    }
    filled
}

/// The place that lies at each break of a paragraph, where a panel may begin or the paragraph ends.
fn places_at(paragraph: &Paragraph, places: &[RowPlace], first: usize) -> Vec<Option<u32>> {
    let mut place_at = vec![None; paragraph.breaks.len()];
    for (number, place) in places.iter().enumerate() {
        place_at[place.at] = Some((first + number) as u32);
    }
    if let Some(end) = place_at.last_mut() {
        *end = Some((first + places.len()) as u32);
    }
    place_at
}

/// Takes over the lines of one paragraph.
struct Translation<'a> {
    filled: &'a mut Filled,
    fall: &'a LineBreaks,
    /// The place that lies at each break, where a panel may begin or the paragraph ends.
    place_at: &'a [Option<u32>],
    /// What each line of the fall has become.
    known: Vec<Option<u32>>,
}

impl<'a> Translation<'a> {
    fn new(
        filled: &'a mut Filled,
        fall: &'a LineBreaks,
        place_at: &'a [Option<u32>],
    ) -> Translation<'a> {
        Translation {
            filled,
            fall,
            place_at,
            known: vec![None; fall.kept()],
        }
    }

    /// These lines from the paragraph's beginning. The first `held` of them stay together, and all are as high as
    /// `height` says: a paragraph that ends beside a large initial is as high as that.
    fn begin_paragraph(
        &mut self,
        lines: &[BrokenLine],
        held: usize,
        height: HalfLines,
    ) -> Option<u32> {
        let more = height - HalfLines::lines(lines.len());
        let own = if more > HalfLines::ZERO {
            lines.len()
        } else {
            held.min(lines.len())
        };
        let mut next = self.shared(&lines[own..]);
        for (number, line) in lines[..own].iter().enumerate().rev() {
            let ends = line.to + 1 == self.place_at.len();
            next = Some(self.push(Line {
                to: if ends || number + 1 >= held {
                    self.place_at[line.to]
                } else {
                    None
                },
                next,
                height: match ends {
                    true => HalfLines::LINE + more,
                    false => HalfLines::LINE,
                },
            }));
        }
        next
    }

    /// The lines from places within the paragraph, whose beginning takes what `first` says.
    fn go_on(&mut self, places: &[RowPlace], first: u32) {
        for place in places {
            let lines: Vec<BrokenLine> = self.unknown_from(place.at);
            let line = self.shared(&lines);
            // Lines follow every break but the last, where no place is.
            let start = line.map_or(Start::Row(first), Start::Within);
            self.filled.starts.push(start);
        }
    }

    /// The lines from a break, up to the first that is known already, that one included.
    fn unknown_from(&self, at: usize) -> Vec<BrokenLine> {
        let mut lines = Vec::new();
        for line in self.fall.lines_from(at) {
            lines.push(line);
            if self.known[line.id].is_some() {
                break;
            }
        }
        lines
    }

    /// Takes over lines that follow each other, all but those known already, and gives the first.
    fn shared(&mut self, lines: &[BrokenLine]) -> Option<u32> {
        let mut next = None;
        for line in lines.iter().rev() {
            next = self.known[line.id].or_else(|| {
                let taken = Line {
                    to: self.place_at[line.to],
                    next,
                    height: HalfLines::LINE,
                };
                let number = self.push(taken);
                self.known[line.id] = Some(number);
                Some(number)
            });
        }
        next
    }

    fn push(&mut self, line: Line) -> u32 {
        self.filled.lines.push(line);
        self.filled.lines.len() as u32 - 1
    }
}
