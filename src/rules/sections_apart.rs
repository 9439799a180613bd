//! `sections-apart`: no more than one blank panel stands between two sections.
//!
//! Each panel more that is blank there costs 2: spare panels then stand at the end. Pictures between, and their
//! captions, are passed over. The rule remembers whether one stands between the same words already.

use super::{
    About, Clause, Declared, Group, Judges, Memory, PanelView, Problem, Remembers, Rule, Rules,
    Verdict,
};
use crate::names::Role;

/// What each blank panel more costs.
const COST: u64 = 2;

const BLANK: Memory = 1;

pub struct SectionsApart;

impl Declared for SectionsApart {
    const ABOUT: About = About {
        name: "sections-apart",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "No more than one panel stays blank between two sections.",
    };
}

impl Rule for SectionsApart {
    fn idle(&self, problem: &Problem) -> bool {
        problem.sections_between(0, problem.rows.len()) == 0
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Words
    }

    fn read_on(&self, before: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        if reading.first_words().is_some() {
            return (Verdict::KEPT, 0);
        }
        let problem = reading.problem;
        let parts = problem.around(reading.from).is_some_and(|(above, below)| {
            problem.rows[above].section != problem.rows[below].section
        });
        match (reading.role == Role::Blank && parts, before) {
            (true, BLANK) => (Verdict::broken(COST), BLANK),
            (true, _) => (Verdict::KEPT, BLANK),
            (false, _) => (Verdict::KEPT, before),
        }
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "one blank panel at most stands between two sections".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "is one blank panel more between two sections",
            "are more than one blank panel between two sections",
        ))
    }
}
