//! `even-fullness`: a text panel is about as full as the text panel before it.
//!
//! Fullness is told in whole twentieths, rounded down. The difference to the text panel before, squared, is what a
//! panel costs; panels in other roles that stand between are passed over. The rule remembers the last text panel's
//! twentieths and one more, nought standing for none.

use super::{Memory, Remembers, Rule, Verdict};
use crate::division::{PanelView, Problem};
use crate::names::Role;
use crate::plan::RuleName;

pub(super) struct EvenFullness;

impl Rule for EvenFullness {
    fn name(&self) -> RuleName {
        RuleName::EvenFullness
    }

    fn idle(&self, problem: &Problem) -> bool {
        !problem.rules.even_fullness
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self) -> Remembers {
        Remembers::Words
    }

    fn read_on(&self, memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        if reading.role != Role::Text || !reading.problem.rules.even_fullness {
            return (Verdict::KEPT, memory);
        }
        let capacity = u64::from(reading.capacity).max(1);
        let here = u64::from(reading.used) * 20 / capacity;
        let verdict = match u64::try_from(memory).unwrap_or(u64::MAX).checked_sub(1) {
            Some(before) if before != here => {
                let apart = before.abs_diff(here);
                Verdict::broken(apart * apart)
            }
            _ => Verdict::KEPT,
        };
        (verdict, Memory::from(here) + 1)
    }
}
