//! The best division of each of the best patterns.
//!
//! All divisions are parted by pattern: from the best of some, its own pattern is told, and the rest falls into
//! those that first differ from it on the first panel, on the second, and so on. The best of each of these is
//! found in turn (E. L. Lawler, "A Procedure for Computing the K Best Solutions to Discrete Optimization
//! Problems", Management Science 18, 1972).

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::graph::{Graph, Keeps};
use super::narrow::{self, DivisionSteps, Label, Rank, Within, rank};
use super::{Pattern, Search, Steps};
use crate::division::Cost;

/// Some divisions by their best one.
struct Those {
    best: DivisionSteps,
    rank: Rank,
    /// On how many panels they all have the pattern of the best.
    alike: usize,
    /// What none of them has on the next panel.
    not_next: Vec<Label>,
}

impl Search<'_> {
    /// The best division of each of the best patterns.
    pub fn patterns(&mut self, pattern: Pattern, most: usize) -> Vec<Vec<Steps>> {
        let stanzas = match pattern {
            Pattern::Kind | Pattern::Coarse => Vec::new(),
            Pattern::Fine => self.tracks[0].stanzas.clone(),
        };
        let label = move |steps: &Steps| label(steps, &stanzas);
        let mut found = Vec::new();
        self.deepen(Keeps::All, |graph| {
            found = best_of_each(graph, &label, most);
            let enough = found.len() == most || graph.trimmed;
            let last = found.last().filter(|_| enough);
            last.map(|last: &DivisionSteps| last.cost)
        });
        found.into_iter().map(|found| found.steps).collect()
    }
}

/// What a panel carries, and with `stanzas` the stanza that its words, or those before it, end in.
fn label(steps: &Steps, stanzas: &[u32]) -> Label {
    let [one, other] = steps;
    let stanza = stanzas
        .get(one.to as usize)
        .map_or(0, |done| done.div_ceil(2));
    (
        one.role as u8,
        one.picture,
        other.role as u8,
        other.picture,
        stanza,
    )
}

fn best_of_each(graph: &Graph, label: &dyn Fn(&Steps) -> Label, most: usize) -> Vec<DivisionSteps> {
    let mut waiting: BinaryHeap<Reverse<Waiting>> = BinaryHeap::new();
    let add = |alike: Vec<Label>, not_next: Vec<Label>, waiting: &mut BinaryHeap<_>| {
        let within = Within {
            label,
            first: alike,
            not_next,
        };
        if let Some(best) = narrow::best(graph, &within) {
            let those = Those {
                rank: rank(&best.steps),
                best,
                alike: within.first.len(),
                not_next: within.not_next,
            };
            waiting.push(Reverse(Waiting(those)));
        }
    };
    add(Vec::new(), Vec::new(), &mut waiting);
    let mut found = Vec::new();
    while found.len() < most
        && let Some(Reverse(Waiting(those))) = waiting.pop()
    {
        let labels: Vec<Label> = those.best.steps.iter().map(label).collect();
        for panel in those.alike..labels.len() {
            let mut not_next = vec![labels[panel]];
            if panel == those.alike {
                not_next.extend(&those.not_next);
            }
            add(labels[..panel].to_vec(), not_next, &mut waiting);
        }
        found.push(those.best);
    }
    found
}

/// Some divisions that wait their turn: the cheapest first, then the one that wins among equals.
struct Waiting(Those);

impl Waiting {
    fn key(&self) -> (Cost, &Rank) {
        (self.0.best.cost, &self.0.rank)
    }
}

impl PartialEq for Waiting {
    fn eq(&self, other: &Waiting) -> bool {
        self.key() == other.key()
    }
}

impl Eq for Waiting {}

impl PartialOrd for Waiting {
    fn partial_cmp(&self, other: &Waiting) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Waiting {
    fn cmp(&self, other: &Waiting) -> std::cmp::Ordering {
        self.key().cmp(&other.key())
    }
}
