//! `picture-with`: on which spread a picture stands, counted from that of its words.
//!
//! Spreads are counted over the whole strip in the order of leafing. The spread of the first panel of the picture
//! minus that of the panel of its words is 0 (the same spread) or 1 (the next); each picture of which that is not
//! so costs 120. `spreads_after` counts them.

use super::spreads_after::{asked_of_any, spreads_amiss};
use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelView, PictureFacts, Problem,
    Remembers, Rule, Rules, Shown, Verdict,
};

/// What a picture on another spread costs.
const COST: u64 = 120;
/// On which spread a picture stands, counted from that of its words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PictureWith {
    /// On the spread of its words.
    SameSpread,
    /// On the spread after it.
    NextSpread,
}

/// The rule of the spread on which pictures stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PictureWithRule;

impl Declared for PictureWithRule {
    const ABOUT: About = About {
        name: "picture-with",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "On which spread a picture stands, counted from that of its words.",
    };
}

impl Asks for PictureWithRule {
    type Asked = Option<PictureWith>;
    const UNLESS_SAID: Option<PictureWith> = None;
    const FORM: Form<Option<PictureWith>> = Form::Words(&[
        ("same-spread", |asked| {
            *asked = Some(PictureWith::SameSpread)
        }),
        ("next-spread", |asked| {
            *asked = Some(PictureWith::NextSpread)
        }),
    ]);
    const SHOWN: Shown<Option<PictureWith>> = Shown::Example(
        Some(PictureWith::SameSpread),
        "as its words; or \"next-spread\"",
    );
}

impl Rule for PictureWithRule {
    fn idle(&self, problem: &Problem) -> bool {
        !asked_of_any(problem, asked)
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Words
    }

    fn read_on(&self, memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        let (apart, next) = spreads_amiss(memory, reading, asked);
        let verdict = match apart {
            0 => Verdict::KEPT,
            apart => Verdict::broken(apart * COST),
        };
        (verdict, next)
    }

    fn in_words(&self, rules: &Rules) -> String {
        let spread = match rules.picture_with {
            Some(PictureWith::NextSpread) => "the spread after its words",
            _ => "the spread of its words",
        };
        format!("a picture stands on {spread}")
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "leaves a picture on another spread than `picture-with` asks",
            "leave pictures on other spreads than `picture-with` asks",
        ))
    }
}

/// How many spreads after its words a picture stands; nothing where that is not asked.
fn asked(picture: &PictureFacts) -> Option<i64> {
    Some(match picture.with? {
        PictureWith::SameSpread => 0,
        PictureWith::NextSpread => 1,
    })
}
