//! `couplets`: stanzas of two or three lines are never divided.

use super::{Rule, Verdict};
use crate::panels::{Problem, Reading};
use crate::plan::RuleName;

/// What a divided couplet or tercet costs where the rule is made soft.
const COST: u64 = 160;

pub(super) struct Couplets;

impl Rule for Couplets {
    fn name(&self) -> RuleName {
        RuleName::Couplets
    }

    fn idle(&self, problem: &Problem) -> bool {
        !problem.rows.iter().any(|row| row.verse)
    }

    fn read(&self, reading: &Reading<'_>) -> Verdict {
        let problem = reading.problem;
        if !reading.has_words() || !problem.divides_stanza(reading.to) {
            return Verdict::KEPT;
        }
        let block = problem.rows[reading.to].block;
        let same = |row: &&crate::panels::RowFacts| row.block == block;
        let above = problem.rows[..reading.to]
            .iter()
            .rev()
            .take_while(same)
            .take(4)
            .count();
        let below = problem.rows[reading.to..]
            .iter()
            .take_while(same)
            .take(4)
            .count();
        if above + below <= 3 {
            Verdict::broken(COST)
        } else {
            Verdict::KEPT
        }
    }
}
