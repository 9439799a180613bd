//! `couplets`: stanzas of two or three lines are never divided.
//!
//! Captions are no lines of a stanza: one that stands within it neither makes it longer nor divides it. It is
//! divided where lines next to each other stand on two panels, with or without a caption's panel between. Where the
//! rule may give way, each division costs 160.

use super::{
    About, Clause, Declared, Group, Judges, PanelView, Problem, RowFacts, Rule, Rules, Verdict,
};

/// What a divided couplet or tercet costs where the rule is made soft.
const COST: u64 = 160;

pub struct Couplets;

impl Declared for Couplets {
    const ABOUT: About = About {
        name: "couplets",
        group: Group::Bounds,
        hard: true,
        judges: Judges::Words,
        words: "Stanzas of two or three lines are not divided.",
    };
}

impl Rule for Couplets {
    fn idle(&self, problem: &Problem) -> bool {
        !problem.rows.iter().any(|row| row.verse)
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        let problem = reading.problem;
        if !reading.has_words() || !problem.divides_stanza(reading.to) {
            return Verdict::KEPT;
        }
        let text = |row: &&RowFacts| row.caption.is_none();
        let lines = |rows: &mut dyn Iterator<Item = &RowFacts>| {
            let mut text = rows.filter(text).peekable();
            let block = text.peek().map(|row| row.block);
            let same = text.take_while(|row| Some(row.block) == block);
            same.take(4).count()
        };
        let (above, below) = problem.rows.split_at(reading.to);
        let (above, below) = (lines(&mut above.iter().rev()), lines(&mut below.iter()));
        if above + below <= 3 {
            Verdict::broken(COST)
        } else {
            Verdict::KEPT
        }
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "couplets and tercets stay whole".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "ends within a stanza of two or three lines",
            "end within stanzas of two or three lines",
        ))
    }
}
