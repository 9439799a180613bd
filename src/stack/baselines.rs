//! Baselines within a row of several lines.

use crate::names::HalfLines;

/// The baselines of lines that stand so far apart, in as many whole lines as they need. The last stands on the last of
/// those.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Baselines {
    count: u32,
    step: HalfLines,
}

impl Baselines {
    /// The baselines of so many lines of the grid.
    pub fn of_lines(count: usize) -> Baselines {
        Baselines::apart(count, HalfLines::LINE)
    }

    /// The baselines of so many lines that stand `step` apart, a line or more.
    pub fn apart(count: usize, step: HalfLines) -> Baselines {
        let count = u32::try_from(count).unwrap_or(u32::MAX);
        Baselines { count, step }
    }

    /// What all take together.
    pub fn height(self) -> HalfLines {
        (self.step * self.count).rounded_up()
    }

    /// Each, from the first on, below the first baseline of what they take.
    pub fn all(self) -> impl Iterator<Item = HalfLines> {
        let last = self.height() - HalfLines::LINE;
        (0..self.count).map(move |index| last - self.step * (self.count - 1 - index))
    }
}

/// How far the first baseline of a row lies below that of the line above it, with a space between.
pub fn below_a_line(space: HalfLines) -> HalfLines {
    space + HalfLines::LINE
}
