//! Rows that are no paragraphs, when they come to each slot.

use super::super::display::heading_step;
use super::super::here::{LineContext, RowFindings};
use super::super::part::Setter;
use super::super::{Row, Stand, Step};
use super::Filling;
use crate::names::{HalfLines, Length};
use crate::plan::Align;
use crate::text::LineKind;

impl Setter<'_> {
    /// A row when it comes to each slot, and last beyond all.
    pub(super) fn stands(&self, row: &Row, filling: &Filling<'_>) -> Vec<Stand> {
        let count = filling.column.slots();
        let findings = RowFindings::default();
        let mut stands: Vec<Stand> = Vec::with_capacity(count + 1);
        for slot in (0..=count).rev() {
            let behind = stands.last();
            let alike = behind.filter(|behind| filling.alike(row, slot, behind));
            let stand = alike.cloned().or_else(|| {
                let beside = filling.beside(row, slot)?;
                self.stand(row, &filling.here(slot, beside, &findings))
            });
            let skipped = || {
                behind.map(|behind| Stand {
                    skip: behind.skip + HalfLines::LINE,
                    ..behind.clone()
                })
            };
            stands.extend(stand.or_else(skipped));
        }
        stands.reverse();
        stands
    }

    /// A row from a slot on; nothing where it cannot stand there. Beyond the last slot its words are broken if need be.
    fn stand(&self, row: &Row, here: &LineContext<'_>) -> Option<Stand> {
        let stand = match &row.kind {
            LineKind::Room(asked) => Some(Stand::empty(self.room(asked))),
            kind if kind.is_titling() => self.set_heading(row, here).map(|(_, stand)| stand),
            LineKind::Ornament => self.set_centred(row, here),
            LineKind::Attribution => self.set_attribution(row, here),
            LineKind::Caption => self.set_caption(row, here),
            _ => self.set_verse(row, here),
        };
        let stand = match here.is_beyond() {
            true => stand.unwrap_or_else(|| self.broken_stand(row, here)),
            false => stand.filter(|stand| stand.height.whole_lines() <= here.most_lines())?,
        };
        let step = self.step(row, &stand, here);
        Some(Stand { step, ..stand })
    }

    /// A row whose words have to be broken; lines of a heading stand as far apart as if they had not.
    fn broken_stand(&self, row: &Row, here: &LineContext<'_>) -> Stand {
        let broken = self.broken(row, here);
        match row.kind.is_titling() {
            true => broken.apart(heading_step(row.voice.size, self.style.leading)),
            false => broken,
        }
    }

    fn step(&self, row: &Row, stand: &Stand, here: &LineContext<'_>) -> Option<Step> {
        let [piece] = &stand.pieces[..] else {
            return None;
        };
        let steps = row.stepped && row.kind.is_verse() && self.style.align != Align::Right;
        steps.then(|| {
            let setting = here.line(0);
            let net = self.net_width(row, &setting, &piece.text, piece.width);
            Step {
                from: setting.left,
                room: (setting.measure - net).max(Length::ZERO),
            }
        })
    }
}

impl Filling<'_> {
    /// Whether a row stands on a slot just as it does on the next: on one line of the same measure in the same box, in
    /// which it has not been drawn back for want of more lines.
    fn alike(&self, row: &Row, slot: usize, next: &Stand) -> bool {
        let (one, other) = (self.column.line(slot), self.column.line(slot + 1));
        let place = |slot: usize| (self.column.boxes().end_of(slot), self.beside[slot]);
        let indent = if row.stepped {
            Length::ZERO
        } else {
            row.indent
        };
        let fits = |width: Length| indent + width <= one.measure;
        let one_line = match &next.pieces[..] {
            [piece] => {
                next.skip == HalfLines::ZERO && next.height == HalfLines::LINE && fits(piece.width)
            }
            _ => false,
        };
        let same = (one.left, one.measure) == (other.left, other.measure);
        one_line && same && place(slot) == place(slot + 1) && self.beside[slot].is_none()
    }
}
