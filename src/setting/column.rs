//! Columns: what words fill, line by line. The lines of a plain text area are all alike; those of a shaped one are slots.

use super::areas::{Areas, Slots};
use crate::names::Length;
use crate::stack::Boxes;

/// How wide a line may be, and where it begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Setting {
    /// The left edge of its words, from the panel's left edge.
    pub left: Length,
    /// The measure from there to the text area's right edge.
    pub measure: Length,
    /// How far quotation marks may hang out to the left before they come too near a fold or an edge.
    pub hang_left: Length,
    /// How far closing marks may hang out to the right before they come too near a fold or an edge.
    pub hang_right: Length,
}

impl Setting {
    /// Where nothing hangs outside.
    pub(super) fn bare(left: Length, measure: Length) -> Setting {
        Setting {
            left,
            measure,
            hang_left: Length::ZERO,
            hang_right: Length::ZERO,
        }
    }

    /// This setting with lines that begin farther in.
    pub(super) fn narrowed(self, by: Length) -> Setting {
        Setting {
            left: self.left + by,
            measure: self.measure - by,
            ..self
        }
    }
}

/// What the lines of a part fill on a panel. Text areas that lie at other heights, or hold another number of lines, may
/// be one column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Column {
    /// A plain area: all its lines have one setting.
    Plain(Setting),
    /// A shaped one.
    Shaped(Slots),
}

impl Column {
    /// Whether all lines are alike.
    pub fn is_plain(&self) -> bool {
        matches!(self, Column::Plain(_))
    }

    /// How many slots there are before lines are all alike; in a plain column none.
    pub fn slots(&self) -> usize {
        self.boxes().slots()
    }

    /// The slots as the stack knows them.
    pub fn boxes(&self) -> &Boxes {
        match self {
            Column::Plain(_) => Boxes::plain(),
            Column::Shaped(slots) => slots.boxes(),
        }
    }

    /// The settings of all lines, each slot's once.
    pub(super) fn settings(&self) -> impl Iterator<Item = Setting> + '_ {
        (0..self.slots().max(1)).map(|slot| self.line(slot))
    }

    /// How a line is set on a slot; beyond the last as on the last.
    pub fn line(&self, slot: usize) -> Setting {
        match self {
            Column::Plain(setting) => *setting,
            Column::Shaped(slots) => slots.get(slot).setting(),
        }
    }

    /// What so many lines from a slot on all have room for; nothing where they are not in one box.
    pub(super) fn shared(&self, slot: usize, lines: usize) -> Option<Setting> {
        let slots = match self {
            Column::Shaped(slots) if slot < slots.len() => slots,
            _ => return Some(self.line(slot)),
        };
        if lines > slots.boxes().end_of(slot) - slot {
            return None;
        }
        let shared = &slots.all()[slot..slot + lines];
        let left = shared.iter().map(|slot| slot.left).max()?;
        let right = shared.iter().map(|slot| slot.right()).min()?;
        Some(Setting::bare(left, right - left))
    }

    /// Turns a column of mirrored panels back to how it stands.
    pub(super) fn turn_back(&mut self, areas: &Areas) {
        match self {
            Column::Plain(setting) => {
                setting.left = areas.mirror(setting.left, setting.measure);
                std::mem::swap(&mut setting.hang_left, &mut setting.hang_right);
            }
            Column::Shaped(slots) => slots.turn_back(areas),
        }
    }
}
