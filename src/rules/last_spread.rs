//! `last-spread`: what the last spread of a part carries.
//!
//! The last spread of the part that is not wholly blank has the role asked for on each of its panels that is not blank;
//! a part of blank panels alone is not asked, nor is one without pictures where the role has one. Asked for "blank", all
//! panels of the part's last spread are. A spread is those of its panels that the part has; a face in no pair is one by
//! itself. What ends otherwise costs 80.
//!
//! The rule remembers whether the part would end as asked, were all that follows blank; and if not, whether that lies at
//! this spread, on which no panel can mend it, or at an earlier one.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelView, Problem, Remembers,
    Rule, Rules, Shown, Verdict,
};
use crate::names::Role;

/// What another last spread costs.
const COST: u64 = 80;

/// The part would end as asked, were all that follows blank.
const RIGHT: Memory = 0;
/// A panel of this spread has another role.
const WRONG: Memory = 1;
/// The last spread that is not blank has such a panel, and this one is blank so far.
const PAST: Memory = 2;

pub struct LastSpread;

impl Declared for LastSpread {
    const ABOUT: About = About {
        name: "last-spread",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "What the last spread of a part carries that is not blank; or \"blank\", so that the last one is.",
    };
}

impl Asks for LastSpread {
    type Asked = Option<Role>;
    const UNLESS_SAID: Option<Role> = None;
    const FORM: Form<Option<Role>> = Form::Words(&[
        (Role::Text.word(), |asked| *asked = Some(Role::Text)),
        (Role::Shared.word(), |asked| *asked = Some(Role::Shared)),
        (Role::Picture.word(), |asked| *asked = Some(Role::Picture)),
        (Role::Blank.word(), |asked| *asked = Some(Role::Blank)),
    ]);
    const SHOWN: Shown<Option<Role>> = Shown::Example(
        Some(Role::Picture),
        "on all its panels; or text, shared, blank",
    );
}

impl Rule for LastSpread {
    fn idle(&self, problem: &Problem) -> bool {
        let asked = problem.rules.last_spread;
        asked.is_none_or(|role| role.has_picture() && !problem.has_pictures())
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(RIGHT, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Roles
    }

    fn read_on(&self, memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        let Some(asked) = reading.problem.rules.last_spread else {
            return (Verdict::KEPT, memory);
        };
        let before = match memory {
            // Asked for blank, only the last spread counts.
            WRONG | PAST if reading.begins_spread() && asked == Role::Blank => RIGHT,
            WRONG if reading.begins_spread() => PAST,
            before => before,
        };
        let memory = match reading.role {
            Role::Blank => before,
            role if role == asked && before != WRONG => RIGHT,
            _ => WRONG,
        };
        let ends = reading.panel + 1 == reading.problem.panels.len();
        let verdict = match ends && memory != RIGHT {
            true => Verdict::broken(COST),
            false => Verdict::KEPT,
        };
        (verdict, memory)
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "the last spread of each part is as `last-spread` asks".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "ends its part with another spread than `last-spread` asks",
            "end their parts with other spreads than `last-spread` asks",
        ))
    }
}
