//! `new-panel`: a panel ends at each `[new panel]`.
//!
//! One above a caption asks that the caption begins a panel, on which its picture stands. Where the rule may give way,
//! each that a panel runs on over costs 100.

use super::{
    About, Clause, Declared, Group, Judges, PanelView, PieceHere, Problem, Rule, Rules, Verdict,
};

/// What it costs to run on over one where the rule is made soft.
const COST: u64 = 100;

pub struct NewPanel;

impl Declared for NewPanel {
    const ABOUT: About = About {
        name: "new-panel",
        group: Group::Bounds,
        hard: true,
        judges: Judges::Words,
        words: "A panel ends at each [new panel].",
    };
}

impl Rule for NewPanel {
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

    fn in_words(&self, _rules: &Rules) -> String {
        "a panel ends at each `[new panel]`".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "runs on over a [new panel]",
            "run on over a [new panel]",
        ))
    }
}
