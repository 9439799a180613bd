//! `show-through`: no words stand behind a heavy picture.
//!
//! A picture is heavy where the plan says so (`heavy = true`): its ink shows through the paper. "avoided": each panel
//! with words behind which a heavy picture stands, on the other side of the paper, costs 100. A title counts as words, a
//! caption under a picture alone does not. "allowed": nothing is asked. What another part or a pin puts behind a panel
//! costs the same, but even a rule that must hold then gives way.
//!
//! The rule remembers of each earlier panel of the part behind which one of its later panels lies, up to 64 of them,
//! whether it carries a heavy picture, and, while a heavy picture may still come behind it, whether it carries words.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelView, PictureFacts, Problem,
    Remembers, Rule, Rules, Shown, Verdict,
};
use crate::names::{PanelName, Role};

/// What each panel of words costs behind a heavy picture.
const COST: u64 = 100;
/// More earlier panels than this are not remembered.
pub const MOST_FACING: usize = 64;
/// Bits for what an earlier panel carries, and which is which.
const BITS: u32 = Memory::BITS / MOST_FACING as u32;
const HEAVY: Memory = 1;
const WORDS: Memory = 2;

/// Whether heavy pictures and words keep from each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ShowThrough {
    /// They do.
    Avoided,
    /// They need not.
    Allowed,
}

/// What stands behind a panel that is no business of its part: on a panel that has no part, or that another part has.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Behind {
    /// The panel, if another part has it.
    pub of: Option<PanelName>,
    /// A heavy picture.
    pub heavy: bool,
    /// Words.
    pub words: bool,
}

pub struct ShowThroughRule;

impl Declared for ShowThroughRule {
    const ABOUT: About = About {
        name: "show-through",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "Whether words keep from the back of heavy pictures, whose ink shows through the paper.",
    };
}

impl Asks for ShowThroughRule {
    type Asked = ShowThrough;
    const UNLESS_SAID: ShowThrough = ShowThrough::Avoided;
    const FORM: Form<ShowThrough> = Form::Words(&[
        ("avoided", |asked| *asked = ShowThrough::Avoided),
        ("allowed", |asked| *asked = ShowThrough::Allowed),
    ]);
    const SHOWN: Shown<ShowThrough> =
        Shown::Usual("no words behind a picture with heavy = true; or \"allowed\"");
}

impl Rule for ShowThroughRule {
    fn idle(&self, problem: &Problem) -> bool {
        let placed = |picture: &PictureFacts| picture.queued || picture.panel.is_some();
        let mut pictures = problem.pictures.iter();
        let heavy = pictures.any(|picture| picture.heavy && placed(picture));
        let mut panels = problem.panels.iter();
        let meet = panels
            .any(|panel| heavy && (panel.behind.is_some() || panel.back.words) || panel.back.heavy);
        problem.rules.show_through == ShowThrough::Allowed || !meet
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self, problem: &Problem) -> Remembers {
        match problem.panels.iter().any(|panel| panel.behind.is_some()) {
            true => Remembers::Words,
            // It remembers nothing, but looks at which picture it is.
            false => Remembers::Roles,
        }
    }

    fn read_on(&self, memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        let panels = &reading.problem.panels;
        let here = carried(reading);
        let panel = reading.panel;
        let (mut within, mut kept, mut number, mut next) = (0, 0, 0, 0);
        // Those before that lie back to back with this panel or a later one, in order; and this one.
        for (earlier, facts) in panels[..=panel].iter().enumerate() {
            let Some(other) = facts.behind.filter(|other| *other >= panel) else {
                continue;
            };
            let carries = if earlier == panel {
                here
            } else {
                number += 1;
                remembered(memory, number - 1)
            };
            if other == panel {
                within += clashes(carries, here);
            } else {
                let carries = carries & of_use(reading, other);
                next |= carries.checked_shl(BITS * kept).unwrap_or(0);
                kept += 1;
            }
        }
        let back = panels[panel].back;
        let back = Memory::from(back.heavy) * HEAVY + Memory::from(back.words) * WORDS;
        let verdict = Verdict {
            broken: within > 0,
            cost: COST * (within + clashes(back, here)),
        };
        (verdict, next)
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "no words stand behind a heavy picture".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "has words back to back with a heavy picture",
            "have words back to back with heavy pictures",
        ))
    }
}

/// What a panel carries that matters to the one behind it.
fn carried(reading: &PanelView<'_>) -> Memory {
    let picture = reading.picture.map(|at| &reading.problem.pictures[at]);
    let heavy = picture.is_some_and(|picture| picture.heavy);
    Memory::from(heavy) * HEAVY + Memory::from(reading.role.has_words()) * WORDS
}

/// How many of two panels that lie back to back have words behind which the other has a heavy picture.
fn clashes(one: Memory, other: Memory) -> u64 {
    let words_behind = |one: Memory, other: Memory| u64::from(one & HEAVY > 0 && other & WORDS > 0);
    words_behind(one, other) + words_behind(other, one)
}

fn remembered(memory: Memory, number: u32) -> Memory {
    memory.checked_shr(BITS * number).unwrap_or(0) & (HEAVY | WORDS)
}

/// What need be known of the panel behind a later one: heavy pictures, if words may come there; words, if a heavy
/// picture may.
fn of_use(reading: &PanelView<'_>, later: usize) -> Memory {
    let problem = reading.problem;
    let facts = &problem.panels[later];
    let words = facts.role.is_none_or(Role::has_words);
    let heavy = match facts.picture {
        Some(pinned) => problem.pictures[pinned].heavy,
        None => {
            let comes = |(number, picture): (usize, &usize)| {
                let picture = &problem.pictures[*picture];
                // One over several panels may go on there.
                picture.heavy && (picture.spans > 1 || !reading.placed.has(number))
            };
            let may = facts.role.is_none_or(Role::has_picture);
            may && reading.queue.iter().enumerate().any(comes)
        }
    };
    Memory::from(words) * HEAVY + Memory::from(heavy) * WORDS
}
