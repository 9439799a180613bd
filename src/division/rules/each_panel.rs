//! `each-panel`: what an ordinary panel of words carries: one stanza, or so many lines.
//!
//! Captions are no lines, and a stanza or paragraph with one in its middle is one. A panel with nothing but a
//! picture and its captions is no panel of words.

use super::{Rule, Verdict};
use crate::division::{PanelView, Problem};
use crate::plan::{EachPanel, RuleName};

/// What each stanza more or less than one costs.
const STANZA: u64 = 90;
/// What the square of each line more or less costs.
const LINE: u64 = 10;

pub(super) struct EachPanelRule;

impl Rule for EachPanelRule {
    fn name(&self) -> RuleName {
        RuleName::EachPanel
    }

    fn idle(&self, problem: &Problem) -> bool {
        problem.rules.each_panel == EachPanel::Free
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        if !reading.has_words() {
            return Verdict::KEPT;
        }
        let (off, cost) = match reading.problem.rules.each_panel {
            EachPanel::Free => return Verdict::KEPT,
            EachPanel::Stanza => {
                let off = reading.stanzas().abs_diff(1);
                (off, off * STANZA)
            }
            EachPanel::Lines(asked) => {
                let off = reading.lines().abs_diff(u64::from(asked));
                (off, off * off * LINE)
            }
        };
        Verdict {
            broken: off > 0,
            cost,
        }
    }
}
