//! Lines lie on their panel, on the grid, within their text area or their slot.

use super::{BrokenPromise, On, broken};
use crate::layout::{LaidGlyph, LaidLine};
use crate::names::Length;
use crate::setting::{Area, MOST_OF_LETTER, Slot, may_begin, may_hang};
use unicode_segmentation::UnicodeSegmentation;

/// Widths are measured in whole words and shown glyph by glyph: what hangs may differ by so much.
const HAIR: Length = Length::from_units(Length::pt(1).units() / 50);

/// How far down its area a panel's words begin and end, in half lines below the first line's top.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Reaches {
    pub from: i64,
    pub to: i64,
}

impl On<'_> {
    /// A line's box lies on its panel. What can be no narrower than the panel may stick out.
    pub(super) fn lies_on_panel(&self, line: &LaidLine) -> Result<(), BrokenPromise> {
        let (width, height) = self.lines_run.seen(self.panel.size);
        let ((from, to), down) = (self.along(line), self.down(line));
        let beside = from < Length::ZERO || to > width;
        let off = down <= Length::ZERO || down > height;
        if off || (beside && !self.can_be_no_narrower(line)) {
            return Err(broken(format!("“{}” does not lie on its panel", line.text)));
        }
        Ok(())
    }

    /// The first baseline of the area is one of the grid's.
    pub(super) fn area_is_on_grid(&self, area: &Area) -> Result<(), BrokenPromise> {
        let down = (area.first_baseline - self.grid.first).units();
        match down % self.grid.leading.units() {
            0 => Ok(()),
            _ => Err(broken("the text area does not begin on the grid")),
        }
    }

    /// Lines in an ordinary text area; gives how far down they reach.
    pub(super) fn in_area(&self, area: &Area) -> Result<Reaches, BrokenPromise> {
        let reaches = self.go_down(area)?;
        for line in &self.panel.lines {
            self.within(line, (area.left, area.left + area.width), area.hang)?;
        }
        if reaches.to > 2 * i64::from(area.capacity) {
            return Err(broken("words stand below the text area"));
        }
        let lead = i64::from(self.panel.lead.count());
        if reaches.from != lead {
            return Err(broken(format!(
                "words begin {} half lines down, and {lead} should stay free",
                reaches.from
            )));
        }
        Ok(reaches)
    }

    /// Lines on the slots of a shape, each on a later one than the line before; gives how far down they reach.
    pub(super) fn in_slots(&self) -> Result<Reaches, BrokenPromise> {
        let slots = &self.panel.slots;
        for slot in slots {
            self.slot_lies_in_shape(slot)?;
        }
        let mut next = 0;
        let mut last = 0;
        for line in &self.panel.lines {
            let here = |slot: &Slot| slot.baseline == self.down(line) && self.is_within(line, slot);
            let Some(found) = slots[next..].iter().position(here) else {
                return Err(broken(format!(
                    "“{}” stands on no slot behind that of the line before",
                    line.text
                )));
            };
            next += found + 1;
            last = last.max(next as i64 + self.initial_lines(line));
        }
        for room in &self.panel.rooms {
            let Some(found) = slots.iter().position(|slot| slot.baseline == room.baseline) else {
                return Err(broken("room that is left empty begins on no slot"));
            };
            last = last.max(found as i64 + room.height.whole_lines() as i64);
        }
        Ok(Reaches {
            from: 0,
            to: 2 * last,
        })
    }

    /// A slot is a line of the grid within one of the shape's rectangles.
    fn slot_lies_in_shape(&self, slot: &Slot) -> Result<(), BrokenPromise> {
        let off = (slot.baseline - self.grid.first).units() % self.grid.leading.units();
        let within = self.panel.shape.iter().any(|box_| {
            box_.left <= slot.left
                && slot.right() <= box_.left + box_.width
                && box_.top < slot.baseline
                && slot.baseline <= box_.top + box_.height
        });
        match off == 0 && within {
            true => Ok(()),
            false => Err(broken("a slot lies off the grid or outside its shape")),
        }
    }

    fn is_within(&self, line: &LaidLine, slot: &Slot) -> bool {
        let none = (Length::ZERO, Length::ZERO);
        self.within(line, (slot.left, slot.right()), none).is_ok()
    }

    /// A line stands between two edges; what hangs, by what it hangs.
    fn within(
        &self,
        line: &LaidLine,
        (left, right): (Length, Length),
        room: (Length, Length),
    ) -> Result<(), BrokenPromise> {
        let (from, to) = self.along(line);
        let out = (left - from, to - right);
        let (at_left, at_right) = self.hanging(line, out);
        let far = (out.0 - at_left.min(room.0), out.1 - at_right.min(room.1));
        if (far.0 <= HAIR && far.1 <= HAIR) || self.can_be_no_narrower(line) {
            return Ok(());
        }
        Err(broken(format!(
            "“{}” sticks out of its text area by {}",
            line.text,
            far.0.max(far.1)
        )))
    }

    /// How far the marks at the ends of a line may hang: by their own advances, and a letter of prose with no mark beside
    /// it by a small part of its own. It is asked only of a side where the line sticks out.
    fn hanging(&self, line: &LaidLine, out: (Length, Length)) -> (Length, Length) {
        if out.0 <= Length::ZERO && out.1 <= Length::ZERO {
            return (Length::ZERO, Length::ZERO);
        }
        let on_baseline = line.runs.iter().filter(|run| run.baseline == line.baseline);
        let mut glyphs: Vec<(Length, Length, bool)> = Vec::new();
        for run in on_baseline {
            let mut pen = run.x;
            for glyph in run.glyphs.iter() {
                let own = run.face.scale(run.face.advance(glyph.id), run.size);
                let advance = run.face.scale(glyph.advance, run.size);
                if glyph.added != Some(' ') {
                    // A letter may be drawn near to the mark: that hangs by its own advance all the same.
                    glyphs.push((pen, own.max(advance), is_mark(line, glyph)));
                }
                pen += advance;
            }
        }
        glyphs.sort_by_key(|glyph| glyph.0);
        let of = |glyphs: &mut dyn Iterator<Item = &(Length, Length, bool)>| -> Length {
            let mut glyphs = glyphs.peekable();
            match glyphs.peek() {
                Some((_, letter, false)) if line.kind.is_prose() => *letter / MOST_OF_LETTER,
                _ => glyphs
                    .take_while(|glyph| glyph.2)
                    .map(|glyph| glyph.1)
                    .sum(),
            }
        };
        (of(&mut glyphs.iter()), of(&mut glyphs.iter().rev()))
    }

    /// Whether a line holds nothing that could be parted.
    fn can_be_no_narrower(&self, line: &LaidLine) -> bool {
        let text = line.text.trim();
        if line.part.is_none() {
            return !text.contains(' ');
        }
        let mut clusters = text.grapheme_indices(true).skip(1);
        clusters.all(|(at, _)| !may_begin(&text[at..]))
    }
}

/// Whether a glyph stands for marks that hang, and nothing else.
fn is_mark(line: &LaidLine, glyph: &LaidGlyph) -> bool {
    let text = &line.text[glyph.text.clone()];
    match glyph.added {
        Some(added) => may_hang(added),
        None => text.chars().all(may_hang),
    }
}
