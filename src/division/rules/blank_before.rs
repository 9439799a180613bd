//! `blank-before`: pictures that come behind a blank panel.
//!
//! The panel before the first that such a picture stands on is blank, before it along the part's panels; each
//! picture of which that is not so, or that stands on the part's first panel, costs 80. The rule remembers whether
//! the panel before is blank.

use super::{Memory, Remembers, Rule, Verdict};
use crate::division::{PanelView, Problem};
use crate::names::Role;
use crate::plan::RuleName;

/// What a picture without its blank panel costs.
const COST: u64 = 80;

const BLANK: Memory = 1;

pub(super) struct BlankBefore;

impl Rule for BlankBefore {
    fn name(&self) -> RuleName {
        RuleName::BlankBefore
    }

    fn idle(&self, problem: &Problem) -> bool {
        !problem.pictures.iter().any(|picture| picture.blank_before)
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self) -> Remembers {
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
}
