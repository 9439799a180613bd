//! `each-panel`: what an ordinary panel of words carries: so many stanzas, or so many lines.
//!
//! Captions are no lines, and a stanza or paragraph with one in its middle is one. A panel with nothing but a picture
//! and its captions is no panel of words; every other one is asked, the first and the last as well. Each stanza or
//! paragraph more or less costs 90, one that goes on from the panel before or to the next counted as one here too;
//! lines cost the square of how many are off, times 10.

use super::{
    About, Asks, Clause, Counted, Declared, Form, Group, Judges, PanelView, Piece, Problem, Rule,
    Rules, Shown, Verdict,
};

/// What each stanza more or less costs.
const STANZA: u64 = 90;
/// What the square of each line more or less costs.
const LINE: u64 = 10;

/// What an ordinary panel with words carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum EachPanel {
    /// Whatever comes.
    Free,
    /// So many stanzas or paragraphs.
    Stanzas(u32),
    /// So many verse lines.
    Lines(u32),
}

pub struct EachPanelRule;

impl Declared for EachPanelRule {
    const ABOUT: About = About {
        name: "each-panel",
        group: Group::Amount,
        hard: false,
        judges: Judges::Room,
        words: "What an ordinary panel with words carries: \"free\", \"stanza\", \"3 stanzas\", or \"4 lines\".",
    };
}

impl Asks for EachPanelRule {
    type Asked = EachPanel;
    const UNLESS_SAID: EachPanel = EachPanel::Free;
    const FORM: Form<EachPanel> = Form::WordsOrCounts(
        &[
            ("free", |asked| *asked = EachPanel::Free),
            ("stanza", |asked| *asked = EachPanel::Stanzas(1)),
        ],
        &[
            Counted {
                one: "line",
                many: "lines",
                piece: Piece {
                    get: |asked| match asked {
                        EachPanel::Lines(lines) => Some(*lines),
                        _ => None,
                    },
                    set: |asked, lines| *asked = lines.map_or(*asked, EachPanel::Lines),
                },
            },
            Counted {
                one: "stanza",
                many: "stanzas",
                piece: Piece {
                    get: |asked| match asked {
                        EachPanel::Stanzas(stanzas) => Some(*stanzas),
                        _ => None,
                    },
                    set: |asked, stanzas| *asked = stanzas.map_or(*asked, EachPanel::Stanzas),
                },
            },
        ],
    );
    const SHOWN: Shown<EachPanel> = Shown::Usual("\"stanza\", \"3 stanzas\", \"4 lines\"");
}

impl Rule for EachPanelRule {
    fn idle(&self, problem: &Problem) -> bool {
        problem.rules.each_panel == EachPanel::Free
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        if !reading.has_words() {
            return Verdict::KEPT;
        }
        let (off, cost) = match reading.problem.rules.each_panel {
            EachPanel::Free => return Verdict::KEPT,
            EachPanel::Stanzas(asked) => {
                let off = reading.stanzas().abs_diff(u64::from(asked));
                (off, off * STANZA)
            }
            EachPanel::Lines(asked) => {
                let off = reading.lines().abs_diff(u64::from(asked));
                (off, off * off * LINE)
            }
        };
        Verdict {
            broken: off > 0,
            cost,
        }
    }

    fn in_words(&self, rules: &Rules) -> String {
        match rules.each_panel {
            EachPanel::Free => "each panel carries what comes".to_string(),
            EachPanel::Stanzas(1) => "each panel carries one stanza".to_string(),
            EachPanel::Stanzas(stanzas) => format!("each panel carries {stanzas} stanzas"),
            EachPanel::Lines(lines) => format!("each panel carries {lines} lines"),
        }
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "carries more or less than `each-panel` asks",
            "carry more or less than `each-panel` asks",
        ))
    }
}
