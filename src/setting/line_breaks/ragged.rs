//! What ragged lines cost: how far they stay behind the measure, and how much they differ from their neighbours.

use super::{BreakCost, Line, LineFit, Point, Slack, Wall, Way};
use crate::names::Length;

/// No shortfall counts for more than this, in hundredths of an em.
const MOST: i64 = 1 << 20;

/// The constants of ragged setting. Costs are squared hundredths of an em, and so is [`Point::penalty`], which may
/// not be below nothing here.
///
/// - A line costs the square of what it lacks of the measure, in hundredths of an em, rounded to the nearest, halves
///   up; the last line costs nothing for that. A line that is too long costs the square of what it has too much.
/// - A break costs its penalty. A hyphen that follows on a hyphen has a price besides, and so has a last line after a
///   hyphen.
/// - Two neighbouring lines cost together the square of what their right edges differ by more than a share of the
///   measure, times a weight: no line is much shorter than its neighbours. The last line may be shorter than the one
///   before it for nothing, but not longer. The share is one of [`Measures::rest`](super::Measures::rest); what a
///   line has too much is of no account here.
/// - A last line that is shorter than the next paragraph's indent leaves a gap between the two, and has a price.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ragged {
    /// The em: the size of the type. Must be above nothing.
    pub em: Length,
    /// The right edges of neighbouring lines may differ by this part of the measure: 6 stands for a sixth.
    pub uneven_from: u32,
    /// How much the square of what they differ by more counts.
    pub uneven_weight: u32,
    /// Last lines shorter than this have a price; in hundredths of an em.
    pub least_last: u32,
    /// What a last line costs that is shorter than that.
    pub short_last: u32,
    /// What a hyphen costs that follows on a hyphen, and a last line after one.
    pub hyphens_in_a_row: u32,
}

impl Default for Ragged {
    /// Edges may differ by a sixth of the measure, and what is more counts four times; a last line shorter than 2 em
    /// costs as much as a line that is 2 em too short, hyphens in a row as one that is an em too short. The em is 12
    /// points.
    fn default() -> Ragged {
        Ragged {
            em: Length::pt(12),
            uneven_from: 6,
            uneven_weight: 4,
            least_last: 200,
            short_last: 40_000,
            hyphens_in_a_row: 10_000,
        }
    }
}

impl Ragged {
    /// The usual constants for type of this size.
    pub fn of(em: Length) -> Ragged {
        Ragged {
            em,
            ..Ragged::default()
        }
    }

    /// These constants at a measure.
    pub(super) fn way(&self, measure: Length) -> RaggedWay {
        let parts = i64::from(self.uneven_from.max(1));
        RaggedWay {
            ragged: *self,
            limit: hundredths(measure.max(Length::ZERO), self.em * parts),
        }
    }
}

/// A length above nothing in hundredths of an em, to the nearest, halves up.
fn hundredths(length: Length, em: Length) -> i64 {
    let em = em.units().max(1);
    let doubled = length.units().saturating_mul(200).saturating_add(em);
    (doubled / em.saturating_mul(2)).min(MOST)
}

/// The constants at a measure.
pub(super) struct RaggedWay {
    ragged: Ragged,
    /// How much the edges of neighbouring lines may differ, in hundredths of an em.
    limit: i64,
}

impl RaggedWay {
    /// What a difference between edges costs.
    fn uneven(&self, difference: i64) -> i64 {
        let excess = (difference - self.limit).max(0);
        (excess * excess).saturating_mul(i64::from(self.ragged.uneven_weight))
    }
}

impl Way for RaggedWay {
    fn narrow_end(&self, point: &Point) -> Length {
        point.end
    }

    fn narrow_start(&self, point: &Point) -> Length {
        point.start
    }

    fn line(&self, line: &Line<'_>) -> (i64, LineFit, i32) {
        let penalty = if line.last {
            0
        } else {
            i64::from(line.to.penalty.max(0))
        };
        if line.natural > line.measure {
            let excess = hundredths(line.natural - line.measure, self.ragged.em);
            return (excess * excess + penalty, LineFit::Overfull, 0);
        }
        let short = hundredths(line.measure - line.natural, self.ragged.em);
        let cost = if !line.last {
            short * short + penalty
        } else {
            let least = i128::from(self.ragged.least_last) * i128::from(self.ragged.em.units());
            let is_short = i128::from(line.natural.units()) * 100 < least;
            i64::from(self.ragged.short_last) * i64::from(is_short)
        };
        (cost, LineFit::Within, short as i32)
    }

    fn between(&self, earlier: i32, later: i32, later_is_last: bool) -> i64 {
        let difference = i64::from(earlier) - i64::from(later);
        if later_is_last {
            self.uneven(difference)
        } else {
            self.uneven(difference.abs())
        }
    }

    fn hyphens_in_a_row(&self) -> i64 {
        i64::from(self.ragged.hyphens_in_a_row)
    }

    fn breach(&self, wall: Wall) -> BreakCost {
        BreakCost {
            breaches: match wall {
                // Rather a last line has one word.
                Wall::HyphensInARow | Wall::HyphenBeforeLast => 2,
                Wall::OneWordLast => 1,
            },
            ..BreakCost::default()
        }
    }

    fn most_between(&self) -> Option<i64> {
        None
    }

    fn least(&self, _: Length, _: Slack, _: Length) -> i64 {
        0
    }
}
