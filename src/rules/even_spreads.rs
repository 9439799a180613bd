//! `even-spreads`: the two panels of a spread are about equally full.
//!
//! Asked are two panels of one spread that follow each other in the part and carry alike: both words alone, or both
//! words and a picture, for words beside a picture should be less full than words alone anyway. Fullness is told in
//! whole percentage points, rounded down, and *d* of them between the two cost d² ÷ 10, as every other fullness does.
//! The rule remembers how full the spread's first panel is, until the second.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelView, Problem, Remembers,
    Rule, Rules, Shown, Verdict,
};
use crate::names::Role;

/// The first panel of the spread is not asked, or there is none.
const NONE: Memory = 0;

pub struct EvenSpreads;

impl Declared for EvenSpreads {
    const ABOUT: About = About {
        name: "even-spreads",
        group: Group::Order,
        hard: false,
        judges: Judges::Room,
        words: "Whether the two panels of a spread that carry words should be about as full as each other.",
    };
}

impl Asks for EvenSpreads {
    type Asked = bool;
    const UNLESS_SAID: bool = false;
    const FORM: Form<bool> = Form::SWITCH;
    const SHOWN: Shown<bool> = Shown::Usual("true: words as full on both panels of a spread");
}

impl Rule for EvenSpreads {
    fn idle(&self, problem: &Problem) -> bool {
        let panels = &problem.panels;
        let face = |pair: &[super::PanelFacts]| pair[0].spread == pair[1].spread;
        !problem.rules.even_spreads || !panels.windows(2).any(face)
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(NONE, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Words
    }

    fn read_on(&self, before: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        if !reading.has_words() {
            return (Verdict::KEPT, NONE);
        }
        let here = u64::from(reading.used) * 100 / u64::from(reading.capacity).max(1);
        let alike = Memory::from(reading.role == Role::Shared);
        let verdict = match before.checked_sub(1) {
            Some(first) if first & 1 == alike => {
                let first = u64::try_from(first >> 1).unwrap_or(u64::MAX);
                Verdict::points_off(first.abs_diff(here))
            }
            _ => Verdict::KEPT,
        };
        let memory = match reading.spread_goes_on() {
            true => 1 + (Memory::from(here) << 1 | alike),
            false => NONE,
        };
        (verdict, memory)
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "both panels of a spread are as full of words".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause {
            // A fifth of the text area, twenty points, can be seen at a glance.
            from: 40,
            ..Clause::new(
                "is a good deal fuller or emptier than the panel that it faces",
                "are a good deal fuller or emptier than the panels that they face",
            )
        })
    }
}
