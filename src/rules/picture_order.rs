//! `picture-order`: no picture jumps over a pinned one.
//!
//! The pictures of the queue come in the order of their words. One that is pinned leaves the queue, and the others keep
//! to their side of it all the same: those that belong to earlier words stand before it, those of later words behind
//! it. Each that does not costs 100. A pinned picture that leaves the others too few panels on one of its sides is out
//! of that order by the author's own will, and nobody heeds it.

use super::{
    About, Clause, Declared, Group, Judges, Memory, PanelView, PictureFacts, Problem, Remembers,
    Rule, Rules, Verdict,
};
use crate::names::Role;

/// What each picture costs on the wrong side of a pinned one.
const COST: u64 = 100;

pub struct PictureOrder;

impl Declared for PictureOrder {
    const ABOUT: About = About {
        name: "picture-order",
        group: Group::Order,
        hard: true,
        judges: Judges::Division,
        words: "Pictures keep the order of their words beside those that are pinned.",
    };
}

impl Rule for PictureOrder {
    fn idle(&self, problem: &Problem) -> bool {
        let pinned = |picture: &PictureFacts| picture.word_row.is_some() && picture.panel.is_some();
        !problem.pictures.iter().any(pinned)
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        let problem = reading.problem;
        let begins = reading.picture.filter(|_| reading.begins_picture);
        let Some(own) = begins.filter(|own| problem.pictures[*own].queued) else {
            return Verdict::KEPT;
        };
        let jumps = problem
            .pictures
            .iter()
            .enumerate()
            .filter(|(other, picture)| {
                let jumps = |panel: usize| (own < *other) != (reading.panel < panel);
                picture.word_row.is_some()
                    && picture.panel.is_some_and(jumps)
                    && leaves_room(problem, *other)
            });
        match jumps.count() as u64 {
            0 => Verdict::KEPT,
            jumps => Verdict::broken(jumps * COST),
        }
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        // It remembers nothing, but looks at which panel it is.
        Remembers::Roles
    }

    fn read_on(&self, _memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        (self.read(reading), 0)
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "pictures keep the order of their words beside pinned ones".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "has a picture on the other side of a pinned one than its words",
            "have pictures on the other side of a pinned one than their words",
        ))
    }
}

/// Whether a pinned picture leaves the pictures of the queue enough panels on either side.
fn leaves_room(problem: &Problem, pinned: usize) -> bool {
    let facts = &problem.pictures[pinned];
    let first = facts.panel.unwrap_or(0);
    let free = |panels: std::ops::Range<usize>| {
        let takes = |panel: &usize| {
            let facts = &problem.panels[*panel];
            facts.picture.is_none() && facts.role.is_none_or(Role::has_picture)
        };
        panels.filter(takes).count()
    };
    let take = |pictures: &[PictureFacts]| -> usize {
        let queued = pictures.iter().filter(|picture| picture.queued);
        queued.map(|picture| picture.spans).sum()
    };
    let (before, after) = problem.pictures.split_at(pinned);
    let behind = (first + facts.spans).min(problem.panels.len());
    take(before) <= free(0..first) && take(&after[1..]) <= free(behind..problem.panels.len())
}
