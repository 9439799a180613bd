//! `headings-begin`: where headings begin.
//!
//! "panel": no words stand above a heading on its panel. "spread": besides, no words and no picture of another section
//! stand on its spread before its panel; a blank panel may, and so may a picture of its own section or one that no
//! callout names. A section is the words of a part from one heading to the next; the first of a part is not asked, and
//! captions are no words here. Each heading that begins otherwise costs 100 where panels are asked for, 120 where
//! spreads are.
//!
//! For "spread" the rule remembers what stands on the spread so far; for "panel" it remembers nothing.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelView, Problem, Remembers,
    Rule, Rules, Shown, Verdict,
};

/// What each heading costs that does not begin its panel, and what one that does not begin its spread.
const PANEL: u64 = 100;
const SPREAD: u64 = 120;

/// Nothing stands on the spread yet that belongs to a section.
const NOTHING: Memory = 0;
/// Words do, or pictures of several sections.
const WORDS: Memory = 1;
/// A picture does: of section 0, and so on.
const PICTURE: Memory = 2;

/// Where headings begin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HeadingsBegin {
    /// Wherever they come.
    Anywhere,
    /// At the head of a panel.
    Panel,
    /// At the head of a spread.
    Spread,
}

pub struct HeadingsBeginRule;

impl Declared for HeadingsBeginRule {
    const ABOUT: About = About {
        name: "headings-begin",
        group: Group::Bounds,
        hard: false,
        judges: Judges::Words,
        words: "Where headings begin: anywhere, at the head of a panel, or on a spread that no words of another section share.",
    };
}

impl Asks for HeadingsBeginRule {
    type Asked = HeadingsBegin;
    const UNLESS_SAID: HeadingsBegin = HeadingsBegin::Anywhere;
    const FORM: Form<HeadingsBegin> = Form::Words(&[
        ("anywhere", |asked| *asked = HeadingsBegin::Anywhere),
        ("panel", |asked| *asked = HeadingsBegin::Panel),
        ("spread", |asked| *asked = HeadingsBegin::Spread),
    ]);
    const SHOWN: Shown<HeadingsBegin> =
        Shown::Usual("headings wherever they come; or \"panel\", \"spread\"");
}

impl Rule for HeadingsBeginRule {
    fn idle(&self, problem: &Problem) -> bool {
        let sections = problem.sections_between(0, problem.rows.len());
        problem.rules.headings_begin == HeadingsBegin::Anywhere || sections == 0
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        verdict(reading, reading.headings_below_words())
    }

    fn remembers(&self, problem: &Problem) -> Remembers {
        match problem.rules.headings_begin {
            HeadingsBegin::Spread => Remembers::Words,
            HeadingsBegin::Anywhere | HeadingsBegin::Panel => Remembers::Nothing,
        }
    }

    fn read_on(&self, before: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        if reading.problem.rules.headings_begin != HeadingsBegin::Spread {
            return (self.read(reading), NOTHING);
        }
        let first = reading
            .begins_section()
            .is_some_and(|section| before != NOTHING && before != PICTURE + section as Memory);
        let headings = reading.headings_below_words() + u64::from(first);
        let here = stands(reading);
        let next = match before {
            _ if !reading.spread_goes_on() => NOTHING,
            NOTHING => here,
            before if here == NOTHING || here == before => before,
            _ => WORDS,
        };
        (verdict(reading, headings), next)
    }

    fn in_words(&self, rules: &Rules) -> String {
        let asked = match rules.headings_begin {
            HeadingsBegin::Anywhere => "headings begin anywhere",
            HeadingsBegin::Panel => "headings begin their panels",
            HeadingsBegin::Spread => "headings begin their spreads",
        };
        asked.to_string()
    }

    fn given_up(&self, rules: &Rules) -> Option<Clause> {
        Some(match rules.headings_begin {
            HeadingsBegin::Spread => Clause::new(
                "has a heading that does not begin its spread, against `headings-begin`",
                "have headings that do not begin their spreads, against `headings-begin`",
            ),
            HeadingsBegin::Anywhere | HeadingsBegin::Panel => Clause::new(
                "has a heading below other words, against `headings-begin`",
                "have headings below other words, against `headings-begin`",
            ),
        })
    }
}

/// So many headings begin otherwise than is asked.
fn verdict(reading: &PanelView<'_>, headings: u64) -> Verdict {
    let each = match reading.problem.rules.headings_begin {
        HeadingsBegin::Anywhere => return Verdict::KEPT,
        HeadingsBegin::Panel => PANEL,
        HeadingsBegin::Spread => SPREAD,
    };
    match headings {
        0 => Verdict::KEPT,
        headings => Verdict::broken(headings * each),
    }
}

/// What stands on the panel that belongs to a section.
fn stands(reading: &PanelView<'_>) -> Memory {
    let problem = reading.problem;
    if reading.first_words().is_some() {
        return WORDS;
    }
    let picture = reading.picture.map(|picture| &problem.pictures[picture]);
    let row = picture.and_then(|picture| picture.word_row);
    row.map_or(NOTHING, |row| PICTURE + problem.rows[row].section as Memory)
}
