//! `pictures-beside`: a picture without a name is seen with the words before it.
//!
//! One on the first panel of a spread costs 20, for those words stand on another: as `nearness` asks of it once it has a
//! name. The rule remembers nothing; but where panels lie is told only to those that read roles.

use super::{
    About, Clause, Declared, Group, Judges, Memory, PanelView, Problem, Remembers, Rule, Rules,
    Verdict,
};

/// What each such picture costs.
const COST: u64 = 20;

pub struct PicturesBeside;

impl Declared for PicturesBeside {
    const ABOUT: About = About {
        name: "pictures-beside",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "Pictures without a name stand on the spread of the words before them.",
    };
}

impl Rule for PicturesBeside {
    fn idle(&self, problem: &Problem) -> bool {
        problem.unnamed_pictures() == 0
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        let opens = reading.problem.panels[reading.panel].opens_spread;
        match opens && reading.has_unnamed_picture() {
            true => Verdict::broken(COST),
            false => Verdict::KEPT,
        }
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Roles
    }

    fn read_on(&self, memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        (self.read(reading), memory)
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "pictures without a name stand on the spread of the words before them".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "has a picture without a name on another spread than the words before it",
            "have pictures without a name on other spreads than the words before them",
        ))
    }
}
