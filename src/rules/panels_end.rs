//! `panels-end`: what panels with words end with: a paragraph, a sentence or a stanza.
//!
//! A panel whose words are not the last of the part should end where a paragraph, a sentence or a stanza does; captions
//! are looked through. How much that is worth is said by `white`: a panel may stay so much emptier than it should be,
//! in percentage points of its text area, before it is better to let it end otherwise. So one that ends otherwise costs
//! what so many points of fullness cost, white² ÷ 10: with the usual 35 % that is 122. Asked for sentences, a pause at
//! the panel's end, a comma or a dash, costs half of that. The author's own `[new panel]` costs nothing, and her `[may
//! divide]` no more than 20. A paragraph is prose and a stanza is verse; neither asks anything of the other.

use super::{
    About, Asks, Clause, Declared, Ending, Entry, Form, Group, Judges, PanelView, Percent, Piece,
    Problem, Rule, Rules, Shown, Verdict,
};

/// What an end costs at most that the author says may be there.
const MAY_DIVIDE: u64 = 20;
/// With less white than this, an end elsewhere would cost nothing.
const LEAST: Percent = Percent(5);

/// What panels with words end with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct PanelsEnd {
    /// With what.
    pub at: PanelEnd,
    /// How much emptier than it should be a panel may stay for it.
    pub white: Percent,
}

impl PanelsEnd {
    /// What is asked where neither is said.
    const USUAL: PanelsEnd = PanelsEnd {
        at: PanelEnd::Paragraph,
        white: Percent(35),
    };
}

/// Where a panel with words may well end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PanelEnd {
    /// Where a paragraph of prose ends.
    Paragraph,
    /// Where a sentence ends.
    Sentence,
    /// Where a stanza of verse ends.
    Stanza,
}

pub struct PanelsEndRule;

impl Declared for PanelsEndRule {
    const ABOUT: About = About {
        name: "panels-end",
        group: Group::Bounds,
        hard: false,
        judges: Judges::Words,
        words: "What panels with words end with, and how much white at their foot that is worth.",
    };
}

/// What words alone ask.
type Asked = Option<PanelsEnd>;

impl Asks for PanelsEndRule {
    type Asked = Asked;
    const UNLESS_SAID: Asked = None;
    const FORM: Form<Asked> = Form::WordsOrTable(
        &[
            ("paragraph", |asked| *asked = usual(PanelEnd::Paragraph)),
            ("sentence", |asked| *asked = usual(PanelEnd::Sentence)),
            ("stanza", |asked| *asked = usual(PanelEnd::Stanza)),
        ],
        || Some(PanelsEnd::USUAL),
        &[
            Entry {
                key: "at",
                words: "What they end with: a paragraph, a sentence, or a stanza.",
                form: Form::Words(&[
                    ("paragraph", |asked| at(asked, PanelEnd::Paragraph)),
                    ("sentence", |asked| at(asked, PanelEnd::Sentence)),
                    ("stanza", |asked| at(asked, PanelEnd::Stanza)),
                ]),
            },
            Entry {
                key: "white",
                words: "How much emptier than it should be a panel may stay for it, before it ends elsewhere.",
                form: Form::Share(Piece {
                    get: |asked| asked.unwrap_or(PanelsEnd::USUAL).white,
                    set: |asked, white| asked.get_or_insert(PanelsEnd::USUAL).white = white,
                }),
            },
        ],
    );
    const SHOWN: Shown<Asked> = Shown::Example(
        usual(PanelEnd::Sentence),
        "\"paragraph\", \"stanza\"; or { at = \"sentence\", white = \"30 %\" },\n\
         how much white that is worth",
    );

    fn contradiction(asked: &Asked) -> Option<String> {
        let little = asked.filter(|asked| asked.white < LEAST);
        little.map(|asked| {
            format!(
                "`white` is {} %, so little that `panels-end` asks for nothing: {} % is the least",
                asked.white.0, LEAST.0
            )
        })
    }
}

const fn usual(at: PanelEnd) -> Asked {
    Some(PanelsEnd {
        at,
        ..PanelsEnd::USUAL
    })
}

fn at(asked: &mut Asked, at: PanelEnd) {
    asked.get_or_insert(PanelsEnd::USUAL).at = at;
}

impl Rule for PanelsEndRule {
    fn idle(&self, problem: &Problem) -> bool {
        let Some(asked) = problem.rules.panels_end else {
            return true;
        };
        match asked.at {
            PanelEnd::Paragraph => !problem.rows.iter().any(|row| row.prose),
            PanelEnd::Stanza => !problem.rows.iter().any(|row| row.verse),
            PanelEnd::Sentence => false,
        }
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        let (problem, to) = (reading.problem, reading.to);
        let around = problem.around(to).filter(|_| reading.has_words());
        let (Some(asked), Some((above, _))) = (problem.rules.panels_end, around) else {
            return Verdict::KEPT;
        };
        let ending = problem.rows[above].ending;
        let ends = match asked.at {
            PanelEnd::Paragraph => !problem.within_paragraph(to),
            PanelEnd::Stanza => !problem.within_stanza(to),
            PanelEnd::Sentence => ending == Ending::Sentence,
        };
        if ends || problem.author_divides(to) {
            return Verdict::KEPT;
        }
        let white = u64::from(asked.white.0);
        let cost = match (asked.at, ending) {
            (PanelEnd::Sentence, Ending::Pause) => white * white / 10 / 2,
            _ => white * white / 10,
        };
        Verdict::broken(match problem.may_divide_at(to) {
            true => cost.min(MAY_DIVIDE),
            false => cost,
        })
    }

    fn in_words(&self, rules: &Rules) -> String {
        let asked = match rules.panels_end.map(|asked| asked.at) {
            None => "panels end anywhere",
            Some(PanelEnd::Paragraph) => "panels end where paragraphs end",
            Some(PanelEnd::Sentence) => "panels end where sentences end",
            Some(PanelEnd::Stanza) => "panels end where stanzas end",
        };
        asked.to_string()
    }

    fn given_up(&self, rules: &Rules) -> Option<Clause> {
        Some(match rules.panels_end.map(|asked| asked.at) {
            None | Some(PanelEnd::Paragraph) => Clause::new(
                "ends within a paragraph, against `panels-end`",
                "end within paragraphs, against `panels-end`",
            ),
            Some(PanelEnd::Sentence) => Clause::new(
                "ends within a sentence, against `panels-end`",
                "end within sentences, against `panels-end`",
            ),
            Some(PanelEnd::Stanza) => Clause::new(
                "ends within a stanza, against `panels-end`",
                "end within stanzas, against `panels-end`",
            ),
        })
    }
}
