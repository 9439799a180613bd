//! The slots of a column, and where space vanishes.

use crate::names::{HalfLines, Vertical};

/// The slots of a shaped text area, which lie in boxes: the words of a row that is no paragraph stay within one. A slot
/// takes a line, whether words stand on it or not. A plain area has none: all its lines are alike.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Boxes {
    /// For each slot the first one behind its box.
    ends: Vec<usize>,
}

static PLAIN: Boxes = Boxes { ends: Vec::new() };

impl Boxes {
    /// A plain area.
    pub fn plain() -> &'static Boxes {
        &PLAIN
    }

    /// Boxes of so many slots each.
    pub fn of(slots: impl IntoIterator<Item = usize>) -> Boxes {
        let mut ends = Vec::new();
        for slots in slots {
            let end = ends.len() + slots;
            ends.resize(end, end);
        }
        Boxes { ends }
    }

    /// Whether all lines are alike, and depth is counted in half lines.
    pub fn is_plain(&self) -> bool {
        self.ends.is_empty()
    }

    /// How many slots there are; of a plain area none.
    pub fn slots(&self) -> usize {
        self.ends.len()
    }

    /// For each slot the first one behind its box.
    pub fn ends(&self) -> &[usize] {
        &self.ends
    }

    /// The first slot behind the box of a slot. Beyond the last slot, and in a plain area, there is no end.
    pub fn end_of(&self, slot: usize) -> usize {
        self.ends.get(slot).copied().unwrap_or(usize::MAX)
    }

    /// The slot that lies so far down; in a plain area the first always, for it stands for all.
    pub fn slot(&self, depth: HalfLines) -> usize {
        match self.is_plain() {
            true => 0,
            false => depth.whole_lines(),
        }
    }

    /// How far down the next row comes, where words reach down to `used` and a space stands below them. On slots a
    /// space takes whole ones; it vanishes at the head of a box, and at its foot. That it vanishes at a panel's head is
    /// the business of [`super::Walk`].
    pub fn below(&self, used: HalfLines, space: HalfLines) -> HalfLines {
        if self.is_plain() {
            return used + space;
        }
        let slot = used.whole_lines();
        let spaced = slot + space.rounded_up().whole_lines();
        let heads = slot == 0 || self.ends.get(slot - 1).is_some_and(|&end| end == slot);
        HalfLines::lines(match self.ends.get(slot) {
            Some(_) if heads => slot,
            Some(&end) => spaced.min(end),
            None => spaced,
        })
    }

    /// How far down the row comes that follows one from `from` on of that height with a space between, and how much of
    /// what stands beside both and reaches so far from `from` on, such as a large initial, is left there.
    pub fn beside(
        &self,
        reach: HalfLines,
        (from, height): (HalfLines, HalfLines),
        space: HalfLines,
    ) -> (HalfLines, HalfLines) {
        let to = self.below(from + height, space);
        (to, reach - (to - from))
    }

    /// How far below the head the first row stands, in whole lines. On slots words begin on the first.
    pub fn lead(&self, stands: Vertical, (used, capacity): (HalfLines, HalfLines)) -> HalfLines {
        let free = (capacity - used).whole_lines();
        HalfLines::lines(match stands {
            _ if !self.is_plain() => 0,
            Vertical::Head => 0,
            Vertical::Centre => free / 2,
            Vertical::OpticalCentre => free * 2 / 5,
            Vertical::Foot => free,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spaces_are_whole_slots_and_vanish_where_a_box_begins_or_ends() {
        let boxes = Boxes::of([3, 2]);
        assert_eq!(boxes.ends(), [3, 3, 3, 5, 5]);
        let below = |slot, space| {
            let depth = boxes.below(HalfLines::lines(slot), HalfLines::new(space));
            depth.whole_lines()
        };
        assert_eq!([below(0, 2), below(3, 4)], [0, 3]);
        assert_eq!(
            [below(1, 0), below(1, 1), below(1, 2), below(1, 3)],
            [1, 2, 2, 3]
        );
        assert_eq!([below(2, 2), below(2, 9), below(4, 2)], [3, 3, 5]);
        // Beyond the last slot lines go on as if there were more.
        assert_eq!([below(5, 2), below(7, 3)], [5 + 1, 9]);
    }

    #[test]
    fn in_a_plain_area_half_lines_count() {
        let below = Boxes::plain().below(HalfLines::new(4), HalfLines::new(1));
        assert_eq!(below, HalfLines::new(5));
    }
}
