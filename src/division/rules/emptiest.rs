//! `emptiest`: no panel of words takes a smaller share of its text area.
//!
//! Captions count beside words; a picture alone with its captions is no panel of words, and only its text area
//! bounds them.

use super::{Rule, Verdict};
use crate::division::{PanelView, Problem};
use crate::plan::RuleName;

pub(super) struct Emptiest;

impl Rule for Emptiest {
    fn name(&self) -> RuleName {
        RuleName::Emptiest
    }

    fn idle(&self, problem: &Problem) -> bool {
        problem.rules.emptiest.0 == 0
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        let least = reading.problem.rules.emptiest;
        let under =
            u64::from(reading.used) * 100 < u64::from(least.0) * u64::from(reading.capacity);
        if reading.has_words() && under {
            Verdict {
                broken: true,
                ..Verdict::points_off(reading.off(least))
            }
        } else {
            Verdict::KEPT
        }
    }
}
