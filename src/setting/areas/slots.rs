//! Slots: the lines of a shaped text area, which words fill one after the other.

use super::{Area, Areas};
use crate::names::Length;
use crate::setting::Setting;
use crate::stack::Boxes;

/// Where one line of a shaped area stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Slot {
    /// Its baseline, from the panel's top edge; one of the book's grid.
    pub baseline: Length,
    /// Its left edge, from the panel's left edge.
    pub left: Length,
    /// Its measure.
    pub measure: Length,
}

impl Slot {
    /// How lines are set there. Nothing hangs outside: art may be near.
    pub fn setting(&self) -> Setting {
        Setting::bare(self.left, self.measure)
    }

    /// Its right edge.
    pub fn right(&self) -> Length {
        self.left + self.measure
    }
}

/// The slots of a shaped area in the order in which words fill them. Boxes follow each other; so do the stretches of
/// a mask's neighbouring lines, which are boxes too, where others without room lie between them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slots {
    /// Never empty.
    all: Vec<Slot>,
    /// Which of them lie in one box.
    boxes: Boxes,
}

impl Slots {
    /// The slots of boxes, of which none is empty. Nothing where there is no slot.
    pub(super) fn of_boxes(boxes: Vec<Vec<Slot>>) -> Option<Slots> {
        let slots = Slots {
            boxes: Boxes::of(boxes.iter().map(Vec::len)),
            all: boxes.concat(),
        };
        (!slots.all.is_empty()).then_some(slots)
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.all.len()
    }

    /// Whether there is none, which does not happen.
    pub fn is_empty(&self) -> bool {
        self.all.is_empty()
    }

    /// A slot; beyond the last, the last.
    pub fn get(&self, slot: usize) -> &Slot {
        &self.all[slot.min(self.all.len() - 1)]
    }

    /// All slots.
    pub fn all(&self) -> &[Slot] {
        &self.all
    }

    /// Which of them lie in one box.
    pub fn boxes(&self) -> &Boxes {
        &self.boxes
    }

    /// Turns slots of mirrored panels back to how they stand.
    pub(in crate::setting) fn turn_back(&mut self, areas: &Areas) {
        for slot in &mut self.all {
            slot.left = areas.mirror(slot.left, slot.measure);
        }
    }
}

/// A rectangle on a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rectangle {
    /// Its left edge.
    pub left: Length,
    /// Its top.
    pub top: Length,
    /// Its width.
    pub width: Length,
    /// Its height.
    pub height: Length,
}

/// A shape that words follow.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shape {
    /// The lines that words fill.
    pub slots: Slots,
    /// What of the panel is the words': the boxes, or the white of a mask around its slots.
    pub rectangles: Vec<Rectangle>,
}

impl Shape {
    /// The shape as it stands on a panel of that width seen in a mirror.
    pub(super) fn mirrored(&self, panel_width: Length) -> Shape {
        let mut shape = self.clone();
        for slot in &mut shape.slots.all {
            slot.left = panel_width - slot.right();
        }
        for rectangle in &mut shape.rectangles {
            rectangle.left = panel_width - rectangle.left - rectangle.width;
        }
        shape
    }

    /// What the rectangles lie in, with as many grid lines as there are slots.
    pub(super) fn area(&self) -> Area {
        let least = |of: fn(&Rectangle) -> Length| self.rectangles.iter().map(of).min();
        let most = |of: fn(&Rectangle) -> Length| self.rectangles.iter().map(of).max();
        let left = least(|one| one.left).unwrap_or_default();
        let top = least(|one| one.top).unwrap_or_default();
        let right = most(|one| one.left + one.width).unwrap_or_default();
        let foot = most(|one| one.top + one.height).unwrap_or_default();
        Area {
            left,
            top,
            width: right - left,
            height: foot - top,
            first_baseline: self.slots.get(0).baseline,
            capacity: u32::try_from(self.slots.len()).unwrap_or(u32::MAX),
            hang: (Length::ZERO, Length::ZERO),
        }
    }
}
