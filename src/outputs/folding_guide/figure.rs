//! What figures share: hatching, running measures, dimension lines.

use super::page::{Pages, Point};
use crate::names::Length;
use crate::outputs::words::Look;

/// Between the lines of a hatch.
const HATCH: Length = Length::from_units(Length::mm(13).units() / 10);
/// Between what is measured and the lines that measure it.
const OFF: Length = Length::mm(1);

/// A point that is measured from an edge: where it lies on the page, and what stands there.
pub(super) struct Measured {
    pub x: Length,
    pub words: String,
}

impl Pages<'_> {
    /// Hatches a rectangle (left, bottom, width, height) and draws its outline.
    pub fn hatched(&mut self, at: [Length; 4], grey: f32) {
        let [left, bottom, wide, high] = at;
        let mut t = HATCH;
        while t < wide + high {
            let (from, to) = ((t - high).max(Length::ZERO), t.min(wide));
            let y = |x: Length| bottom + x + high - t;
            self.rule((left + from, y(from)), (left + to, y(to)), grey, &[]);
            t += HATCH;
        }
        self.boxed(at, None, Some(grey));
    }

    /// How many rows the measures of points need, from left to right, so that none covers another or another's line;
    /// nothing where two are not enough.
    pub fn rows_of(&self, points: &[Measured], look: Look) -> Option<usize> {
        let wide = points
            .iter()
            .map(|point| self.setter.wide(&point.words, look));
        let wide: Vec<Length> = wide.collect();
        let apart = |step: usize, share: i64, clear: Length| {
            let pairs = points.windows(step + 1).zip(wide.windows(step + 1));
            let mut pairs = pairs.map(|(points, wide)| {
                let room = (wide[0] + wide[step]) / share + clear;
                points[step].x - points[0].x >= room
            });
            pairs.all(|apart| apart)
        };
        let clear = Length::mm(1);
        if apart(1, 2, clear) {
            Some(1)
        } else if apart(2, 2, clear) && apart(1, 4, clear / 2) {
            Some(2)
        } else {
            None
        }
    }

    /// Draws the measures of points above a height, in so many rows, and a line from each down to that height; how high
    /// they stand.
    pub fn running(
        &mut self,
        points: &[Measured],
        from: Length,
        rows: usize,
        look: Look,
    ) -> Length {
        let row = look.leading();
        for (at, point) in points.iter().enumerate() {
            let foot = from + Length::mm(3) + row * ((at % rows) as i64);
            self.rule(
                (point.x, from),
                (point.x, foot - Length::mm(1) / 2),
                0.0,
                &[],
            );
            self.centred(&point.words, (point.x, foot), look);
        }
        measures_high(rows, look)
    }

    /// A dimension line below or above what it measures, from left to right, its words above it.
    pub fn across(&mut self, from: Length, to: Length, y: Length, words: &str, look: Look) {
        self.rule((from, y), (to, y), 0.0, &[]);
        for x in [from, to] {
            self.rule((x, y - OFF), (x, y + OFF), 0.0, &[]);
        }
        self.centred(words, ((from + to) / 2, y + OFF), look);
    }

    /// A dimension line beside what it measures, from foot to head, its words at the left of it or at the right.
    pub fn upright(&mut self, foot: Point, head: Length, words: &str, at_left: bool, look: Look) {
        let (x, y) = foot;
        self.rule((x, y), (x, head), 0.0, &[]);
        for y in [y, head] {
            self.rule((x - OFF, y), (x + OFF, y), 0.0, &[]);
        }
        let middle = (y + head) / 2 - look.size() / 3;
        match at_left {
            true => self.ending(words, (x - OFF * 2, middle), look),
            false => {
                self.words(words, (x + OFF * 2, middle), look);
            }
        }
    }
}

/// How high the measures of points stand.
pub(super) fn measures_high(rows: usize, look: Look) -> Length {
    Length::mm(3) + look.leading() * rows as i64
}
