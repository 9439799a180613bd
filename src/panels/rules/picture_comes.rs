//! `picture-comes`: how many panels after its words a picture stands.
//!
//! The distance is the picture's panel minus the panel of its words, along the part's panels. What lies
//! outside the window costs 40 for each panel. Pictures and callouts come in one order, so that at any
//! panel either some words wait for their pictures, or some pictures for their words; the rule remembers
//! how many wait since how many panels. Costs are charged as the panels go by, so that a division that
//! waits too long is dropped at once.

use super::{Memory, Remembers, Rule, Verdict};
use crate::panels::{Problem, Reading};
use crate::plan::{RuleName, Window};

const PER_PANEL: u64 = 40;
/// Ages are told apart up to this; the window ends at 7.
const OLDEST: usize = 8;
/// Bits for how many have one age.
const BITS: u32 = 13;

pub(super) struct PictureComes;

impl Rule for PictureComes {
    fn name(&self) -> RuleName {
        RuleName::PictureComes
    }

    fn idle(&self, problem: &Problem) -> bool {
        problem.pictures.is_empty()
    }

    fn read(&self, reading: &Reading<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self) -> Remembers {
        Remembers::Words
    }

    fn read_on(&self, memory: Memory, reading: &Reading<'_>) -> (Verdict, Memory) {
        let window = reading.problem.rules.picture_comes;
        let mut cost = pinned_cost(window, reading);
        // A picture of a part without words has none to wait for.
        let waits = |index: usize| {
            let picture = &reading.problem.pictures[index];
            picture.queued && picture.word_row.is_some()
        };
        let stands = reading.begins_picture && reading.picture.is_some_and(waits);
        let called = called_here(reading).filter(|&(queued, _)| queued).count();
        if memory == 0 && !stands && called == 0 {
            let verdict = Verdict {
                broken: cost > 0,
                cost,
            };
            return (verdict, 0);
        }
        let mut waiting = Waiting::remembered(memory);
        cost += waiting.read(window, called, stands);
        (
            Verdict {
                broken: cost > 0,
                cost,
            },
            waiting.remember(),
        )
    }
}

/// The pictures whose words stand on this panel: whether each is queued, and the panel it is pinned to.
fn called_here(reading: &Reading<'_>) -> impl Iterator<Item = (bool, Option<usize>)> {
    let rows = reading.from..reading.to;
    let pictures = reading.problem.pictures.iter();
    pictures
        .filter(move |picture| picture.word_row.is_some_and(|row| rows.contains(&row)))
        .map(|picture| (picture.queued, picture.panel))
}

/// What the pictures cost whose words stand here and that are pinned to a panel of the part.
fn pinned_cost(window: Window, reading: &Reading<'_>) -> u64 {
    called_here(reading)
        .filter_map(|(queued, panel)| panel.filter(|_| !queued))
        .map(|panel| {
            let distance = panel as i64 - reading.panel as i64;
            late(window, distance) + soon(window, distance)
        })
        .sum()
}

fn late(window: Window, distance: i64) -> u64 {
    PER_PANEL * u64::try_from(distance - i64::from(window.latest)).unwrap_or(0)
}

fn soon(window: Window, distance: i64) -> u64 {
    PER_PANEL * u64::try_from(i64::from(window.soonest) - distance).unwrap_or(0)
}

/// Who waits for whom since how many panels, oldest last.
struct Waiting {
    /// Whether pictures wait for their words; otherwise words wait for their pictures.
    pictures: bool,
    /// How many wait, by age; all that are older count as [`OLDEST`].
    by_age: [u64; OLDEST + 1],
}

impl Waiting {
    fn remembered(memory: Memory) -> Waiting {
        let mut by_age = [0; OLDEST + 1];
        for (age, count) in by_age.iter_mut().enumerate() {
            *count = ((memory >> (BITS * age as u32)) & ((1 << BITS) - 1)) as u64;
        }
        Waiting {
            pictures: memory >> 127 == 1,
            by_age,
        }
    }

    fn remember(&self) -> Memory {
        let counts = self.by_age.iter().enumerate();
        let packed: Memory = counts
            .map(|(age, &count)| u128::from(count) << (BITS * age as u32))
            .sum();
        if packed > 0 && self.pictures {
            packed | 1 << 127
        } else {
            packed
        }
    }

    fn is_empty(&self) -> bool {
        self.by_age.iter().all(|count| *count == 0)
    }

    /// Goes on by one panel, on which `called` queued pictures have their words and one stands, or none.
    fn read(&mut self, window: Window, called: usize, stands: bool) -> u64 {
        self.grow_older();
        let mut cost = 0;
        let (mut called, mut stands) = (called, stands);
        if self.pictures {
            while called > 0
                && let Some(age) = self.take_oldest()
            {
                cost += late(window, -age);
                called -= 1;
            }
        } else if stands && let Some(age) = self.take_oldest() {
            cost += soon(window, age);
            stands = false;
        }
        if called > 0 && stands && self.is_empty() {
            cost += late(window, 0) + soon(window, 0);
            called -= 1;
            stands = false;
        }
        if called > 0 || stands {
            self.pictures = stands;
            self.by_age[0] += if stands { 1 } else { called as u64 };
        }
        cost + self.charge(window)
    }

    fn grow_older(&mut self) {
        let oldest = self.by_age[OLDEST] + self.by_age[OLDEST - 1];
        self.by_age.rotate_right(1);
        self.by_age[OLDEST] = oldest;
        self.by_age[0] = 0;
    }

    fn take_oldest(&mut self) -> Option<i64> {
        let age = self.by_age.iter().rposition(|count| *count > 0)?;
        self.by_age[age] -= 1;
        Some(age as i64)
    }

    /// What it adds that those who wait now must wait one panel more.
    fn charge(&self, window: Window) -> u64 {
        let more = |age: i64| {
            let cost = |waited: i64| match self.pictures {
                true => soon(window, -waited),
                false => late(window, waited),
            };
            let so_far = if age == 0 { 0 } else { cost(age) };
            cost(age + 1) - so_far
        };
        let counts = self.by_age.iter().enumerate();
        counts
            .filter(|(_, count)| **count > 0)
            .map(|(age, count)| count * more(age as i64))
            .sum()
    }
}
