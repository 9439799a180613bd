//! `pictures`: how many pictures the body has in all.
//!
//! Those that no callout names yet are pictures without a name, each alone on a panel; a named one takes one of them.
//! Each that is missing of those that should have no name costs 100, and so does each more. The rule remembers how many
//! there are so far, up to the number asked. What is missing is charged once too few panels follow for all of them, and
//! counts as there from then on.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelView, Problem, Remembers,
    Rule, Rules, Shown, Verdict,
};

/// What each picture more or less costs.
const COST: u64 = 100;

pub struct Pictures;

impl Declared for Pictures {
    const ABOUT: About = About {
        name: "pictures",
        group: Group::Order,
        hard: true,
        judges: Judges::Division,
        words: "How many pictures the body has in all; a panel is kept for each that no callout names yet.",
    };
}

impl Asks for Pictures {
    type Asked = u32;
    const UNLESS_SAID: u32 = 0;
    const FORM: Form<u32> = Form::whole(0, 800);
    const SHOWN: Shown<u32> =
        Shown::Usual("pictures in all; panels are kept for those without a name");
}

impl Rule for Pictures {
    fn idle(&self, problem: &Problem) -> bool {
        problem.unnamed_pictures() == 0
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Roles
    }

    fn read_on(&self, before: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        let problem = reading.problem;
        let asked = problem.unnamed_pictures() as Memory;
        // On the panels that follow no more can stand than there are of them.
        let left = (problem.panels.len() - 1 - reading.panel) as Memory;
        let found = before + Memory::from(reading.has_unnamed_picture());
        let counted = found.clamp(asked.saturating_sub(left), asked);
        let wrong = found.abs_diff(counted);
        let verdict = match wrong {
            0 => Verdict::KEPT,
            wrong => Verdict::broken(COST * wrong as u64),
        };
        (verdict, counted)
    }

    fn in_words(&self, rules: &Rules) -> String {
        match rules.pictures {
            1 => "the body has a picture".to_string(),
            asked => format!("the body has {asked} pictures in all"),
        }
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "ends a body with more or fewer pictures than `pictures` asks",
            "have more or fewer pictures than `pictures` asks",
        ))
    }
}
