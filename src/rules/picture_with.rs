//! `picture-with`: on which spread a picture stands, counted from that of its words.
//!
//! Spreads are counted over the whole strip in the order of leafing. The spread of the first panel of the picture
//! minus that of the panel of its words is 0 (the same spread) or 1 (the next); each picture of which that is not
//! so costs 120. The rule remembers, for each that waits, the spread on which the other must come. One that can no
//! longer be met there is paid for at once and forgotten, and so is one that has twelve others to wait for first:
//! that many wait only where a part runs to and fro over the strip.

use super::waits::{Wait, pinned, waits};
use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelView, PictureFacts, Problem,
    Remembers, Rule, Rules, Shown, Verdict,
};

/// What a picture on another spread costs.
const COST: u64 = 120;
/// Bits for the spread on which one that waits is to be met, counted from 1; nought for one that is paid for.
const BITS: u32 = 10;
/// How many are remembered.
const MOST: usize = (Memory::BITS / BITS) as usize;

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
        !problem.pictures.iter().any(|picture| {
            let placed = picture.queued || picture.panel.is_some();
            placed && picture.word_row.is_some() && picture.with.is_some()
        })
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Words
    }

    fn read_on(&self, memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        let mut apart = pinned_apart(reading);
        let mut next = 0;
        let mut waiting = 0;
        for wait in waits(reading) {
            let awaited = match wait.since {
                Some(number) => remembered(memory, number),
                None => awaited(&wait, reading),
            };
            let here = reading.problem.panels[reading.panel].spread as i64;
            if wait.meets {
                apart += u64::from(awaited.is_some_and(|spread| spread != here));
                continue;
            }
            match awaited {
                Some(spread) if may_meet(spread, &wait, waiting, reading) => {
                    next |= (spread as Memory + 1) << (BITS * waiting as u32);
                }
                Some(_) => apart += 1,
                None => {}
            }
            waiting += 1;
        }
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

/// How many spreads after its words a picture stands; nothing where that is not asked, as of a picture of a part
/// without words.
fn asked(picture: &PictureFacts) -> Option<i64> {
    picture.word_row?;
    Some(match picture.with? {
        PictureWith::SameSpread => 0,
        PictureWith::NextSpread => 1,
    })
}

/// How many pictures stand on another spread than is asked that are pinned to a panel of the part and whose words
/// stand here.
fn pinned_apart(reading: &PanelView<'_>) -> u64 {
    let panels = &reading.problem.panels;
    let spread = |panel: usize| panels[panel].spread as i64;
    let apart = pinned(reading).filter(|&(picture, panel)| {
        asked(picture).is_some_and(|more| spread(panel) - spread(reading.panel) != more)
    });
    apart.count() as u64
}

/// The spread on which the one that comes later is to be met; one before the first is none that there is.
fn awaited(wait: &Wait<'_>, reading: &PanelView<'_>) -> Option<i64> {
    let here = reading.problem.panels[reading.panel].spread as i64;
    let more = asked(wait.picture)?;
    Some(match wait.picture_first {
        true => here - more,
        false => here + more,
    })
}

/// Whether one that waits behind so many others can still be met on a spread. A panel has the words of many
/// pictures, but only one picture.
fn may_meet(spread: i64, wait: &Wait<'_>, others: usize, reading: &PanelView<'_>) -> bool {
    let soonest = reading.panel + 1 + if wait.picture_first { 0 } else { others };
    let mut panels = reading.problem.panels.iter().skip(soonest);
    others < MOST && panels.any(|panel| panel.spread as i64 == spread)
}

/// The spread on which the one of that number among those that wait is to be met; nothing for one that is paid for.
fn remembered(memory: Memory, number: usize) -> Option<i64> {
    let kept = memory.checked_shr(BITS * number as u32).unwrap_or(0);
    let spread = (kept & ((1 << BITS) - 1)) as i64;
    (spread > 0).then_some(spread - 1)
}
