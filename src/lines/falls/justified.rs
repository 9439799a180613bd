//! What justified lines cost: the formulas of D. E. Knuth and M. F. Plass, "Breaking Paragraphs into Lines",
//! *Software: Practice and Experience* 11 (1981).

use std::cmp::Ordering;

use super::{Fit, Line, Point, Slack, Way};
use crate::units::Length;

/// No badness is more than this, that of a line whose spaces take about 21 times their stretch.
const MOST_BADNESS: i64 = 1_000_000;
/// The most breaches that a loose line counts for.
const MOST_LOOSE: i128 = 10;
/// No penalty counts for more than this, up or down.
const MOST_PENALTY: i64 = 1_000_000;
/// Lengths of this many bits can be cubed and doubled a hundred times over.
const BITS: u32 = 38;

/// The constants of justified setting. [`Point::penalty`] is the article's π; below nothing it draws breaks on.
///
/// Where a line of natural length *L* is set to measure *l*, its spaces giving *Y* and taking *Z*:
///
/// - Its adjustment ratio *r* is 0 where *L* = *l*, (*l* − *L*) ÷ *Y* where it is short, (*l* − *L*) ÷ *Z* where it
///   is long; see [`ratio`]. The last line may stretch without end: *r* is 0 unless it is long.
/// - Its badness is ⌊100 |*r*|³ + ½⌋, a million at most, also where there is nothing to stretch or shrink.
/// - It costs (1 + badness + π)² where π ≥ 0, (1 + badness)² − π² where π < 0, and (1 + badness)² where it is the
///   last. π counts for a million at most.
/// - A line with *r* < −1 is too long. One with *r* above the tolerance breaches a wall, once for each
///   whole tolerance that *r* reaches, ten times at most.
/// - Lines are tight (*r* < −½), normal, loose (*r* > ½) and very loose (*r* > 1). Neighbours more than one class
///   apart cost γ.
/// - A hyphen that follows on a hyphen costs α, and so does a last line after a hyphen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Justified {
    /// How far spaces may stretch, in thousandths of the stretch that they have.
    pub tolerance: u32,
    /// The article's α.
    pub hyphens_in_a_row: u32,
    /// The article's γ.
    pub uneven: u32,
}

impl Default for Justified {
    /// Spaces may take twice their stretch; α and γ are 3000, as in the article's examples (from memory).
    fn default() -> Justified {
        Justified {
            tolerance: 2_000,
            hyphens_in_a_row: 3_000,
            uneven: 3_000,
        }
    }
}

/// An adjustment ratio, as an exact fraction.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ratio {
    /// What the line's spaces must take up together; below nothing where they must become narrower.
    pub part: Length,
    /// The stretch that they have, or the shrink; above nothing.
    pub of: Length,
}

/// The adjustment ratio of the line from point `from` to the later point `to`, set to `measure`: each space
/// gives its own stretch (or shrink) × `part` ÷ `of`. It is not held to any tolerance.
///
/// Nothing where there are no such points, or no space can give what is wanted.
pub fn ratio(points: &[Point], from: usize, to: usize, measure: Length) -> Option<Ratio> {
    if from >= to || to >= points.len() {
        return None;
    }
    ratio_of(&Line::new(points, from, to, measure))
}

fn ratio_of(line: &Line<'_>) -> Option<Ratio> {
    let part = line.measure - line.natural;
    let of = match part.cmp(&Length::ZERO) {
        Ordering::Greater if !line.last => line.slack.stretch,
        Ordering::Less => line.slack.shrink,
        _ => {
            return Some(Ratio {
                part: Length::ZERO,
                of: Length::from_units(1),
            });
        }
    };
    (of > Length::ZERO).then_some(Ratio { part, of })
}

impl Ratio {
    /// How it compares with so many thousandths.
    fn cmp_thousandths(self, thousandths: i64) -> Ordering {
        let part = i128::from(self.part.units()) * 1000;
        part.cmp(&(i128::from(self.of.units()) * i128::from(thousandths)))
    }

    /// The article's badness of a line with this ratio.
    pub fn badness(self) -> i64 {
        let (mut part, mut of) = (self.part.units().unsigned_abs(), self.of.units() as u64);
        if part / 22 >= of {
            return MOST_BADNESS;
        }
        // Lengths of many miles lose what no eye could see.
        let excess = (64 - part.max(of).leading_zeros()).saturating_sub(BITS);
        (part, of) = (part >> excess, of >> excess);
        let cube = |length: u64| u128::from(length).pow(3);
        let badness = (200 * cube(part) + cube(of)) / (2 * cube(of));
        (badness as i64).min(MOST_BADNESS)
    }

    /// The article's fitness class: 0 for tight to 3 for very loose.
    fn class(self) -> i32 {
        if self.cmp_thousandths(-500).is_lt() {
            0
        } else if self.cmp_thousandths(500).is_le() {
            1
        } else if self.cmp_thousandths(1000).is_le() {
            2
        } else {
            3
        }
    }
}

impl Justified {
    /// Badness, fit and class of a line.
    fn judge(&self, line: &Line<'_>) -> (i64, Fit, i32) {
        let Some(ratio) = ratio_of(line) else {
            return if line.natural > line.measure {
                (MOST_BADNESS, Fit::Overfull, 0)
            } else {
                (MOST_BADNESS, Fit::Loose, 3)
            };
        };
        let fit = if ratio.cmp_thousandths(-1000).is_lt() {
            Fit::Overfull
        } else if ratio.cmp_thousandths(i64::from(self.tolerance)).is_gt() {
            Fit::Loose
        } else {
            Fit::Within
        };
        (ratio.badness(), fit, ratio.class())
    }
}

impl Way for Justified {
    fn narrow_end(&self, point: &Point) -> Length {
        let Slack { shrink, .. } = point.slack_to_end;
        point.end - shrink
    }

    fn narrow_start(&self, point: &Point) -> Length {
        let Slack { shrink, .. } = point.slack_to_start;
        point.start - shrink
    }

    fn line(&self, line: &Line<'_>) -> (i64, Fit, i32) {
        let (badness, fit, class) = self.judge(line);
        let penalty = i64::from(line.to.penalty).clamp(-MOST_PENALTY, MOST_PENALTY);
        let demerits = if line.last {
            (1 + badness).pow(2)
        } else if penalty >= 0 {
            (1 + badness + penalty).pow(2)
        } else {
            (1 + badness).pow(2) - penalty.pow(2)
        };
        (demerits, fit, class)
    }

    fn looseness(&self, line: &Line<'_>) -> u32 {
        let Some(ratio) = ratio_of(line) else {
            return MOST_LOOSE as u32;
        };
        let tolerance = i128::from(ratio.of.units()) * i128::from(self.tolerance);
        let times = i128::from(ratio.part.units()) * 1000 / tolerance.max(1);
        times.clamp(1, MOST_LOOSE) as u32
    }

    fn between(&self, earlier: i32, later: i32, _: bool) -> i64 {
        let apart = (earlier - later).abs() > 1;
        i64::from(self.uneven) * i64::from(apart)
    }

    fn hyphens_in_a_row(&self) -> i64 {
        i64::from(self.hyphens_in_a_row)
    }
}
