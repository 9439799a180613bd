//! `chosen-breaks`: panels carry what the author chose for them.
//!
//! As many panels as can be stay as they were chosen, before any other rule that costs is asked. A panel whose own
//! words have been corrected changes in any case: of it only its end, its role and its picture are counted. A panel
//! that does not carry what was chosen costs 1, 1 000 000 more unless its words have been corrected, 100 000 more where
//! it ends elsewhere, and 100 000 more where it has another role or picture.

use super::{About, Clause, Declared, Group, Judges, PanelView, Problem, Rule, Rules, Verdict};
use crate::names::Role;

/// What each panel costs that carries something else though none of its words have changed: more than all other rules
/// together ask of a long strip.
const UNTOUCHED: u64 = 1_000_000;
/// What each end, and each role with its picture, costs that is not as chosen.
const EACH: u64 = 100_000;

pub struct ChosenBreaks;

impl Declared for ChosenBreaks {
    const ABOUT: About = About {
        name: "chosen-breaks",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "Panels carry what the author chose for them.",
    };
}

impl Rule for ChosenBreaks {
    fn idle(&self, problem: &Problem) -> bool {
        !problem.panels.iter().any(|panel| panel.chosen.is_some())
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        let Some(chosen) = &reading.problem.panels[reading.panel].chosen else {
            return Verdict::KEPT;
        };
        let (from, to) = (reading.from, reading.to);
        let (begins, ends) = match &chosen.words {
            Some(words) => (words.may_begin(from), words.may_end(to) && to > from),
            None => (true, to == from),
        };
        // Where a picture without a name was chosen, any may stand: it may have been named since.
        let any = chosen.role == Role::Picture && chosen.picture.is_none();
        let picture = any || chosen.picture == reading.picture;
        let carries = chosen.role == reading.role && picture;
        if begins && ends && carries {
            return Verdict::KEPT;
        }
        let untouched = if chosen.touched { 0 } else { UNTOUCHED };
        let each = u64::from(!ends) + u64::from(!carries);
        Verdict::broken(untouched + each * EACH + 1)
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "panels carry what you chose for them".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "could not stay as it was chosen; all other panels do (`flow --keep` would keep it so)",
            "could not stay as they were chosen; all other panels do (`flow --keep` would keep it so)",
        ))
    }
}
