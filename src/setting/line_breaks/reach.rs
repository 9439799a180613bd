//! Reach: how far a line can go from a point.

use std::ops::Range;

use super::{Point, Way};
use crate::names::Length;

/// How far lines can go.
pub(super) struct Reach<'a, W> {
    points: &'a [Point],
    way: &'a W,
    /// Which of the points from each on lets a line end soonest; of equals the farthest. Not always the nearest: an
    /// added hyphen may be wider than the letters behind it.
    narrowest: Vec<u32>,
    /// The farthest point that a line from this point or one before it can end at.
    far: Vec<u32>,
    /// How far along the farthest line ends that ends at this point or one before it.
    longest: Vec<Length>,
}

impl<'a, W: Way> Reach<'a, W> {
    /// Looks through the points once in each direction; `rest` is the usual measure.
    pub(super) fn new(points: &'a [Point], way: &'a W, rest: Length) -> Reach<'a, W> {
        let mut narrowest = vec![0u32; points.len()];
        let mut best = points.len().saturating_sub(1);
        for at in (0..points.len()).rev() {
            if way.narrow_end(&points[at]) < way.narrow_end(&points[best]) {
                best = at;
            }
            narrowest[at] = best as u32;
        }
        let mut reach = Reach {
            points,
            way,
            narrowest,
            far: Vec::with_capacity(points.len()),
            longest: Vec::with_capacity(points.len()),
        };
        let ends = points.iter().map(|point| point.end);
        reach
            .longest
            .extend(ends.scan(Length::ZERO, |longest, end| {
                *longest = end.max(*longest);
                Some(*longest)
            }));
        let mut far = 0;
        for from in 0..points.len() {
            far = reach.farthest(from, rest, far.max(from));
            reach.far.push(far as u32);
        }
        reach
    }

    /// The farthest point that a line from `from` can end at, or a farther one that is already `known`; from the
    /// end, the end.
    pub(super) fn farthest(&self, from: usize, measure: Length, known: usize) -> usize {
        let mut far = known;
        while far + 1 < self.points.len() && self.soonest(from, far + 1) <= measure {
            far += 1;
        }
        match self.narrowest.get(from + 1) {
            Some(&narrowest) => far.max(narrowest as usize),
            None => far,
        }
    }

    /// The farthest point that a line from `from` or from any point before it can end at.
    pub(super) fn farthest_to(&self, from: usize) -> usize {
        self.far[from] as usize
    }

    /// How narrow the narrowest line is from `from` to `to` or any point behind it.
    fn soonest(&self, from: usize, to: usize) -> Length {
        let end = &self.points[self.narrowest[to] as usize];
        self.way.narrow_end(end) - self.way.narrow_start(&self.points[from])
    }

    /// How long the longest line is from `from` to `to` or any point before it, at its natural width.
    pub(super) fn longest(&self, from: usize, to: usize) -> Length {
        self.longest[to] - self.points[from].start
    }

    /// The points among which are all that a line from `from` may end at.
    ///
    /// Where none of them lets a line fit, it is the one that lets it be narrowest.
    pub(super) fn ends(&self, from: usize, measure: Length) -> Range<usize> {
        if self.soonest(from, from + 1) > measure {
            let forced = self.narrowest[from + 1] as usize;
            return forced..forced + 1;
        }
        from + 1..self.farthest(from, measure, from) + 1
    }
}
