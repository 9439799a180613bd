//! `new-panel`: a panel ends at each `[new panel]`.

use super::{Rule, Verdict};
use crate::panels::Reading;
use crate::plan::RuleName;

/// What it costs to run on over one where the rule is made soft.
const COST: u64 = 100;

pub(super) struct NewPanel;

impl Rule for NewPanel {
    fn name(&self) -> RuleName {
        RuleName::NewPanel
    }

    fn read(&self, reading: &Reading<'_>) -> Verdict {
        let rows = &reading.problem.rows[reading.from..reading.to];
        match rows.iter().skip(1).filter(|row| row.new_panel).count() as u64 {
            0 => Verdict::KEPT,
            run_over => Verdict::broken(run_over * COST),
        }
    }
}
