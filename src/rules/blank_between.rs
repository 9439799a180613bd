//! `blank-between`: a blank panel between two sections.
//!
//! A section is the words of a part from one heading to the next, captions left aside. Between the last words of one and
//! the first words of the next a panel stays blank, among whatever pictures stand there; each two sections between which
//! none does cost 80. `spare-panels` asks nothing for such a blank panel, and `sections-apart` nothing for the first of
//! them. The rule remembers whether one stands between the same words already.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelView, Problem, Remembers,
    Rule, Rules, Shown, Verdict,
};
use crate::names::Role;

/// What two sections without a blank panel between them cost.
const COST: u64 = 80;

const BLANK: Memory = 1;

/// Between what a panel stays blank.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BlankBetween {
    /// Between two sections.
    Sections,
}

pub struct BlankBetweenRule;

impl Declared for BlankBetweenRule {
    const ABOUT: About = About {
        name: "blank-between",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "Between what a panel stays blank: sections, the words from one heading to the next.",
    };
}

impl Asks for BlankBetweenRule {
    type Asked = Option<BlankBetween>;
    const UNLESS_SAID: Option<BlankBetween> = None;
    const FORM: Form<Option<BlankBetween>> = Form::Words(&[("sections", |asked| {
        *asked = Some(BlankBetween::Sections);
    })]);
    const SHOWN: Shown<Option<BlankBetween>> = Shown::Example(
        Some(BlankBetween::Sections),
        "a blank panel before each heading but the first",
    );
}

impl Rule for BlankBetweenRule {
    fn idle(&self, problem: &Problem) -> bool {
        let sections = problem.sections_between(0, problem.rows.len());
        problem.rules.blank_between.is_none() || sections == 0
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Words
    }

    fn read_on(&self, before: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        if reading.first_words().is_none() {
            let problem = reading.problem;
            let parts = problem.around(reading.from).is_some_and(|(above, below)| {
                problem.rows[above].section != problem.rows[below].section
            });
            let blank = reading.role == Role::Blank && parts;
            let memory = if blank { BLANK } else { before };
            return (Verdict::KEPT, memory);
        }
        let bare = reading.begins_section().is_some() && before != BLANK;
        let bare = u64::from(bare) + reading.headings_below_words();
        let verdict = match bare {
            0 => Verdict::KEPT,
            bare => Verdict::broken(bare * COST),
        };
        (verdict, 0)
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "a blank panel stands between two sections".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "begins a section without the blank panel before it that `blank-between` asks",
            "begin sections without the blank panels before them that `blank-between` asks",
        ))
    }
}
