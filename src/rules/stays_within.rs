//! `stays-within`: a picture stays within the section of its words, or on their side of the paper.
//!
//! "section": no heading stands between a picture's first panel and its words. A section is the words of a part from one
//! heading to the next. The panel is within it where some of its words stand there, or where the last words before the
//! panel are of it and none stand there; before the first words of a part it is within theirs. Captions are looked
//! through. "side": a picture's first panel lies on the side of the paper of the panel of its words. Each picture that
//! stands elsewhere costs 100; one that no callout of the part names is not asked.
//!
//! For "side" the rule remembers of each that waits whether it began on the other side, and pays as soon as no panel of
//! the right side follows; it remembers no more than 128, for more wait in no book.

use super::waits::{pinned, waits};
use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelView, PictureFacts, Problem,
    Remembers, Rule, Rules, Shown, Verdict,
};

/// What a picture elsewhere costs.
const COST: u64 = 100;

/// What a picture stays within.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum StaysWithin {
    /// The section of its words.
    Section,
    /// Their side of the paper.
    Side,
}

pub struct StaysWithinRule;

impl Declared for StaysWithinRule {
    const ABOUT: About = About {
        name: "stays-within",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "What a picture stays within: the section of its words, or their side of the paper.",
    };
}

impl Asks for StaysWithinRule {
    type Asked = Option<StaysWithin>;
    const UNLESS_SAID: Option<StaysWithin> = None;
    const FORM: Form<Option<StaysWithin>> = Form::Words(&[
        ("section", |asked| *asked = Some(StaysWithin::Section)),
        ("side", |asked| *asked = Some(StaysWithin::Side)),
    ]);
    const SHOWN: Shown<Option<StaysWithin>> = Shown::Example(
        Some(StaysWithin::Section),
        "a picture, that of its words; or \"side\"",
    );
}

impl Rule for StaysWithinRule {
    fn idle(&self, problem: &Problem) -> bool {
        let one = match problem.rules.stays_within {
            None => true,
            Some(StaysWithin::Section) => problem.sections_between(0, problem.rows.len()) == 0,
            Some(StaysWithin::Side) => {
                let mut sides = problem.panels.windows(2);
                sides.all(|pair| pair[0].name.side == pair[1].name.side)
            }
        };
        let placed = |picture: &PictureFacts| {
            picture.word_row.is_some() && (picture.queued || picture.panel.is_some())
        };
        one || !problem.pictures.iter().any(placed)
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Words
    }

    fn read_on(&self, memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        let (outside, memory) = match reading.problem.rules.stays_within {
            None => (0, memory),
            Some(StaysWithin::Section) => (u64::from(outside_section(reading)), memory),
            Some(StaysWithin::Side) => {
                let (outside, memory) = off_side(memory, reading);
                (outside + pinned_off_side(reading), memory)
            }
        };
        let verdict = match outside {
            0 => Verdict::KEPT,
            outside => Verdict::broken(outside * COST),
        };
        (verdict, memory)
    }

    fn in_words(&self, rules: &Rules) -> String {
        let asked = match rules.stays_within {
            Some(StaysWithin::Side) => "a picture stays on the side of its words",
            Some(StaysWithin::Section) => "a picture stays in the section of its words",
            None => "a picture stays nowhere in particular",
        };
        asked.to_string()
    }

    fn given_up(&self, rules: &Rules) -> Option<Clause> {
        Some(match rules.stays_within {
            Some(StaysWithin::Side) => Clause::new(
                "leaves a picture on another side than its words, against `stays-within`",
                "leave pictures on other sides than their words, against `stays-within`",
            ),
            Some(StaysWithin::Section) | None => Clause::new(
                "has a picture of another section, against `stays-within`",
                "have pictures of other sections, against `stays-within`",
            ),
        })
    }
}

/// Whether what stands on a panel is printed, and goes before all rules.
fn exempt(problem: &Problem, panel: usize) -> bool {
    let passed = problem.panels[panel].passed;
    passed.is_some_and(|passed| passed.exempt)
}

/// Whether a picture begins here whose words are of no section that the panel lies in.
fn outside_section(reading: &PanelView<'_>) -> bool {
    let problem = reading.problem;
    if exempt(problem, reading.panel) {
        return false;
    }
    let begins = reading.picture.filter(|_| reading.begins_picture);
    let words = begins.and_then(|picture| problem.pictures[picture].word_row);
    let section = |row: usize| problem.rows[row].section;
    let last = problem.words_before(reading.to);
    let last = last.or_else(|| problem.words_from(reading.to));
    let (Some(words), Some(last)) = (words, last) else {
        return false;
    };
    let first = reading.first_words().unwrap_or(last);
    !(section(first)..=section(last)).contains(&section(words))
}

/// How many pictures that are pinned to panels of the other side have their words here.
fn pinned_off_side(reading: &PanelView<'_>) -> u64 {
    let problem = reading.problem;
    let side = |panel: usize| problem.panels[panel].name.side;
    let asked = pinned(reading).filter(|(_, panel)| !exempt(problem, *panel));
    let off = asked.filter(|(_, panel)| side(*panel) != side(reading.panel));
    off.count() as u64
}

/// How many of those that wait in the queue, pictures or words, are sure to meet on two sides, as far as it shows here;
/// and which of those that wait on began on another side than this panel lies on. One that is paid for is remembered as
/// if it had begun where it will be met.
fn off_side(memory: Memory, reading: &PanelView<'_>) -> (u64, Memory) {
    let panels = &reading.problem.panels;
    let here = panels[reading.panel].name.side;
    let before = reading.panel.checked_sub(1);
    let turned = before.is_some_and(|before| panels[before].name.side != here);
    let follow = &panels[reading.panel + 1..];
    let (same, other) = (
        follow.iter().any(|panel| panel.name.side == here),
        follow.iter().any(|panel| panel.name.side != here),
    );
    let (mut off, mut next, mut waiting) = (0, 0, 0);
    for wait in waits(reading) {
        let began = |number: usize| memory.checked_shr(number as u32).unwrap_or(0) & 1 == 1;
        let mut elsewhere = wait.since.is_some_and(|number| began(number) != turned);
        if wait.meets {
            off += u64::from(elsewhere);
            continue;
        }
        let right = if elsewhere { other } else { same };
        if !right {
            off += 1;
            elsewhere = !elsewhere;
        }
        let bit = Memory::from(elsewhere);
        next |= bit.checked_shl(waiting).unwrap_or(0);
        waiting += 1;
    }
    (off, next)
}
