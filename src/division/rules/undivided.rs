//! `undivided`: what is not divided between panels while it can be avoided.
//!
//! Where stanzas are divided, a reader cannot see that the stanza goes on when the sentence pauses there:
//! that costs more than where it runs on. Where sentences are divided it is the other way about: a comma
//! is a better place than none. The author's own `[may divide]` costs least.
//!
//! Captions are looked through: a division lies between words next to each other that stand on two panels, and
//! costs once though a panel with nothing but captions lies between. It is the author's own where her callout stands
//! anywhere between those words. Behind the last words nothing is divided, even if captions follow.

use super::{Rule, Verdict};
use crate::division::{Ending, PanelView, Problem};
use crate::plan::{self, RuleName};

const MAY_DIVIDE: u64 = 20;
const BETTER: u64 = 60;
const WORSE: u64 = 160;

pub(super) struct Undivided;

impl Rule for Undivided {
    fn name(&self) -> RuleName {
        RuleName::Undivided
    }

    fn idle(&self, problem: &Problem) -> bool {
        match problem.rules.undivided {
            plan::Undivided::Line => true,
            plan::Undivided::Stanza => !problem.rows.iter().any(|row| row.verse),
            plan::Undivided::Sentence => false,
        }
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        let problem = reading.problem;
        let around = problem.around(reading.to);
        let Some((above, _)) = around.filter(|_| reading.has_words()) else {
            return Verdict::KEPT;
        };
        let ending = problem.rows[above].ending;
        let cost = match (problem.rules.undivided, ending) {
            (plan::Undivided::Line, _) => return Verdict::KEPT,
            // The author's own word.
            _ if problem.author_divides(reading.to) => return Verdict::KEPT,
            (plan::Undivided::Stanza, _) if !problem.divides_stanza(reading.to) => {
                return Verdict::KEPT;
            }
            (plan::Undivided::Sentence, Ending::Sentence) => return Verdict::KEPT,
            _ if problem.may_divide_at(reading.to) => MAY_DIVIDE,
            (plan::Undivided::Stanza, Ending::RunsOn) => BETTER,
            (plan::Undivided::Stanza, _) => WORSE,
            (plan::Undivided::Sentence, Ending::Pause) => BETTER,
            (plan::Undivided::Sentence, Ending::RunsOn) => WORSE,
        };
        Verdict::broken(cost)
    }
}
