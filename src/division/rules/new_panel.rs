//! `new-panel`: a panel ends at each `[new panel]`.
//!
//! One above a caption asks that the caption begins a panel, on which its picture stands.

use super::{Rule, Verdict};
use crate::division::{PanelView, PieceHere, Problem};
use crate::plan::RuleName;

/// What it costs to run on over one where the rule is made soft.
const COST: u64 = 100;

pub(super) struct NewPanel;

impl Rule for NewPanel {
    fn name(&self) -> RuleName {
        RuleName::NewPanel
    }

    fn idle(&self, problem: &Problem) -> bool {
        !problem.rows.iter().any(|row| row.new_panel)
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        // One stands above a whole paragraph, never within.
        let later = reading.pieces().skip(1);
        let asks = |piece: &PieceHere| reading.problem.rows[piece.from].new_panel;
        match later.filter(asks).count() as u64 {
            0 => Verdict::KEPT,
            run_over => Verdict::broken(run_over * COST),
        }
    }
}
