//! From paragraphs as they fall into lines to where panels may end.

use crate::lines::SetPart;
use crate::lines::falls::{Fall, FallLine};
use crate::panels::problem::{FallenLine, Falls};

/// Half lines of the grid in a line.
const LINE: u32 = 2;

/// How the paragraphs of a part fall into lines at a setting.
pub(super) fn of(part: &SetPart, setting: usize) -> Falls {
    let mut falls = Falls::default();
    if part.rows.iter().all(|row| row.paragraph.is_none()) {
        return falls;
    }
    let mut first = 0;
    for places in part.places.chunk_by(|one, next| one.row == next.row) {
        let row = &part.rows[places[0].row];
        let set = &row.at[setting];
        let Some((paragraph, at)) = row.paragraph.as_ref().zip(set.paragraph.as_ref()) else {
            falls.first.push(None);
            first += 1;
            continue;
        };
        let mut place_at = vec![None; paragraph.breaks.len()];
        for (number, place) in places.iter().enumerate() {
            place_at[place.at] = Some((first + number) as u32);
        }
        let behind = first + places.len();
        if let Some(end) = place_at.last_mut() {
            *end = Some(behind as u32);
        }
        let mut translation = Translation {
            falls: &mut falls,
            fall: &at.fall,
            place_at: &place_at,
            known: vec![None; at.fall.kept()],
        };
        translation.begin_paragraph(at.held, set.height);
        for place in &places[1..] {
            let lines: Vec<FallLine> = translation.unknown_from(place.at);
            let line = translation.shared(&lines);
            translation.falls.first.push(line);
        }
        first = behind;
    }
    falls
}

/// Takes over the lines of one paragraph.
struct Translation<'a> {
    falls: &'a mut Falls,
    fall: &'a Fall,
    /// The place that lies at each break, where a panel may begin or the paragraph ends.
    place_at: &'a [Option<u32>],
    /// What each line of the fall has become.
    known: Vec<Option<u32>>,
}

impl Translation<'_> {
    /// The lines from the paragraph's beginning. The first `held` of them stay together, and all are as high as
    /// `height` says: a paragraph that ends beside a large initial is as high as that.
    fn begin_paragraph(&mut self, held: usize, height: u32) {
        let lines: Vec<_> = self.fall.lines_from(0).collect();
        let more = height.saturating_sub(lines.len() as u32 * LINE);
        let own = if more > 0 {
            lines.len()
        } else {
            held.min(lines.len())
        };
        let mut next = self.shared(&lines[own..]);
        for (number, line) in lines[..own].iter().enumerate().rev() {
            let ends = line.to + 1 == self.place_at.len();
            next = Some(self.push(FallenLine {
                to: if ends || number + 1 >= held {
                    self.place_at[line.to]
                } else {
                    None
                },
                next,
                height: if ends { LINE + more } else { LINE },
            }));
        }
        self.falls.first.push(next);
    }

    /// The lines from a break, up to the first that is known already, that one included.
    fn unknown_from(&self, at: usize) -> Vec<FallLine> {
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
    fn shared(&mut self, lines: &[FallLine]) -> Option<u32> {
        let mut next = None;
        for line in lines.iter().rev() {
            next = self.known[line.id].or_else(|| {
                let taken = FallenLine {
                    to: self.place_at[line.to],
                    next,
                    height: LINE,
                };
                let number = self.push(taken);
                self.known[line.id] = Some(number);
                Some(number)
            });
        }
        next
    }

    fn push(&mut self, line: FallenLine) -> u32 {
        self.falls.lines.push(line);
        self.falls.lines.len() as u32 - 1
    }
}
