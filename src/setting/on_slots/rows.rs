//! Setting the rows of a part on slots, one after the other.

use super::super::areas::Slots;
use super::super::display::{heading_step, place_heading};
use super::super::here::{Known, LineContext, Others};
use super::super::part::{LINE, Setter};
use super::super::shaped::ShapedLine;
use super::super::usual::Usual;
use super::super::{Row, RowAt, Setting, heading};
use super::{Beside, OnSlots, RowOnSlots, RowsOnSlots, Stand, Step};
use crate::names::Length;
use crate::plan::{Align, TextStyle};
use crate::text::LineKind;
use crate::typeface::{FontStyle, Shaper};

/// What the rows of a part are set on.
pub(super) struct Filling<'a> {
    pub slots: &'a Slots,
    deepest: Length,
    usual: &'a Usual,
    /// For each slot, and beyond all: the large initial that a row which comes there stands beside.
    beside: Vec<Option<Beside>>,
}

impl Setter<'_> {
    /// Sets every row on every slot.
    pub(in crate::setting) fn set_on_slots(
        &self,
        rows: &[Row],
        slots: &Slots,
        usual: &Usual,
    ) -> RowsOnSlots {
        let mut filling = Filling {
            slots,
            deepest: self.deepest_indent(rows),
            usual,
            beside: vec![None; slots.len() + 1],
        };
        let mut set = Vec::with_capacity(rows.len());
        for (index, row) in rows.iter().enumerate() {
            filling.carry();
            let mut here = match row.paragraph {
                Some(_) => self.paragraph_on_slots(row, &filling),
                None => RowOnSlots {
                    stands: self.row_on_slots(row, &filling),
                    paragraph: None,
                },
            };
            filling.go_on(row, rows.get(index + 1), &mut here);
            set.push(here);
        }
        RowsOnSlots {
            slots: slots.clone(),
            rows: set,
        }
    }

    /// A row that is no paragraph on every slot, from the last to the first.
    fn row_on_slots(&self, row: &Row, filling: &Filling<'_>) -> Vec<Stand> {
        let count = filling.slots.len();
        let known = Known::default();
        let mut stands: Vec<Stand> = Vec::with_capacity(count + 1);
        stands.push(self.stand_beyond(row, filling, &known));
        for slot in (0..count).rev() {
            let behind = stands.last();
            let alike = behind
                .filter(|behind| filling.alike(row, slot, behind))
                .cloned();
            let stand = alike.or_else(|| self.stand(row, slot, filling, &known));
            let skipped = || {
                behind.map(|behind| Stand {
                    skip: behind.skip + 1,
                    ..behind.clone()
                })
            };
            stands.extend(stand.or_else(skipped));
        }
        stands.reverse();
        stands
    }

    /// A row on the slots from one on; nothing where it cannot stand there.
    fn stand(&self, row: &Row, slot: usize, filling: &Filling<'_>, known: &Known) -> Option<Stand> {
        let on = OnSlots {
            slots: filling.slots,
            at: slot,
            beside: filling.beside(row, slot)?,
        };
        let setting = on.line(0);
        let here = filling.here(&setting, on, known);
        let at = match &row.kind {
            LineKind::Room(asked) => RowAt {
                height: self.room_lines(asked) * LINE,
                ..RowAt::default()
            },
            LineKind::Title | LineKind::Heading => {
                let leading = self.areas.leading();
                let (line, voice) = (&row.shaped, row.voice);
                heading_on_slots(
                    line,
                    voice,
                    self.style,
                    leading,
                    self.shaper,
                    (filling.slots, slot),
                )?
                .1
            }
            LineKind::Ornament => self.set_centred_whole(row, &here)?,
            LineKind::Attribution => self.set_attribution_whole(row, &here)?,
            LineKind::Caption => self.set_caption_whole(row, &here)?,
            _ => self.set_verse_whole(row, &here)?,
        };
        let height = (at.height / LINE) as usize;
        (height <= on.room()).then(|| Stand {
            skip: 0,
            height,
            step: self.step(row, &at, &setting),
            pieces: at.pieces.into(),
        })
    }

    /// A row beyond the last slot, where words may have to be broken.
    fn stand_beyond(&self, row: &Row, filling: &Filling<'_>, known: &Known) -> Stand {
        let on = OnSlots {
            slots: filling.slots,
            at: filling.slots.len(),
            beside: None,
        };
        let setting = on.line(0);
        let at = self.set_row(row, &filling.here(&setting, on, known));
        Stand {
            skip: 0,
            height: (at.height / LINE) as usize,
            step: self.step(row, &at, &setting),
            pieces: at.pieces.into(),
        }
    }

    fn step(&self, row: &Row, at: &RowAt, setting: &Setting) -> Option<Step> {
        let [piece] = &at.pieces[..] else { return None };
        let steps = row.stepped && row.kind.is_verse() && self.style.align != Align::Right;
        steps.then(|| Step {
            from: setting.left,
            room: (setting.measure - piece.width).max(Length::ZERO),
        })
    }
}

impl Filling<'_> {
    fn here<'a>(
        &'a self,
        setting: &'a Setting,
        on: OnSlots<'a>,
        known: &'a Known,
    ) -> LineContext<'a> {
        LineContext {
            setting,
            slots: Some(on),
            known,
            others: Others::new(self.deepest, self.usual),
            // Where it steps to is found when it is placed.
            run_end: setting.left,
            drop: Length::ZERO,
            drop_lines: 0,
        }
    }

    /// What a row that begins on a slot stands beside: its own large initial or that of a row above. Nothing where its
    /// own cannot stand there.
    pub(super) fn beside(&self, row: &Row, slot: usize) -> Option<Option<Beside>> {
        let Some(drop) = &row.shaped.drop else {
            return Some(self.beside[slot]);
        };
        let end = slot + drop.lines as usize;
        if end > self.slots.end_of(slot) {
            return None;
        }
        let covered = &self.slots.all()[slot..end];
        let left = covered.iter().map(|slot| slot.left).max()?;
        let right = covered.iter().map(|slot| slot.right()).min()?;
        let edge = left + drop.width;
        // A few letters must have room beside it.
        (right - edge >= row.voice.size * 3).then_some(Some(Beside { end, edge }))
    }

    /// Whether a row stands on a slot just as it does on the next: on one line of the same measure in the same box, in
    /// which it has not been drawn back for want of more lines.
    fn alike(&self, row: &Row, slot: usize, next: &Stand) -> bool {
        let (one, other) = (self.slots.get(slot), self.slots.get(slot + 1));
        let place = |slot: usize| (self.slots.end_of(slot), self.beside[slot]);
        let indent = if row.stepped {
            Length::ZERO
        } else {
            row.indent
        };
        let fits = |width: Length| indent + width <= one.measure;
        let one_line = match &next.pieces[..] {
            [piece] => next.skip == 0 && next.height == 1 && fits(piece.width),
            _ => false,
        };
        let same = (one.left, one.measure) == (other.left, other.measure);
        one_line && same && place(slot) == place(slot + 1) && self.beside[slot].is_none()
    }

    /// A row that goes on to a later slot may still be beside the initial there.
    fn carry(&mut self) {
        for slot in 1..self.slots.len() {
            let before = self.beside[slot - 1].filter(|beside| beside.end > slot);
            self.beside[slot] = farther(self.beside[slot], before);
        }
    }

    /// Finds what the next row stands beside. The part's last row takes up what its initial reaches farther down.
    fn go_on(&mut self, row: &Row, next: Option<&Row>, here: &mut RowOnSlots) {
        let mut beside = vec![None; self.slots.len() + 1];
        for slot in 0..self.slots.len() {
            let stand = &here.stands[slot];
            let first = slot + stand.skip;
            let own = match first < self.slots.len() {
                true => self.beside(row, first).flatten(),
                false => None,
            };
            let Some(own) = own else { continue };
            let end = first + stand.height;
            match next {
                Some(next) => {
                    let to = self.slots.below(end, next.space_above);
                    if to < own.end {
                        beside[to] = farther(beside[to], Some(own));
                    }
                }
                None => here.stands[slot].height = own.end.max(end) - first,
            }
        }
        self.beside = beside;
    }
}

/// The initial that reaches farther down.
fn farther(one: Option<Beside>, other: Option<Beside>) -> Option<Beside> {
    one.into_iter().chain(other).max_by_key(|beside| beside.end)
}

/// A heading on the slots from one on, with the setting that all of them have room for; nothing where it cannot stand
/// there. Its lines are whole slots apart.
pub(in crate::setting) fn heading_on_slots(
    line: &ShapedLine,
    voice: FontStyle,
    style: &TextStyle,
    leading: Length,
    shaper: &Shaper<'_>,
    (slots, slot): (&Slots, usize),
) -> Option<(Setting, RowAt)> {
    let step = heading_step(voice.size, leading).div_ceil(LINE);
    let end = slots.end_of(slot).min(slots.len());
    for count in 1.. {
        let covered = slots.all().get(slot..slot + (step * count) as usize)?;
        if slot + covered.len() > end {
            return None;
        }
        let left = covered.iter().map(|slot| slot.left).max()?;
        let right = covered.iter().map(|slot| slot.right()).min()?;
        let setting = Setting {
            left,
            measure: right - left,
            hang_left: Length::ZERO,
            hang_right: Length::ZERO,
        };
        let pieces = heading::balance(line, shaper, setting.measure)?;
        if pieces.len() as u32 <= count {
            let height = step * LINE * pieces.len() as u32;
            let steps = (step * LINE, height);
            return Some((
                setting,
                place_heading(line, style, shaper, &setting, pieces, steps),
            ));
        }
    }
    None
}
