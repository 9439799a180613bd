//! The backward pass: what the rest must cost at least, from every panel and place.

use super::{Choice, Search};
use crate::panels::Cost;

impl Search<'_> {
    /// The backward pass: for each panel and place, the least that the rest can cost. Places that no words
    /// could have reached by then, or that leave too much for the panels that follow, are passed over.
    pub(super) fn fill_bound(&mut self) {
        let (panels, places) = (self.problem.panels.len(), self.problem.rows.len() + 1);
        let choices: Vec<Vec<Choice>> = (0..panels).map(|panel| self.choices(panel)).collect();
        let needed = self.needed(&choices);
        let reached = self.reached(&choices, &needed);
        self.bound = vec![Vec::new(); panels + 1];
        let mut last = vec![None; places];
        last[places - 1] = Some(0);
        self.bound[panels] = last;
        for panel in (0..panels).rev() {
            let mut here = vec![None; places];
            for &place in &reached[panel] {
                here[place] = self.least_from(panel, place, &choices[panel]);
            }
            self.bound[panel] = here;
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

    /// The fewest panels that can take the words from each place on, if every panel could be of the kind
    /// that suits best.
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
        let mut needed = vec![usize::MAX; places];
        needed[places - 1] = 0;
        for place in (0..places - 1).rev() {
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

    /// The places at which each panel can begin, those left out that need more panels than follow.
    pub(super) fn reached(&mut self, choices: &[Vec<Choice>], needed: &[usize]) -> Vec<Vec<usize>> {
        let (panels, places) = (self.problem.panels.len(), self.problem.rows.len() + 1);
        let mut reached = vec![vec![0]];
        for panel in 0..panels {
            let mut next = vec![false; places];
            for &place in &reached[panel] {
                for choice in &choices[panel] {
                    for &(to, _) in self.stretches(panel, *choice, place).iter() {
                        next[to] = needed[to] < panels - panel;
                    }
                }
            }
            reached.push((0..places).filter(|&place| next[place]).collect());
        }
        reached
    }

    pub(super) fn least_from(
        &mut self,
        panel: usize,
        place: usize,
        choices: &[Choice],
    ) -> Option<Cost> {
        let mut least: Option<Cost> = None;
        for choice in choices {
            for &(to, cost) in self.stretches(panel, *choice, place).iter() {
                if let Some(rest) = self.bound[panel + 1][to] {
                    let whole = cost + rest;
                    least = Some(least.map_or(whole, |known| known.min(whole)));
                }
            }
        }
        least
    }
}
