//! `fullest`: no panel of words takes a larger share of its text area.
//!
//! Captions count beside words; a picture alone with its captions is no panel of words, and only its text area
//! bounds them.

use super::{Rule, Verdict};
use crate::division::PanelView;
use crate::plan::RuleName;

pub(super) struct Fullest;

impl Rule for Fullest {
    fn name(&self) -> RuleName {
        RuleName::Fullest
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        let most = reading.problem.rules.fullest;
        let over = u64::from(reading.used) * 100 > u64::from(most.0) * u64::from(reading.capacity);
        if reading.has_words() && over {
            Verdict {
                broken: true,
                ..Verdict::points_off(reading.off(most))
            }
        } else {
            Verdict::KEPT
        }
    }
}
