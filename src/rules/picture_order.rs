//! `picture-order`: whether pictures keep the order of their words.
//!
//! "kept": the pictures of a part that are not pinned come in the order of their words, always. One that is pinned is out
//! of that row, and the others keep to their side of it all the same: those that belong to earlier words stand before
//! it, those of later words behind it. Each that does not costs 100. A pinned picture that leaves the others too few
//! panels on one of its sides is out of order by the author's own will, and nobody heeds it. "free": pictures come in any
//! order, and the rule asks nothing.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelView, PictureFacts, Problem,
    Remembers, Rule, Rules, Shown, Verdict,
};
use crate::names::Role;

/// What each picture costs on the wrong side of a pinned one.
const COST: u64 = 100;

/// Whether pictures keep the order of their words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PictureOrder {
    /// They do, beside those that are pinned too.
    Kept,
    /// They come in any order.
    Free,
}

pub struct PictureOrderRule;

impl Declared for PictureOrderRule {
    const ABOUT: About = About {
        name: "picture-order",
        group: Group::Order,
        hard: true,
        judges: Judges::Division,
        words: "Whether pictures keep the order of their words, beside those that are pinned too, or come in any order.",
    };
}

impl Asks for PictureOrderRule {
    type Asked = PictureOrder;
    const UNLESS_SAID: PictureOrder = PictureOrder::Kept;
    const FORM: Form<PictureOrder> = Form::Words(&[
        ("kept", |asked| *asked = PictureOrder::Kept),
        ("free", |asked| *asked = PictureOrder::Free),
    ]);
    const SHOWN: Shown<PictureOrder> = Shown::Usual("the order of their words; or \"free\"");
}

impl Rule for PictureOrderRule {
    fn idle(&self, problem: &Problem) -> bool {
        let pinned = |picture: &PictureFacts| picture.word_row.is_some() && picture.panel.is_some();
        problem.any_order() || !problem.pictures.iter().any(pinned)
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
