//! `even-fullness`: a text panel is about as full as the text panel before it.
//!
//! Fullness is told in whole percentage points, rounded down. A panel that is *d* of them off the text panel before
//! costs d² ÷ 10, as every other fullness does; panels in other roles that stand between are passed over. The rule
//! remembers the last text panel's points and one more, nought standing for none.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelView, Problem, Remembers,
    Rule, Rules, Shown, Verdict,
};
use crate::names::Role;

pub struct EvenFullness;

impl Declared for EvenFullness {
    const ABOUT: About = About {
        name: "even-fullness",
        group: Group::Order,
        hard: false,
        judges: Judges::Room,
        words: "Whether panels of words should be about as full as the one before.",
    };
}

impl Asks for EvenFullness {
    type Asked = bool;
    const UNLESS_SAID: bool = false;
    const FORM: Form<bool> = Form::SWITCH;
    const SHOWN: Shown<bool> =
        Shown::Usual("true: panels of words about as full as the one before");
}

impl Rule for EvenFullness {
    fn idle(&self, problem: &Problem) -> bool {
        !problem.rules.even_fullness
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Words
    }

    fn read_on(&self, memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        if reading.role != Role::Text || !reading.problem.rules.even_fullness {
            return (Verdict::KEPT, memory);
        }
        let capacity = u64::from(reading.capacity).max(1);
        let here = u64::from(reading.used) * 100 / capacity;
        let verdict = match u64::try_from(memory).unwrap_or(u64::MAX).checked_sub(1) {
            Some(before) => Verdict::points_off(before.abs_diff(here)),
            None => Verdict::KEPT,
        };
        (verdict, Memory::from(here) + 1)
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "panels of words are as full as the one before".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause {
            // A fifth of the text area, twenty points, can be seen at a glance.
            from: 40,
            ..Clause::new(
                "is a good deal fuller or emptier than the panel of words before it",
                "are a good deal fuller or emptier than the panel of words before them",
            )
        })
    }
}
