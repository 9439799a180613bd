//! What a panel may carry, and what the rules without memory ask for it.

use std::rc::Rc;

use super::{Choice, Kind, Search, Stretches};
use crate::panels::problem::Stop;
use crate::panels::{AreaFacts, Cost, PanelFacts, Reading};
use crate::plan::Role;

impl Search<'_> {
    /// The roles a panel may have, each with its picture. `next` is the picture at the head of the queue;
    /// without one, all that wait are tried.
    pub(super) fn carries(
        &self,
        panel: usize,
        next: Option<Option<usize>>,
    ) -> Vec<(Role, Option<usize>)> {
        let facts = &self.problem.panels[panel];
        let waiting: Vec<usize> = match next {
            Some(next) => next.into_iter().collect(),
            None => self.queue.clone(),
        };
        let pictures = facts.picture.map_or(waiting, |pinned| vec![pinned]);
        let mut found = Vec::new();
        let may = |role| facts.role.is_none_or(|pinned| pinned == role);
        if facts.role == Some(Role::Title) {
            found.push((Role::Title, None));
        }
        if may(Role::Text) && facts.picture.is_none() {
            found.push((Role::Text, None));
        }
        for role in [Role::Shared, Role::Picture] {
            if may(role) {
                found.extend(pictures.iter().map(|&picture| (role, Some(picture))));
            }
        }
        if may(Role::Blank) && facts.picture.is_none() {
            found.push((Role::Blank, None));
        }
        found
    }

    pub(super) fn area(
        &self,
        panel: usize,
        role: Role,
        picture: Option<usize>,
    ) -> Option<AreaFacts> {
        let facts = &self.problem.panels[panel];
        match role {
            Role::Title | Role::Text => facts.area,
            Role::Shared => picture
                .and_then(|picture| facts.shared[picture])
                .or(facts.area),
            _ => None,
        }
    }

    pub(super) fn kind(&mut self, panel: usize, role: Role, picture: Option<usize>) -> usize {
        let area = self.area(panel, role, picture);
        let kind = Kind {
            class: self.class_of[panel],
            role,
            area,
        };
        let count = self.kinds.len();
        let number = *self.kinds.entry(kind).or_insert(count);
        if number == count {
            self.known.push(vec![None; self.problem.rows.len() + 1]);
        }
        number
    }

    /// The stretches from a place on that a panel may carry.
    pub(super) fn stretches(&mut self, panel: usize, choice: Choice, from: usize) -> Stretches {
        if let Some(known) = &self.known[choice.kind][from] {
            return Rc::clone(known);
        }
        let area = self.area(panel, choice.role, choice.picture);
        let found: Stretches = self
            .find_stretches(panel, choice.role, area, choice.picture, from)
            .into();
        self.known[choice.kind][from] = Some(Rc::clone(&found));
        found
    }

    pub(super) fn find_stretches(
        &self,
        panel: usize,
        role: Role,
        area: Option<AreaFacts>,
        picture: Option<usize>,
        from: usize,
    ) -> Vec<(usize, Cost)> {
        let problem = self.problem;
        let begins = problem.panels[panel].begins;
        if begins.is_some_and(|row| row != from) {
            return Vec::new();
        }
        let reading = |stop: Stop| {
            let capacity = area.map_or(0, |area| area.capacity);
            Reading {
                problem,
                panel,
                role,
                from,
                to: stop.to,
                picture,
                begins_picture: picture.is_some(),
                placed: 0,
                setting: area.map(|area| area.setting),
                used: stop.used,
                foot: stop.foot,
                capacity,
            }
        };
        let mut found = Vec::new();
        match (role, area) {
            (Role::Title, Some(area)) => {
                let to = if from == 0 { problem.opening } else { from };
                let stop = problem.stop(area.setting, from, to);
                if stop.used <= area.capacity {
                    let price = self.price(&reading(Stop { to, ..stop }));
                    found.extend(price.map(|cost| (to, cost)));
                }
            }
            (Role::Text | Role::Shared, Some(area)) => {
                let stops = problem.stops(area.setting, from);
                for stop in stops.take_while(|stop| stop.used <= area.capacity) {
                    found.extend(self.price(&reading(stop)).map(|cost| (stop.to, cost)));
                }
            }
            (Role::Picture | Role::Blank, _) => {
                let nothing = Stop {
                    to: from,
                    used: 0,
                    foot: 0,
                };
                found.extend(self.price(&reading(nothing)).map(|cost| (from, cost)));
            }
            _ => {}
        }
        if let Some(end) = problem.panels[panel].ends {
            found.retain(|&(to, _)| to == end);
        }
        if begins.is_some() {
            // A panel with no words begins with none.
            found.retain(|&(to, _)| to > from);
        }
        found
    }

    /// What the rules without memory ask for a panel; nothing where it breaks a hard one.
    pub(super) fn price(&self, reading: &Reading<'_>) -> Option<Cost> {
        self.plain.iter().try_fold(0, |sum, weighed| {
            Some(sum + weighed.price(weighed.rule.read(reading))?)
        })
    }
}

/// Panels that may carry the same for the same cost are of one class.
pub(super) fn classify(panels: &[PanelFacts]) -> Vec<usize> {
    let mut classes: Vec<usize> = Vec::new();
    let mut class_of = Vec::with_capacity(panels.len());
    for (index, panel) in panels.iter().enumerate() {
        let same = |&first: &usize| {
            let known = &panels[first];
            PanelFacts {
                name: panel.name,
                ..known.clone()
            } == *panel
        };
        let class = classes.iter().position(same).unwrap_or_else(|| {
            classes.push(index);
            classes.len() - 1
        });
        class_of.push(class);
    }
    class_of
}

pub(super) fn takes_queued(panel: &PanelFacts) -> bool {
    panel.picture.is_none() && panel.role.is_none_or(Role::has_picture)
}
