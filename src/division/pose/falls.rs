//! From paragraphs as they fall into lines to where panels may end.

use crate::rules::{FallenLine, Falls, OnSlots, StandsOn};
use crate::setting::falls::{Fall, FallLine};
use crate::setting::{Paragraph, RowOnSlots, RowPlace, RowsOnSlots, SetPart};

/// Half lines of the grid in a line.
const LINE: u32 = 2;

/// How the paragraphs of a part fall into lines at a setting.
pub(super) fn of(part: &SetPart, setting: usize) -> Falls {
    if let Some(on_slots) = part.on_slots(setting) {
        return of_slots(part, on_slots);
    }
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
        let place_at = places_at(paragraph, places, first);
        let behind = first + places.len();
        let mut translation = Translation::new(&mut falls, &at.fall, &place_at);
        let lines: Vec<FallLine> = at.fall.lines_from(0).collect();
        let line = translation.begin_paragraph(&lines, at.held, set.height);
        translation.falls.first.push(line);
        translation.go_on(&places[1..]);
        first = behind;
    }
    falls
}

/// How the rows of a part stand on the slots of a shape.
fn of_slots(part: &SetPart, set: &RowsOnSlots) -> Falls {
    let mut falls = Falls::default();
    let mut on_slots = OnSlots {
        ends: set.slots.ends().to_vec(),
        ..OnSlots::default()
    };
    let mut first = 0;
    for places in part.places.chunk_by(|one, next| one.row == next.row) {
        let index = places[0].row;
        let row = &set.rows[index];
        on_slots.first.push(Some(on_slots.stands.len() as u32));
        on_slots.first.resize(first + places.len(), None);
        let stands = row.stands.iter().map(|stand| StandsOn {
            skip: half_lines(stand.skip),
            height: half_lines(stand.height),
            line: None,
        });
        let begin = on_slots.stands.len();
        on_slots.stands.extend(stands);
        let paragraph = part.rows[index].paragraph.as_ref();
        if let Some((paragraph, at)) = paragraph.zip(row.paragraph.as_ref()) {
            let place_at = places_at(paragraph, places, first);
            let mut translation = Translation::new(&mut falls, &at.fall, &place_at);
            let stands = on_slots.stands[begin..].iter_mut();
            for (slot, (stand, set)) in stands.zip(&row.stands).enumerate() {
                let slot = slot + set.skip;
                let lines: Vec<FallLine> = at.fall.lines_on(slot).collect();
                let held = at.held.get(slot).copied().unwrap_or(0);
                stand.line = translation.begin_paragraph(&lines, held, stand.height);
            }
            let line = on_slots.stands[begin].line;
            translation.falls.first.push(line);
            translation.go_on(&places[1..]);
        } else {
            falls.first.push(None);
        }
        first += places.len();
    }
    falls.on_slots = Some(on_slots);
    falls
}

/// The height of a row that is no paragraph, beyond the last slot.
pub(super) fn beyond(row: &RowOnSlots) -> u32 {
    row.stands
        .last()
        .map_or(0, |stand| half_lines(stand.height))
}

fn half_lines(lines: usize) -> u32 {
    u32::try_from(lines)
        .unwrap_or(u32::MAX / 4)
        .min(u32::MAX / 4)
        * LINE
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
    falls: &'a mut Falls,
    fall: &'a Fall,
    /// The place that lies at each break, where a panel may begin or the paragraph ends.
    place_at: &'a [Option<u32>],
    /// What each line of the fall has become.
    known: Vec<Option<u32>>,
}

impl<'a> Translation<'a> {
    fn new(falls: &'a mut Falls, fall: &'a Fall, place_at: &'a [Option<u32>]) -> Translation<'a> {
        Translation {
            falls,
            fall,
            place_at,
            known: vec![None; fall.kept()],
        }
    }

    /// These lines from the paragraph's beginning. The first `held` of them stay together, and all are as high as
    /// `height` says: a paragraph that ends beside a large initial is as high as that.
    fn begin_paragraph(&mut self, lines: &[FallLine], held: usize, height: u32) -> Option<u32> {
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
        next
    }

    /// The lines from places within the paragraph.
    fn go_on(&mut self, places: &[RowPlace]) {
        for place in places {
            let lines: Vec<FallLine> = self.unknown_from(place.at);
            let line = self.shared(&lines);
            self.falls.first.push(line);
        }
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
