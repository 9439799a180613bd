//! `blank-before`: pictures that come behind a blank panel.
//!
//! The panel before the first that such a picture stands on is blank, before it along the part's panels; each
//! picture of which that is not so, or that stands on the part's first panel, costs 80. The rule remembers whether
//! the panel before is blank.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelView, Problem, Remembers,
    Rule, Rules, Shown, Verdict,
};
use crate::names::Role;

/// What a picture without its blank panel costs.
const COST: u64 = 80;

const BLANK: Memory = 1;

pub struct BlankBefore;

impl Declared for BlankBefore {
    const ABOUT: About = About {
        name: "blank-before",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "Pictures before which a panel stays blank.",
    };
}

impl Asks for BlankBefore {
    type Asked = ();
    const UNLESS_SAID: () = ();
    const FORM: Form<()> = Form::Pictures;
    const SHOWN: Shown<()> = Shown::Usual("pictures before which a panel stays blank");
}

impl Rule for BlankBefore {
    fn idle(&self, problem: &Problem) -> bool {
        !problem.pictures.iter().any(|picture| picture.blank_before)
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Roles
    }

    fn read_on(&self, before: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        let begins = reading.picture.filter(|_| reading.begins_picture);
        let asked = begins.is_some_and(|picture| reading.problem.pictures[picture].blank_before);
        let verdict = match asked && before != BLANK {
            true => Verdict::broken(COST),
            false => Verdict::KEPT,
        };
        let blank = Memory::from(reading.role == Role::Blank);
        (verdict, blank)
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "the panel before each picture of `blank-before` is blank".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "has a picture without the blank panel before it that `blank-before` asks",
            "have a picture without the blank panel before it that `blank-before` asks",
        ))
    }
}
