//! `fewest-lines`: the fewest verse lines of a divided stanza on either panel.

use super::{Rule, Verdict};
use crate::panels::{Reading, RowFacts};
use crate::plan::RuleName;

/// What each piece with fewer lines costs where the rule is made soft.
const COST: u64 = 100;

pub(super) struct FewestLines;

impl Rule for FewestLines {
    fn name(&self) -> RuleName {
        RuleName::FewestLines
    }

    fn read(&self, reading: &Reading<'_>) -> Verdict {
        if !reading.has_words() {
            return Verdict::KEPT;
        }
        let problem = reading.problem;
        let rows = &problem.rows[reading.from..reading.to];
        let fewest = problem.rules.fewest_lines as usize;
        let (first, last) = (&rows[0], &rows[rows.len() - 1]);
        let of = |block: usize| move |row: &&RowFacts| row.block == block && row.verse;
        let at_head = rows.iter().take_while(of(first.block)).count();
        let at_foot = rows.iter().rev().take_while(of(last.block)).count();
        let head_short = problem.divides_stanza(reading.from) && at_head < fewest;
        let foot_short = problem.divides_stanza(reading.to) && at_foot < fewest;
        // A stanza that both begins above and goes on below is one piece, not two.
        let one_piece = at_head == rows.len() && head_short && foot_short;
        match u64::from(head_short) + u64::from(foot_short) - u64::from(one_piece) {
            0 => Verdict::KEPT,
            short => Verdict::broken(short * COST),
        }
    }
}
