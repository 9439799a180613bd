//! `blanks`: how many panels of a part stay blank, and where.
//!
//! At the start, the run of blank panels that begins the part is counted; at the end, the run that ends it;
//! anywhere, all blank panels. Each that is too few or too many costs 80, and so does each blank panel outside
//! the run. A part that has no more panels than should stay blank is not asked.
//!
//! The rule remembers how many blank panels it has counted so far, up to the number asked; at the start, one more
//! stands for a run that has ended. What is too many is charged at once: at the end it costs the same whether the
//! run goes on to the last panel or not.

use super::{Memory, Remembers, Rule, Verdict};
use crate::division::{PanelView, Problem};
use crate::names::Role;
use crate::plan::{Blanks, BlanksAt, RuleName};

/// What each panel more or less costs.
const COST: u64 = 80;

pub(super) struct BlanksRule;

impl Rule for BlanksRule {
    fn name(&self) -> RuleName {
        RuleName::Blanks
    }

    fn idle(&self, problem: &Problem) -> bool {
        let asked = problem.rules.blanks;
        asked.is_none_or(|asked| problem.panels.len() <= usize::from(asked.count))
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self) -> Remembers {
        Remembers::Roles
    }

    fn read_on(&self, memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        let problem = reading.problem;
        let Some(asked) = problem.rules.blanks.filter(|_| !self.idle(problem)) else {
            return (Verdict::KEPT, memory);
        };
        let blank = reading.role == Role::Blank;
        let (mut wrong, memory) = go_on(asked, memory as u64, blank);
        let count = u64::from(asked.count);
        if reading.panel + 1 == problem.panels.len() {
            // A run at the start that has ended has been paid for.
            wrong += count.saturating_sub(memory);
        }
        let verdict = match wrong {
            0 => Verdict::KEPT,
            wrong => Verdict::broken(COST * wrong),
        };
        (verdict, Memory::from(memory))
    }
}

/// How many blank panels too few or too many one panel more makes certain, and what is remembered then.
fn go_on(asked: Blanks, counted: u64, blank: bool) -> (u64, u64) {
    let count = u64::from(asked.count);
    match (asked.at, blank) {
        (BlanksAt::Start, false) if counted <= count => (count - counted, count + 1),
        (BlanksAt::End, false) => (counted, 0),
        (_, true) if counted < count => (0, counted + 1),
        (_, true) => (1, counted),
        (_, false) => (0, counted),
    }
}
