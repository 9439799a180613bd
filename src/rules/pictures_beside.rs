//! `pictures-beside`: a picture without a name is seen with the words before it.
//!
//! One costs 20 where no words stand before it on its spread, for those before it then stand on another: as `nearness`
//! asks of it once it has a name. The rule remembers whether words stand on the spread so far.

use super::{
    About, Clause, Declared, Group, Judges, Memory, PanelView, Problem, Remembers, Rule, Rules,
    Verdict,
};

/// What each such picture costs.
const COST: u64 = 20;

/// Words stand on the spread so far.
const WORDS: Memory = 1;

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
        self.read_on(0, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Roles
    }

    fn read_on(&self, memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        let panels = &reading.problem.panels;
        let spread = |panel: usize| panels.get(panel).map(|facts| facts.spread);
        let here = spread(reading.panel);
        let goes_on = reading.panel > 0 && spread(reading.panel - 1) == here;
        let before = if goes_on { memory } else { 0 };
        let verdict = match before != WORDS && reading.has_unnamed_picture() {
            true => Verdict::broken(COST),
            false => Verdict::KEPT,
        };
        let next = if reading.role.has_words() {
            WORDS
        } else {
            before
        };
        (
            verdict,
            if spread(reading.panel + 1) == here {
                next
            } else {
                0
            },
        )
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
