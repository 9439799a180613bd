//! What may be offered to a panel: a role, and a picture that begins or goes on there.

use std::sync::Arc;

use super::Step;
use super::graph::Spot;
use super::part_search::PartSearch;
use crate::division::Problem;
use crate::names::Role;

/// A role that a panel may have, with its picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct PanelCandidate {
    pub role: Role,
    pub picture: Option<usize>,
    /// Whether the picture begins on this panel.
    pub begins: bool,
    /// Which of the track's kinds it is.
    pub kind: usize,
    /// Which row of the panel's table of roles is its.
    pub row: usize,
}

impl PanelCandidate {
    pub fn step(&self, to: u32) -> Step {
        Step {
            to,
            role: self.role,
            picture: self.picture.map(|picture| picture as u16),
            begins: self.begins,
        }
    }
}

/// A role, a picture, and whether it begins.
pub(super) type Carries = (Role, Option<usize>, bool);

/// The pictures that wait for a panel.
#[derive(Clone, Copy)]
pub(super) enum Next<'a> {
    /// All that may ever come there.
    Ever,
    /// One of these may begin there.
    OneOf(&'a [usize]),
    /// This one goes on from the panel before.
    GoesOn(usize),
}

/// The roles a panel may have, each with its picture.
pub(super) fn carries(
    problem: &Problem,
    queue: &[usize],
    panel: usize,
    next: Next<'_>,
) -> Vec<Carries> {
    let facts = &problem.panels[panel];
    let may = |role| facts.role.is_none_or(|pinned| pinned == role);
    let mut found = Vec::new();
    let with = |picture: usize, begins: bool, found: &mut Vec<Carries>| {
        if may(Role::Shared) && problem.may_share(panel, picture) {
            found.push((Role::Shared, Some(picture), begins));
        }
        if may(Role::Picture) {
            found.push((Role::Picture, Some(picture), begins));
        }
    };
    if let Some(pinned) = facts.picture {
        let begins = problem.pictures[pinned].panel == Some(panel);
        if !matches!(next, Next::GoesOn(_)) {
            with(pinned, begins, &mut found);
        }
        return found;
    }
    if let Next::GoesOn(picture) = next {
        with(picture, false, &mut found);
        return found;
    }
    if facts.role == Some(Role::Title) {
        found.push((Role::Title, None, false));
    }
    if may(Role::Text) {
        found.push((Role::Text, None, false));
    }
    match next {
        Next::OneOf(waiting) => {
            let may = waiting.iter();
            may.filter(|picture| may_begin(problem, panel, **picture))
                .for_each(|picture| with(*picture, true, &mut found));
        }
        Next::Ever => {
            for &picture in queue {
                if may_begin(problem, panel, picture) {
                    with(picture, true, &mut found);
                }
                if problem.pictures[picture].spans > 1 && facts.follows {
                    with(picture, false, &mut found);
                }
            }
        }
        Next::GoesOn(_) => {}
    }
    if problem.may_have_unnamed(panel) {
        found.push((Role::Picture, None, false));
    }
    if may(Role::Blank) {
        found.push((Role::Blank, None, false));
    }
    found
}

/// Whether a picture of the queue has its panels from this one on.
fn may_begin(problem: &Problem, panel: usize, picture: usize) -> bool {
    let facts = &problem.pictures[picture];
    let panels = &problem.panels[panel..];
    let free = |at: usize| {
        let panel = &panels[at];
        let on_from_the_last = at == 0 || panel.follows;
        on_from_the_last && panel.picture.is_none() && panel.role.is_none_or(Role::has_picture)
    };
    facts.spans <= panels.len()
        && (0..facts.spans).all(free)
        && (!facts.whole_spread || panels[0].opens_spread)
}

impl PartSearch<'_> {
    /// What a panel may be offered to a state.
    pub fn offers(&mut self, panel: usize, spot: Spot) -> Arc<[PanelCandidate]> {
        let key = (panel, spot.placed, spot.goes_on());
        if let Some(known) = self.offered.get(&key) {
            return Arc::clone(known);
        }
        let waiting = self.waiting_pictures(spot.placed);
        let next = match spot.goes_on() {
            Some(number) => Next::GoesOn(self.queue[number]),
            None => Next::OneOf(&waiting),
        };
        let found = self.make_offers(panel, next);
        self.offered.insert(key, Arc::clone(&found));
        found
    }

    /// What a panel may ever be offered.
    pub fn all_offers(&mut self, panel: usize) -> Arc<[PanelCandidate]> {
        self.make_offers(panel, Next::Ever)
    }

    fn make_offers(&mut self, panel: usize, next: Next<'_>) -> Arc<[PanelCandidate]> {
        let carried = carries(self.problem, &self.queue, panel, next);
        let offers = carried
            .into_iter()
            .map(|(role, picture, begins)| PanelCandidate {
                role,
                picture,
                begins,
                kind: self.kind(panel, role, picture),
                row: self.roles.row(panel, (role, picture, begins)),
            });
        offers.collect()
    }
}
