//! What justified lines cost: the formulas of D. E. Knuth and M. F. Plass, "Breaking Paragraphs into Lines",
//! *Software: Practice and Experience* 11 (1981).

use std::cmp::Ordering;

use super::{BreakCost, Line, LineFit, Point, Slack, Wall, Way};
use crate::names::Length;

/// No badness is more than this, that of a line whose spaces take about 211 times their stretch.
const MOST_BADNESS: i64 = 1_000_000;
/// Badness grows with the cube of ratios up to this one.
const CUBED_TO: u128 = 4;
/// A line with nothing to stretch is judged as if it could give this part of its measure: about what one word space
/// gives on a short one.
const NOTHING_GIVES: u128 = 200;
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
/// - Its badness is ⌊100 |*r*|³ + ½⌋ up to |*r*| = 4. The article goes no farther than a tolerance; but on short
///   measures there may be no way within any. Beyond 4 badness goes on in a straight line, as steep as it came:
///   ⌊4800 |*r*| − 12800 + ½⌋, a million at most. So the holes of hopeless lines are shared out, and of two settings
///   with one the smaller is taken.
/// - Where there is nothing to stretch, *r* is taken to be what the line lacks ÷ a two-hundredth of the measure; where
///   there is nothing to shrink, badness is a million.
/// - It costs (1 + badness + π)² where π ≥ 0, (1 + badness)² − π² where π < 0, and (1 + badness)² where it is the
///   last. π counts for a million at most.
/// - A line with *r* < −1 is too long. One with *r* above the tolerance is [`LineFit::Loose`] and has a price
///   besides; a very high one makes the tolerance what it is in the article, where no line may be looser.
/// - A line whose spaces lose more than three quarters of what they may has a price.
/// - Lines are tight (*r* < −½), normal, loose (*r* > ½) and very loose (*r* > 1). Neighbours more than one class
///   apart cost γ.
/// - A hyphen that follows on a hyphen costs α, and so does a last line after a hyphen.
/// - A last line that is shorter than the next paragraph's indent leaves a gap between the two, and has a price.
/// - Each breach of a wall has a price.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Justified {
    /// How far spaces may stretch before a line is loose, in thousandths of the stretch that they have.
    pub tolerance: u32,
    /// What a loose line costs besides.
    pub loose: u32,
    /// What a line costs besides whose spaces lose more than three quarters of what they may.
    pub cramped: u32,
    /// The article's α.
    pub hyphens_in_a_row: u32,
    /// The article's γ.
    pub uneven: u32,
    /// Last lines shorter than this have a price.
    pub least_last: Length,
    /// What a last line costs that is shorter than that.
    pub short_last: u32,
    /// What a hyphen costs that follows on two others.
    pub ladder: u32,
    /// What a hyphen before the last line costs, and a last line of one word.
    pub wall: u32,
}

impl Default for Justified {
    /// Spaces may take twice their stretch, which makes them twice as wide where that is half of their width; a line where
    /// they take more costs besides as much as one whose spaces are 2.4 times as wide. A wall costs less than that, but a
    /// third hyphen in a row nearly as much as a line whose spaces are three times as wide. A last line that leaves a gap,
    /// or words that run together, cost a little more than a hyphen does. γ is 3000, as in the article's examples (from
    /// memory). α is more than the 3000 there, for hyphens themselves cost more with us.
    ///
    /// `tests/outside/prose/optimum` compares what comes of these with the article's own costs: about as many wide spaces,
    /// a quarter fewer hyphens, and fewer last lines of one word.
    fn default() -> Justified {
        Justified {
            tolerance: 2_000,
            loose: 4_000_000,
            cramped: 600_000,
            hyphens_in_a_row: 30_000,
            uneven: 3_000,
            least_last: Length::ZERO,
            short_last: 640_000,
            ladder: 40_000_000,
            wall: 3_000_000,
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

    /// The badness of a line with this ratio: see [`Justified`].
    pub fn badness(self) -> i64 {
        let of = self.of.units().unsigned_abs();
        badness(self.part.units().unsigned_abs().into(), of.into())
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

/// The badness of a ratio of `part` ÷ `of`.
fn badness(mut part: u128, mut of: u128) -> i64 {
    if part <= CUBED_TO * of
        && let Some(badness) = rounded(part, of)
    {
        return badness;
    }
    let badness = if part > CUBED_TO * of {
        let steep = 300 * CUBED_TO.pow(2);
        (2 * steep * part + of) / (2 * of) - 200 * CUBED_TO.pow(3)
    } else {
        // Lengths of many miles lose what no eye could see.
        let bits = u128::BITS - part.max(of).leading_zeros();
        let excess = bits.saturating_sub(BITS);
        (part, of) = (part >> excess, of >> excess);
        (200 * part.pow(3) + of.pow(3)) / (2 * of.pow(3))
    };
    i64::try_from(badness)
        .unwrap_or(MOST_BADNESS)
        .min(MOST_BADNESS)
}

/// The badness of a ratio of up to 4 by way of a fraction in the machine's own form; nothing where it lies so near to where it
/// rounds the other way that only whole numbers tell.
fn rounded(part: u128, of: u128) -> Option<i64> {
    const NEAR: f64 = 1e-6;
    let (part, of) = (u32::try_from(part).ok()?, u32::try_from(of).ok()?);
    let badness = 100.0 * (f64::from(part) / f64::from(of)).powi(3) + 0.5;
    let over = badness.fract();
    (over > NEAR && over < 1.0 - NEAR).then_some(badness as i64)
}

/// Whether the spaces of a line lose more than three quarters of what they may: words then run together in a face whose
/// spaces are narrow.
fn is_cramped(line: &Line<'_>) -> bool {
    ratio_of(line).is_some_and(|ratio| ratio.cmp_thousandths(-750).is_lt())
}

impl Justified {
    /// Badness, fit and class of a line.
    fn judge(&self, line: &Line<'_>) -> (i64, LineFit, i32) {
        let Some(ratio) = ratio_of(line) else {
            if line.natural > line.measure {
                return (MOST_BADNESS, LineFit::Overfull, 0);
            }
            let lacks = u128::from((line.measure - line.natural).units().unsigned_abs());
            let measure = u128::from(line.measure.units().unsigned_abs().max(1));
            return (badness(lacks * NOTHING_GIVES, measure), LineFit::Loose, 3);
        };
        let fit = if ratio.cmp_thousandths(-1000).is_lt() {
            LineFit::Overfull
        } else if ratio.cmp_thousandths(i64::from(self.tolerance)).is_gt() {
            LineFit::Loose
        } else {
            LineFit::Within
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

    fn line(&self, line: &Line<'_>) -> (i64, LineFit, i32) {
        let (badness, fit, class) = self.judge(line);
        let penalty = i64::from(line.to.penalty).clamp(-MOST_PENALTY, MOST_PENALTY);
        let demerits = if line.last {
            (1 + badness).pow(2)
        } else if penalty >= 0 {
            (1 + badness + penalty).pow(2)
        } else {
            (1 + badness).pow(2) - penalty.pow(2)
        };
        let spaces = match fit {
            LineFit::Loose => i64::from(self.loose),
            _ if is_cramped(line) => i64::from(self.cramped),
            LineFit::Within | LineFit::Overfull => 0,
        };
        let is_short = line.last && line.natural < self.least_last;
        let short = i64::from(self.short_last) * i64::from(is_short);
        (demerits + spaces + short, fit, class)
    }

    fn between(&self, earlier: i32, later: i32, _: bool) -> i64 {
        let apart = (earlier - later).abs() > 1;
        i64::from(self.uneven) * i64::from(apart)
    }

    fn hyphens_in_a_row(&self) -> i64 {
        i64::from(self.hyphens_in_a_row)
    }

    fn breach(&self, wall: Wall) -> BreakCost {
        let price = match wall {
            Wall::HyphensInARow => self.ladder,
            Wall::HyphenBeforeLast | Wall::OneWordLast => self.wall,
        };
        BreakCost::ordinary(i64::from(price))
    }

    fn most_between(&self) -> Option<i64> {
        Some(i64::from(self.uneven))
    }

    /// The looser a line is the more it costs: what the longest of them would cost that had all their slack.
    fn least(&self, longest: Length, slack: Slack, measure: Length) -> i64 {
        let part = measure - longest;
        if part <= Length::ZERO || slack.stretch <= Length::ZERO {
            return 0;
        }
        let ratio = Ratio {
            part,
            of: slack.stretch,
        };
        let loose = ratio.cmp_thousandths(i64::from(self.tolerance)).is_gt();
        (1 + ratio.badness()).pow(2) + i64::from(self.loose) * i64::from(loose)
    }
}
