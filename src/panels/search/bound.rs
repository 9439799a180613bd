//! The backward pass: what the rest must cost at least, from every panel and place.

use super::{Choice, Search};
use crate::panels::Cost;

/// What the rest must cost at least from one panel on, for the places that the panel may begin at.
#[derive(Default)]
pub(super) struct Rest {
    first: usize,
    /// The greatest cost there is stands for no way.
    costs: Vec<Cost>,
}

impl Rest {
    /// The least from a place on; nothing where no way leads on from there.
    pub(super) fn least(&self, place: usize) -> Option<Cost> {
        let known = self.costs.get(place.wrapping_sub(self.first));
        known.copied().filter(|cost| *cost < Cost::MAX)
    }
}

impl Search<'_> {
    /// The backward pass: for each panel and place, the least that the rest can cost. Places that no words
    /// could have reached by then, or that leave too much for the panels that follow, are passed over.
    pub(super) fn fill_bound(&mut self) {
        let (panels, places) = (self.problem.panels.len(), self.problem.rows.len() + 1);
        let choices: Vec<Vec<Choice>> = (0..panels).map(|panel| self.choices(panel)).collect();
        let needed = self.needed(&choices);
        let reached = self.reached(&choices, &needed);
        self.bound.resize_with(panels + 1, Rest::default);
        self.bound[panels] = Rest {
            first: places - 1,
            costs: vec![0],
        };
        for panel in (0..panels).rev() {
            let (Some(&first), Some(&last)) = (reached[panel].first(), reached[panel].last())
            else {
                continue;
            };
            let mut costs = vec![Cost::MAX; last - first + 1];
            for &place in &reached[panel] {
                costs[place - first] = self.least_from(panel, place, &choices[panel]);
            }
            self.bound[panel] = Rest { first, costs };
        }
    }

    /// What a panel may carry, one picture standing for all that leave the same text area.
    pub(super) fn choices(&mut self, panel: usize) -> Vec<Choice> {
        let mut choices: Vec<Choice> = Vec::new();
        for (role, picture) in self.carries(panel, None) {
            let kind = self.kind(panel, role, picture);
            if !choices.iter().any(|choice| choice.kind == kind) {
                choices.push(Choice {
                    kind,
                    role,
                    picture,
                });
            }
        }
        choices
    }

    /// The fewest panels that can take the words from each place on that any panel can begin at, if every panel
    /// could be of the kind that suits best.
    pub(super) fn needed(&mut self, choices: &[Vec<Choice>]) -> Vec<usize> {
        let mut kinds: Vec<(usize, Choice)> = Vec::new();
        for (panel, choices) in choices.iter().enumerate() {
            for choice in choices {
                if !kinds.iter().any(|(_, known)| known.kind == choice.kind) {
                    kinds.push((panel, *choice));
                }
            }
        }
        let places = self.problem.rows.len() + 1;
        // Lines from different places soon fall alike: panels can begin at few of all places.
        let mut met = vec![false; places];
        met[0] = true;
        for place in 0..places - 1 {
            if !met[place] {
                continue;
            }
            for (panel, choice) in &kinds {
                for &(to, _) in self.stretches(*panel, *choice, place).iter() {
                    met[to] = true;
                }
            }
        }
        let mut needed = vec![usize::MAX; places];
        needed[places - 1] = 0;
        for place in (0..places - 1).rev().filter(|&place| met[place]) {
            for (panel, choice) in &kinds {
                for &(to, _) in self.stretches(*panel, *choice, place).iter() {
                    if to > place && needed[to] < usize::MAX {
                        needed[place] = needed[place].min(needed[to] + 1);
                    }
                }
            }
        }
        needed
    }

    /// The places at which each panel can begin, in order, those left out that need more panels than follow.
    pub(super) fn reached(&mut self, choices: &[Vec<Choice>], needed: &[usize]) -> Vec<Vec<usize>> {
        let panels = self.problem.panels.len();
        let mut reached = vec![vec![0]];
        let mut next = vec![false; self.problem.rows.len() + 1];
        for panel in 0..panels {
            let (mut first, mut last) = (usize::MAX, 0);
            for &place in &reached[panel] {
                for choice in &choices[panel] {
                    for &(to, _) in self.stretches(panel, *choice, place).iter() {
                        next[to] = needed[to] < panels - panel;
                        (first, last) = (first.min(to), last.max(to));
                    }
                }
            }
            let found = (first..=last).filter(|&place| std::mem::take(&mut next[place]));
            reached.push(found.collect());
        }
        reached
    }

    pub(super) fn least_from(&mut self, panel: usize, place: usize, choices: &[Choice]) -> Cost {
        let mut least = Cost::MAX;
        for choice in choices {
            let stretches = self.stretches(panel, *choice, place);
            let rest = &self.bound[panel + 1];
            for &(to, cost) in stretches.iter() {
                if let Some(rest) = rest.least(to) {
                    least = least.min(cost + rest);
                }
            }
        }
        least
    }
}
