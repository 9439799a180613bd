//! Half lines: how depth within a panel is counted.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Sub};

use super::Length;

/// A depth in half lines of the grid. Sums and differences stop at the ends of the numbers: no depth is below nothing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct HalfLines(u32);

/// No depth is made of more lines than this, so that depths can be added.
const MOST_LINES: usize = u32::MAX as usize / 4;

impl HalfLines {
    /// No depth at all.
    pub const ZERO: HalfLines = HalfLines(0);

    /// Half a line.
    pub const HALF: HalfLines = HalfLines(1);

    /// A whole line.
    pub const LINE: HalfLines = HalfLines(2);

    /// A depth of so many half lines.
    pub const fn new(count: u32) -> HalfLines {
        HalfLines(count)
    }

    /// A depth of so many whole lines; a slot takes one each.
    pub fn lines(lines: usize) -> HalfLines {
        HalfLines(lines.min(MOST_LINES) as u32) * HalfLines::LINE.0
    }

    /// How many half lines.
    pub const fn count(self) -> u32 {
        self.0
    }

    /// How many whole lines: what is over is left aside.
    pub const fn whole_lines(self) -> usize {
        (self.0 / HalfLines::LINE.0) as usize
    }

    /// This depth, a line that is begun counted whole.
    pub fn rounded_up(self) -> HalfLines {
        HalfLines(
            self.0
                .div_ceil(HalfLines::LINE.0)
                .saturating_mul(HalfLines::LINE.0),
        )
    }

    /// The fewest half lines that a length takes, where a line takes `leading`, which must be above nothing.
    pub fn covering(length: Length, leading: Length) -> HalfLines {
        let (needed, line) = (
            length.units() * i64::from(HalfLines::LINE.0),
            leading.units(),
        );
        let count = (needed + line - 1) / line;
        HalfLines(u32::try_from(count.max(0)).unwrap_or(u32::MAX / 2))
    }

    /// The fewest whole lines that a length takes.
    pub fn lines_covering(length: Length, leading: Length) -> HalfLines {
        let lines = (length.units() + leading.units() - 1) / leading.units();
        HalfLines::lines(usize::try_from(lines).unwrap_or(MOST_LINES))
    }

    /// How long it is where a line takes `leading`; half a line of an odd leading is rounded.
    pub fn at(self, leading: Length) -> Length {
        leading.scaled(i64::from(self.0), i64::from(HalfLines::LINE.0))
    }
}

impl Add for HalfLines {
    type Output = HalfLines;
    fn add(self, other: HalfLines) -> HalfLines {
        HalfLines(self.0.saturating_add(other.0))
    }
}

impl AddAssign for HalfLines {
    fn add_assign(&mut self, other: HalfLines) {
        *self = *self + other;
    }
}

impl Sub for HalfLines {
    type Output = HalfLines;
    fn sub(self, other: HalfLines) -> HalfLines {
        HalfLines(self.0.saturating_sub(other.0))
    }
}

impl Mul<u32> for HalfLines {
    type Output = HalfLines;
    fn mul(self, times: u32) -> HalfLines {
        HalfLines(self.0.saturating_mul(times))
    }
}

impl Sum for HalfLines {
    fn sum<I: Iterator<Item = HalfLines>>(depths: I) -> HalfLines {
        depths.fold(HalfLines::ZERO, Add::add)
    }
}

impl From<HalfLines> for u64 {
    fn from(depth: HalfLines) -> u64 {
        depth.0.into()
    }
}

impl From<HalfLines> for f64 {
    fn from(depth: HalfLines) -> f64 {
        depth.0.into()
    }
}
