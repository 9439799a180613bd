//! `keep-together`: what `[keep together]` holds stays on one panel.
//!
//! That goes for captions too: one that stands within the callouts is held with the words, so that all of it must
//! share a panel with the picture. One that need not be is written outside.

use super::{Rule, Verdict};
use crate::division::{PanelView, Problem};
use crate::plan::RuleName;

/// What it costs to part it where the rule is made soft.
const COST: u64 = 160;

pub(super) struct KeepTogether;

impl Rule for KeepTogether {
    fn name(&self) -> RuleName {
        RuleName::KeepTogether
    }

    fn idle(&self, problem: &Problem) -> bool {
        problem.rows.iter().all(|row| row.kept.is_none())
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        let rows = &reading.problem.rows;
        let parts = reading.to > 0
            && reading.to < rows.len()
            && rows[reading.to].kept.is_some()
            && rows[reading.to].kept == rows[reading.to - 1].kept;
        // A title panel parts them as any other does.
        if reading.from < reading.to && parts {
            Verdict::broken(COST)
        } else {
            Verdict::KEPT
        }
    }
}
