//! `ends-with`: what a part ends with.
//!
//! The last panel of the part that is not blank has the role asked for; a part of blank panels alone is not asked,
//! nor is one without pictures where the role has one. Asked for "blank", the last panel is blank. What ends
//! otherwise costs 80. The rule remembers whether the last panel that is not blank has the role.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelView, Problem, Remembers,
    Rule, Rules, Shown, Verdict,
};
use crate::names::Role;

/// What another end costs.
const COST: u64 = 80;

/// The last panel that is not blank has the role asked for, or there is none yet.
const RIGHT: Memory = 0;
/// It has another.
const WRONG: Memory = 1;

pub struct EndsWith;

impl Declared for EndsWith {
    const ABOUT: About = About {
        name: "ends-with",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "What the last panel of a part carries that is not blank; or \"blank\", so that the last panel is.",
    };
}

impl Asks for EndsWith {
    type Asked = Option<Role>;
    const UNLESS_SAID: Option<Role> = None;
    const FORM: Form<Option<Role>> = Form::Words(&[
        (Role::Text.word(), |asked| *asked = Some(Role::Text)),
        (Role::Shared.word(), |asked| *asked = Some(Role::Shared)),
        (Role::Picture.word(), |asked| *asked = Some(Role::Picture)),
        (Role::Blank.word(), |asked| *asked = Some(Role::Blank)),
    ]);
    const SHOWN: Shown<Option<Role>> = Shown::Example(Some(Role::Picture), "text, shared, blank");
}

impl Rule for EndsWith {
    fn idle(&self, problem: &Problem) -> bool {
        let asked = problem.rules.ends_with;
        asked.is_none_or(|role| role.has_picture() && !problem.has_pictures())
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(RIGHT, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Roles
    }

    fn read_on(&self, memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        let Some(asked) = reading.problem.rules.ends_with else {
            return (Verdict::KEPT, memory);
        };
        let memory = match reading.role {
            Role::Blank if asked != Role::Blank => memory,
            role if role == asked => RIGHT,
            _ => WRONG,
        };
        let last = reading.panel + 1 == reading.problem.panels.len();
        match last && memory == WRONG {
            true => (Verdict::broken(COST), memory),
            false => (Verdict::KEPT, memory),
        }
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "each part ends as `ends-with` asks".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "ends its part otherwise than `ends-with` asks",
            "end their parts otherwise than `ends-with` asks",
        ))
    }
}
