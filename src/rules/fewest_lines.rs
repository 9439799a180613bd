//! `fewest-lines`: the fewest lines of a divided stanza or paragraph on either panel.
//!
//! Captions are no lines, and none parts a stanza or paragraph: the lines above and below one count together where they
//! stand on one panel. Where the rule may give way, each end of a panel that has fewer costs 100; where all its words
//! are of one stanza or paragraph that both begins above and goes on below, the two ends count once.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, PanelView, Rule, Rules, Shown, Verdict,
};

/// What each piece with fewer lines costs where the rule is made soft.
const COST: u64 = 100;

pub struct FewestLines;

impl Declared for FewestLines {
    const ABOUT: About = About {
        name: "fewest-lines",
        group: Group::Bounds,
        hard: true,
        judges: Judges::Words,
        words: "The fewest lines of a divided stanza or paragraph on either panel.",
    };
}

impl Asks for FewestLines {
    type Asked = u32;
    const UNLESS_SAID: u32 = 2;
    const FORM: Form<u32> = Form::whole(1, 20);
    const SHOWN: Shown<u32> = Shown::Usual("");
}

impl Rule for FewestLines {
    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        if !reading.has_words() {
            return Verdict::KEPT;
        }
        let problem = reading.problem;
        let fewest = u64::from(problem.rules.fewest_lines);
        let divides = |at: usize| problem.divides_stanza(at) || problem.divides_paragraph(at);
        let head_short = divides(reading.from) && reading.lines_at_head(fewest) < fewest;
        let foot_short = divides(reading.to) && reading.lines_at_foot(fewest) < fewest;
        // A stanza or paragraph that both begins above and goes on below is one piece, not two.
        let text = problem.rows[reading.from..reading.to].iter();
        let mut text = text.filter(|row| row.caption.is_none());
        let first = text.next().map(|row| row.block);
        let one_piece = head_short && foot_short && text.all(|row| Some(row.block) == first);
        match u64::from(head_short) + u64::from(foot_short) - u64::from(one_piece) {
            0 => Verdict::KEPT,
            short => Verdict::broken(short * COST),
        }
    }

    fn in_words(&self, rules: &Rules) -> String {
        format!(
            "a divided stanza or paragraph leaves at least {} lines on a panel",
            rules.fewest_lines
        )
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "has fewer lines of a divided stanza or paragraph than `fewest-lines` asks",
            "have fewer lines of a divided stanza or paragraph than `fewest-lines` asks",
        ))
    }
}
