//! `keep-together`: what `[keep together]` holds stays on one panel.
//!
//! That goes for captions too: one that stands within the callouts is held with the words, so that all of it must
//! share a panel with the picture. One that need not be is written outside. Where the rule may give way, each panel that
//! ends within costs 160.

use super::{About, Clause, Declared, Group, Judges, PanelView, Problem, Rule, Rules, Verdict};

/// What it costs to part it where the rule is made soft.
const COST: u64 = 160;

pub struct KeepTogether;

impl Declared for KeepTogether {
    const ABOUT: About = About {
        name: "keep-together",
        group: Group::Bounds,
        hard: true,
        judges: Judges::Words,
        words: "What [keep together] holds stays on one panel.",
    };
}

impl Rule for KeepTogether {
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

    fn in_words(&self, _rules: &Rules) -> String {
        "what `[keep together]` holds stays on one panel".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "parts what [keep together] holds",
            "part what [keep together] holds",
        ))
    }
}
