//! `undivided`: what is not divided between panels while it can be avoided.
//!
//! "stanza": a stanza that no panel has room for, with what must stand with it, may be divided, and no other for its
//! sake. Where one of up to 8 lines is divided, a reader cannot see that it goes on when the sentence pauses there:
//! that costs 160, and 60 where the sentence runs on. A longer one is a verse paragraph, of which nobody expects that
//! it ends with the panel: there the end of a sentence costs 60, a pause 110, and 160 where the sentence runs on.
//! "sentence": a panel that ends within a sentence costs 60 at a pause, for a comma is a better place than none, and
//! 160 where the sentence runs on; what ends a sentence is its mark, not a heading or the end of a stanza. "line": only
//! lines stay whole. Where a paragraph of prose is divided, "stanza" asks nothing. The author's own `[may divide]`
//! costs 20.
//!
//! Captions are looked through: a division lies between words next to each other that stand on two panels, and costs
//! once though a panel with nothing but captions lies between. It is the author's own where her callout stands anywhere
//! between those words. Behind the last words nothing is divided, even if captions follow.

use super::{
    About, Asks, Clause, Declared, Ending, Form, Group, Judges, PanelView, Problem, Rule, RuleName,
    Rules, Shown, Verdict,
};

const MAY_DIVIDE: u64 = 20;
const BETTER: u64 = 60;
const BETWEEN: u64 = 110;
const WORSE: u64 = 160;
/// A stanza with more lines is a verse paragraph.
const LONGEST_STANZA: usize = 8;

/// What is not divided while it can be avoided.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Undivided {
    /// Verse lines only: stanzas and sentences may be divided.
    Line,
    /// Sentences: panels end only at . ! ? or …
    Sentence,
    /// Stanzas.
    Stanza,
}

pub struct UndividedRule;

impl Declared for UndividedRule {
    const ABOUT: About = About {
        name: "undivided",
        group: Group::Bounds,
        hard: true,
        judges: Judges::Words,
        words: "What is not divided while it can be avoided.",
    };
}

impl Asks for UndividedRule {
    type Asked = Undivided;
    const UNLESS_SAID: Undivided = Undivided::Stanza;
    const FORM: Form<Undivided> = Form::Words(&[
        ("line", |asked| *asked = Undivided::Line),
        ("sentence", |asked| *asked = Undivided::Sentence),
        ("stanza", |asked| *asked = Undivided::Stanza),
    ]);
    const SHOWN: Shown<Undivided> = Shown::Usual("sentence, line");
}

impl Rule for UndividedRule {
    fn idle(&self, problem: &Problem) -> bool {
        match problem.rules.undivided {
            Undivided::Line => true,
            Undivided::Stanza => !problem.rows.iter().any(|row| row.verse),
            Undivided::Sentence => false,
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
            (Undivided::Line, _) => return Verdict::KEPT,
            // The author's own word goes before the rule.
            _ if problem.author_divides(reading.to) => return Verdict::KEPT,
            (Undivided::Stanza, _) if !problem.divides_stanza(reading.to) => {
                return Verdict::KEPT;
            }
            (Undivided::Sentence, Ending::Sentence) => return Verdict::KEPT,
            _ if problem.may_divide_at(reading.to) => MAY_DIVIDE,
            (Undivided::Stanza, ending) => of_stanza(problem, reading.to, ending),
            (Undivided::Sentence, Ending::Pause) => BETTER,
            (Undivided::Sentence, Ending::RunsOn) => WORSE,
        };
        let stanza = problem.rules.undivided == Undivided::Stanza;
        match stanza && may_divide(problem, above, reading.to) {
            true => Verdict::allowed(cost),
            false => Verdict::broken(cost),
        }
    }

    fn in_words(&self, rules: &Rules) -> String {
        let whole = match rules.undivided {
            Undivided::Line => "lines",
            Undivided::Sentence => "sentences",
            Undivided::Stanza => "stanzas",
        };
        format!("{whole} stay whole")
    }

    fn given_up(&self, rules: &Rules) -> Option<Clause> {
        Some(match rules.undivided {
            Undivided::Sentence => Clause::new(
                "ends within a sentence, against `undivided`",
                "end within sentences, against `undivided`",
            ),
            Undivided::Line | Undivided::Stanza => Clause::new(
                "ends within a stanza, against `undivided`",
                "end within stanzas, against `undivided`",
            ),
        })
    }
}

/// Whether the stanza of a row may be divided at a place: no panel has room for all of it, or a pin says that a panel
/// begins there. The author's `must` says that none may.
fn may_divide(problem: &Problem, row: usize, at: usize) -> bool {
    let must = problem.rules.weight(RuleName::Undivided).hard == Some(true);
    let pinned = || problem.panels.iter().any(|panel| panel.begins == Some(at));
    !must && (problem.rows[row].too_long || pinned())
}

/// What it costs to divide a stanza at a place.
fn of_stanza(problem: &Problem, at: usize, ending: Ending) -> u64 {
    let paragraph = problem.stanza_lines(at, LONGEST_STANZA) > LONGEST_STANZA;
    match (paragraph, ending) {
        (false, Ending::RunsOn) | (true, Ending::Sentence) => BETTER,
        (true, Ending::Pause) => BETWEEN,
        _ => WORSE,
    }
}
