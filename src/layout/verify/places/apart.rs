//! No two boxes overlap.

use super::{BrokenPromise, On, broken};
use crate::names::Length;

/// What a line, or room, takes up: left, right, top, foot.
struct OccupiedBox<'a> {
    across: (Length, Length),
    down: (Length, Length),
    text: &'a str,
}

impl On<'_> {
    /// No line's box overlaps another's, or room that is left empty. In the order of their tops each is held against
    /// those that reach down to it, which are few.
    pub(super) fn stand_apart(&self) -> Result<(), BrokenPromise> {
        let mut boxes: Vec<OccupiedBox<'_>> = self.boxes();
        boxes.sort_by_key(|one| (one.down.0, one.across.0));
        let mut above: Vec<OccupiedBox<'_>> = Vec::new();
        for one in boxes {
            above.retain(|other| other.down.1 > one.down.0);
            let beside = |other: &OccupiedBox<'_>| {
                other.across.1 <= one.across.0 || one.across.1 <= other.across.0
            };
            if let Some(other) = above.iter().find(|other| !beside(other)) {
                return Err(broken(format!(
                    "“{}” and “{}” overlap",
                    other.text, one.text
                )));
            }
            above.push(one);
        }
        Ok(())
    }

    fn boxes(&self) -> Vec<OccupiedBox<'_>> {
        let leading = self.grid.leading;
        let lines = self.panel.lines.iter().map(|line| OccupiedBox {
            across: self.along(line),
            down: (self.down(line) - self.height(line), self.down(line)),
            text: &line.text,
        });
        let rooms = self.panel.rooms.iter().map(|room| {
            let top = room.baseline - leading;
            OccupiedBox {
                across: self.across_room(room.baseline),
                down: (top, top + room.height.at(leading)),
                text: "[space]",
            }
        });
        lines.chain(rooms).collect()
    }

    /// From where to where room reaches across: over the whole area, or over its slot.
    fn across_room(&self, baseline: Length) -> (Length, Length) {
        let slot = self
            .panel
            .slots
            .iter()
            .find(|slot| slot.baseline == baseline);
        match (slot, &self.panel.area) {
            (Some(slot), _) => (slot.left, slot.right()),
            (None, Some(area)) => (area.left, area.left + area.width),
            (None, None) => (Length::ZERO, self.lines_run.seen(self.panel.size).0),
        }
    }
}
