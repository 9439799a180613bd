//! `picture-comes`: how many panels after its words a picture comes.
//!
//! The distance is the first panel of the picture minus the panel of its words, along the part's panels. What lies
//! outside the picture's window costs 40 for each panel. The rule remembers how many have waited for how many
//! panels; or, where pictures come in any order, how long each has. Costs are charged as the panels go by, so that a
//! division that waits too long is dropped at once.

use super::waits::{Wait, pinned, waits};
use super::{
    About, Asks, Clause, Declared, Entry, Form, Group, Judges, MOST_IN_ANY_ORDER, Memory,
    PanelView, PictureFacts, Piece, Placed, Problem, Remembers, Rule, Rules, Shown, Verdict,
};

const PER_PANEL: u64 = 40;
/// Ages are told apart up to this, where windows end.
const OLDEST: usize = 7;
/// Bits for how many have one age.
const BITS: u32 = 16;
/// Bits for the age of one that waits, where each has its own.
const BITS_OF_ONE: u32 = Memory::BITS / MOST_IN_ANY_ORDER as u32;

/// How many panels after its words a picture comes: 0 the same panel, 1 the next, −1 the one before.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Window {
    /// Not sooner than this; −7 to 7.
    pub soonest: i8,
    /// Not later than this; `soonest` to 7.
    pub latest: i8,
}

/// The rule of how far pictures stand from their words.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PictureComes;

impl Declared for PictureComes {
    const ABOUT: About = About {
        name: "picture-comes",
        group: Group::Order,
        hard: true,
        judges: Judges::Division,
        words: "How many panels after its words a picture comes: 0 the same panel, 1 the next, -1 the one before.",
    };
}

impl Window {
    /// What is asked where neither end is said.
    pub const USUAL: Window = Window {
        soonest: 0,
        latest: 1,
    };
}

impl Asks for PictureComes {
    type Asked = Option<Window>;
    const UNLESS_SAID: Option<Window> = None;
    const FORM: Form<Option<Window>> = Form::Table(
        || Some(Window::USUAL),
        &[
            Entry {
                key: "soonest",
                words: "Not sooner than this.",
                form: Form::Whole(
                    -7,
                    7,
                    Piece {
                        get: |asked| asked.unwrap_or(Window::USUAL).soonest.into(),
                        set: |asked, panels| {
                            asked.get_or_insert(Window::USUAL).soonest = panels as i8;
                        },
                    },
                ),
            },
            Entry {
                key: "latest",
                words: "Not later than this.",
                form: Form::Whole(
                    -7,
                    7,
                    Piece {
                        get: |asked| asked.unwrap_or(Window::USUAL).latest.into(),
                        set: |asked, panels| {
                            asked.get_or_insert(Window::USUAL).latest = panels as i8;
                        },
                    },
                ),
            },
        ],
    );
    const SHOWN: Shown<Option<Window>> =
        Shown::Example(Some(Window::USUAL), "panels after its words");

    fn contradiction(asked: &Option<Window>) -> Option<String> {
        let Window { soonest, latest } = asked.as_ref()?;
        let what = || format!("`soonest` is {soonest}, later than `latest`, which is {latest}");
        (soonest > latest).then(what)
    }
}

impl Rule for PictureComes {
    fn idle(&self, problem: &Problem) -> bool {
        !problem.pictures.iter().any(|picture| {
            let placed = picture.queued || picture.panel.is_some();
            placed && window(picture).is_some()
        })
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Words
    }

    fn read_on(&self, memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        let mut cost = pinned_cost(reading);
        let in_order = matches!(reading.placed, Placed::First(_));
        let mut known = Ages(memory);
        let mut ages: Vec<(usize, usize)> = Vec::new();
        for wait in waits(reading) {
            let window = window(wait.picture);
            let age = wait.since.and_then(|number| match in_order {
                true => known.take_oldest(),
                false => Some(known.of(number)),
            });
            let age = age.map(|age| age + 1);
            match (wait.meets, window) {
                (true, Some(window)) => cost += met(window, &wait, age),
                (false, Some(window)) => {
                    let age = age.unwrap_or(0);
                    cost += one_more(window, &wait, age);
                    ages.push((age, told_apart(window, &wait)));
                }
                (true, None) => {}
                (false, None) => ages.push((0, 0)),
            }
        }
        let verdict = Verdict {
            broken: cost > 0,
            cost,
        };
        let memory = match in_order {
            true => remembered(&ages),
            false => remembered_of_each(&ages),
        };
        (verdict, memory)
    }

    fn reaching(&self, problem: &Problem, _panel: usize, words: usize, _pictures: usize) -> u64 {
        // They have waited for a panel, and no more than one of them meets its picture on this one.
        match all_of_queue(problem, |window| window.latest == 1) {
            true => PER_PANEL * words.saturating_sub(1) as u64,
            false => 0,
        }
    }

    fn leaving(&self, problem: &Problem, words: usize, pictures: usize) -> u64 {
        let late = match all_of_queue(problem, |window| window.latest <= 0) {
            true => words,
            false => 0,
        };
        let soon = match all_of_queue(problem, |window| window.soonest >= 0) {
            true => pictures,
            false => 0,
        };
        PER_PANEL * (late + soon) as u64
    }

    fn in_words(&self, rules: &Rules) -> String {
        let after = |panels: i8| match panels {
            0 => "on the panel of its words".to_string(),
            1 => "on the panel after its words".to_string(),
            -1 => "on the panel before its words".to_string(),
            after if after > 0 => format!("{after} panels after its words"),
            before => format!("{} panels before its words", -before),
        };
        let Some(Window { soonest, latest }) = rules.picture_comes else {
            return "a picture stands as far from its words as its own `picture-comes` asks"
                .to_string();
        };
        match latest - soonest {
            0 => format!("a picture stands {}", after(soonest)),
            1 => format!("a picture stands {} or {}", after(soonest), after(latest)),
            _ => format!("a picture stands from {soonest} to {latest} panels after its words"),
        }
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "has a picture nearer or further from its words than `picture-comes` asks",
            "have a picture nearer or further from its words than `picture-comes` asks",
        ))
    }
}

/// The picture's window; a picture of a part without words has none to wait for.
fn window(picture: &PictureFacts) -> Option<Window> {
    picture.comes.filter(|_| picture.word_row.is_some())
}

/// Whether something holds of the windows of all pictures of the queue.
fn all_of_queue(problem: &Problem, holds: impl Fn(Window) -> bool) -> bool {
    let mut queued = problem.pictures.iter().filter(|picture| picture.queued);
    queued.all(|picture| window(picture).is_some_and(&holds))
}

/// What the pictures cost whose words stand here and that are pinned to a panel of the part.
fn pinned_cost(reading: &PanelView<'_>) -> u64 {
    let cost = |(picture, panel): (&PictureFacts, usize)| {
        let distance = panel as i64 - reading.panel as i64;
        window(picture).map(|window| late(window, distance) + soon(window, distance))
    };
    pinned(reading).filter_map(cost).sum()
}

fn late(window: Window, distance: i64) -> u64 {
    PER_PANEL * u64::try_from(distance - i64::from(window.latest)).unwrap_or(0)
}

fn soon(window: Window, distance: i64) -> u64 {
    PER_PANEL * u64::try_from(i64::from(window.soonest) - distance).unwrap_or(0)
}

/// What it adds that picture and words meet, after so many panels of waiting if any.
fn met(window: Window, wait: &Wait<'_>, age: Option<usize>) -> u64 {
    match age {
        None => late(window, 0) + soon(window, 0),
        // The other side of the window has been paid for while they waited.
        Some(age) if wait.picture_first => late(window, -(age as i64)),
        Some(age) => soon(window, age as i64),
    }
}

/// What it adds that one who has waited so long must wait one panel more.
fn one_more(window: Window, wait: &Wait<'_>, age: usize) -> u64 {
    let cost = |waited: i64| match wait.picture_first {
        true => soon(window, -waited),
        false => late(window, waited),
    };
    let so_far = if age == 0 { 0 } else { cost(age as i64) };
    cost(age as i64 + 1) - so_far
}

/// The age from which on every panel more costs the same, and a meeting nothing.
fn told_apart(window: Window, wait: &Wait<'_>) -> usize {
    let end = match wait.picture_first {
        true => -window.soonest,
        false => window.latest,
    };
    usize::try_from(end).unwrap_or(0).clamp(1, OLDEST)
}

/// How many have each age, packed; or the age of each.
struct Ages(Memory);

impl Ages {
    /// The age of the one of that number among those that wait, where each has its own.
    fn of(&self, number: usize) -> usize {
        let kept = self.0.checked_shr(BITS_OF_ONE * number as u32);
        (kept.unwrap_or(0) & ((1 << BITS_OF_ONE) - 1)) as usize
    }

    fn take_oldest(&mut self) -> Option<usize> {
        let age = (Memory::BITS - 1).checked_sub(self.0.leading_zeros())? / BITS;
        self.0 -= 1 << (BITS * age);
        Some(age as usize)
    }
}

/// Those who wait on, each with its own age, not told apart past what its window tells apart.
fn remembered_of_each(ages: &[(usize, usize)]) -> Memory {
    let kept = ages.iter().enumerate().map(|(number, &(age, told_apart))| {
        let age = age.min(told_apart) as Memory;
        age.checked_shl(BITS_OF_ONE * number as u32).unwrap_or(0)
    });
    kept.sum()
}

/// Those who wait on, the oldest first, each with the age past which its own is not told apart. An age past that
/// is as good as any other past it: the least that leaves them in order stands for all, so that what makes no
/// difference is remembered alike.
fn remembered(ages: &[(usize, usize)]) -> Memory {
    let mut packed = 0;
    let mut younger = 0;
    for &(age, told_apart) in ages.iter().rev() {
        younger = age.min(told_apart).max(younger);
        packed += 1 << (BITS * younger as u32);
    }
    packed
}
