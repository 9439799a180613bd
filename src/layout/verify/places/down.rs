//! Lines of an ordinary text area stand where those above them and the space between put them.

use super::area::Reaches;
use super::line::Stands;
use super::{BrokenPromise, On, broken};
use crate::layout::{LaidLine, LaidRoom};
use crate::names::Length;
use crate::setting::{Area, heading_step};

/// A line, or room that is left empty. All in half lines of the grid below the area's first baseline.
struct Item<'a> {
    /// Its first baseline.
    down: i64,
    /// How much it takes above that beyond an ordinary line: see [`On::above`].
    above: i64,
    /// The space above it.
    space: i64,
    /// Where it ends.
    foot: i64,
    /// Where the large initial ends that stands before it.
    initial: i64,
    /// How far it stands below the line above, if both are of one row.
    step: Option<i64>,
    text: &'a str,
}

impl On<'_> {
    /// Gives how far down the words of an ordinary text area reach.
    pub(super) fn go_down(&self, area: &Area) -> Result<Reaches, BrokenPromise> {
        let lines = 0..self.panel.lines.len();
        let lines = lines.map(|index| self.line_item(area, index));
        let rooms = self
            .panel
            .rooms
            .iter()
            .map(|room| self.room_item(area, room));
        let mut items: Vec<Item<'_>> = lines.chain(rooms).collect::<Result<_, _>>()?;
        items.sort_by_key(|item| item.down);
        let mut initial = i64::MIN;
        for pair in items.windows(2) {
            let (one, other) = (&pair[0], &pair[1]);
            initial = initial.max(one.initial);
            let room = other.space + other.above;
            // What stands below a large initial, such as a caption, may begin where that ends.
            let right = match other.step {
                Some(step) => other.down == one.down + step,
                None => [one.foot, one.foot.max(initial)].contains(&(other.down - room)),
            };
            if !right {
                let what = "does not stand where the lines above it and the space between put it";
                return Err(broken(format!("“{}” {what}", other.text)));
            }
        }
        let from = items.iter().map(|item| item.down - item.above).min();
        let to = items.iter().map(|item| item.foot.max(item.initial)).max();
        Ok(Reaches {
            from: from.unwrap_or(0),
            to: to.unwrap_or(0),
        })
    }

    fn line_item(&self, area: &Area, index: usize) -> Result<Item<'_>, BrokenPromise> {
        let line = &self.panel.lines[index];
        let Some(down) = self.half_lines(area, self.down(line)) else {
            let what = format!("“{}” stands on no line of the grid", line.text);
            return Err(broken(what));
        };
        let begins = self.begins_row(index);
        let step = match line.kind.is_titling() {
            true => i64::from(heading_step(line.size, self.grid.leading).count()),
            false => 2,
        };
        Ok(Item {
            down,
            above: if begins { self.above(index, step) } else { 0 },
            space: i64::from(line.space_above.count()),
            foot: down + 2,
            initial: match self.initial_lines(line) {
                0 => i64::MIN,
                lines => down + 2 + 2 * lines,
            },
            step: (!begins).then_some(step),
            text: &line.text,
        })
    }

    fn room_item(&self, area: &Area, room: &LaidRoom) -> Result<Item<'_>, BrokenPromise> {
        let Some(down) = self.half_lines(area, room.baseline) else {
            return Err(broken(
                "room that is left empty begins on no line of the grid",
            ));
        };
        Ok(Item {
            down,
            above: 0,
            space: i64::from(room.space_above.count()),
            foot: down + i64::from(room.height.count()),
            initial: i64::MIN,
            step: None,
            text: "[space]",
        })
    }

    /// The half lines of the grid down to a baseline; nothing where it is on none.
    fn half_lines(&self, area: &Area, baseline: Length) -> Option<i64> {
        let leading = self.grid.leading;
        let down = baseline - area.first_baseline;
        let half_lines = (down * 2).scaled(1, leading.units().max(1)).units();
        (leading.scaled(half_lines, 2) == down).then_some(half_lines)
    }

    /// Whether a line is the first of its row here.
    fn begins_row(&self, index: usize) -> bool {
        let lines = &self.panel.lines;
        let row = |line: &LaidLine| (line.part.clone(), line.row);
        index
            .checked_sub(1)
            .is_none_or(|above| row(&lines[above]) != row(&lines[index]))
    }

    /// How many half lines the first line of a row takes above its baseline beyond an ordinary one: of a heading, whose
    /// lines stand farther apart, and which takes whole lines of the grid.
    fn above(&self, index: usize, step: i64) -> i64 {
        let lines = &self.panel.lines[index..];
        let count = 1
            + (1..lines.len())
                .take_while(|at| !self.begins_row(index + at))
                .count() as i64;
        match lines[0].kind.is_titling() {
            true => (step * count + 1) / 2 * 2 - 2 - step * (count - 1),
            false => 0,
        }
    }

    /// How many lines of the grid a large initial stands below its line.
    pub(super) fn initial_lines(&self, line: &LaidLine) -> i64 {
        let below = line.runs.iter().filter_map(|run| self.stands(line, run));
        let below = below.map(|stands| match stands {
            Stands::Below(lines) => lines,
            Stands::OnBaseline | Stands::Above => 0,
        });
        below.max().unwrap_or(0)
    }
}
