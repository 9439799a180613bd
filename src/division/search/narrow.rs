//! Choosing among divisions: the cheapest within some patterns; of equal ones the one whose panels end latest,
//! from the first panel on; then the one with the earlier roles, then with the earlier pictures.

use std::cmp::Reverse;

use rustc_hash::FxHashMap;

use super::Steps;
use super::graph::{Edge, Graph};
use crate::division::Cost;

/// What a panel carries as far as patterns tell it apart.
pub(super) type Label = (u8, Option<u16>, u8, Option<u16>, u32);

/// Some of all divisions: those whose first panels have these labels, and whose next has none of those.
pub(super) struct Within<'a> {
    /// Tells the label of a panel's steps.
    pub label: &'a dyn Fn(&Steps) -> Label,
    pub first: Vec<Label>,
    pub not_next: Vec<Label>,
}

impl Within<'_> {
    /// All divisions.
    pub fn all() -> Within<'static> {
        Within {
            label: &|_| Label::default(),
            first: Vec::new(),
            not_next: Vec::new(),
        }
    }

    fn allows(&self, panel: usize, steps: &Steps) -> bool {
        match self.first.get(panel) {
            Some(first) => (self.label)(steps) == *first,
            None if panel == self.first.len() && !self.not_next.is_empty() => {
                !self.not_next.contains(&(self.label)(steps))
            }
            None => true,
        }
    }
}

/// A division as the steps of its panels, and what it costs.
#[derive(Clone)]
pub(super) struct DivisionSteps {
    pub cost: Cost,
    pub steps: Vec<Steps>,
}

/// What divisions of one cost are ranked by, smallest first.
pub(super) type Rank = (Vec<[Reverse<u32>; 2]>, Vec<[u8; 2]>, Vec<[Option<u16>; 2]>);

/// The rank of a division.
pub(super) fn rank(steps: &[Steps]) -> Rank {
    (
        steps.iter().map(ends).collect(),
        steps.iter().map(roles).collect(),
        steps.iter().map(pictures).collect(),
    )
}

fn ends(steps: &Steps) -> [Reverse<u32>; 2] {
    steps.map(|step| Reverse(step.to))
}

fn roles(steps: &Steps) -> [u8; 2] {
    steps.map(|step| step.role as u8)
}

fn pictures(steps: &Steps) -> [Option<u16>; 2] {
    steps.map(|step| step.picture)
}

/// Steps from the states of one layer, each with where it comes from.
type Ways = Vec<(u32, Edge)>;

/// The best of some divisions; nothing where there is none.
pub(super) fn best(graph: &Graph, within: &Within<'_>) -> Option<DivisionSteps> {
    let (cost, mut ways) = cheapest(graph, within)?;
    narrow(&mut ways, ends);
    narrow(&mut ways, roles);
    narrow(&mut ways, pictures);
    let steps = ways.iter().map(|ways| ways[0].1.steps);
    Some(DivisionSteps {
        cost,
        steps: steps.collect(),
    })
}

/// Every step of the cheapest divisions, panel by panel.
fn cheapest(graph: &Graph, within: &Within<'_>) -> Option<(Cost, Vec<Ways>)> {
    // Down to the last panel whose label matters, costs are those of divisions within alone.
    let labelled =
        (within.first.len() + usize::from(!within.not_next.is_empty())).min(graph.panels());
    let mut costs: Vec<FxHashMap<u32, Cost>> = vec![FxHashMap::from_iter([(0, 0)])];
    for panel in 0..labelled {
        let mut next: FxHashMap<u32, Cost> = FxHashMap::default();
        for (&state, &cost) in &costs[panel] {
            let edges = graph.edges(panel, state).iter();
            for edge in edges.filter(|edge| within.allows(panel, &edge.steps)) {
                let least = next.entry(edge.to).or_insert(Cost::MAX);
                *least = (*least).min(cost + edge.price);
            }
        }
        costs.push(next);
    }
    let whole = |(&state, &cost): (&u32, &Cost)| Some(graph.rest(labelled, state)? + cost);
    let least = costs[labelled].iter().filter_map(whole).min()?;
    // The steps of the cheapest ways, back from there and on from there.
    let mut ways: Vec<Ways> = vec![Ways::new(); graph.panels()];
    let on = costs[labelled]
        .iter()
        .filter(|entry| whole(*entry) == Some(least));
    let mut states: Vec<u32> = on.map(|(&state, _)| state).collect();
    states.sort_unstable();
    let mut before = states.clone();
    for panel in (0..labelled).rev() {
        let mut from: Vec<u32> = costs[panel].keys().copied().collect();
        from.sort_unstable();
        for &state in &from {
            let edges = graph.edges(panel, state).iter();
            for edge in edges.filter(|edge| within.allows(panel, &edge.steps)) {
                let cost = costs[panel][&state] + edge.price;
                if costs[panel + 1].get(&edge.to) == Some(&cost)
                    && before.binary_search(&edge.to).is_ok()
                {
                    ways[panel].push((state, *edge));
                }
            }
        }
        before = ways[panel].iter().map(|&(from, _)| from).collect();
        before.dedup();
    }
    for (panel, ways) in ways.iter_mut().enumerate().skip(labelled) {
        for &state in &states {
            for edge in graph.edges(panel, state) {
                let rest = graph.rest(panel + 1, edge.to).map(|rest| rest + edge.price);
                if rest.is_some() && rest == graph.rest(panel, state) {
                    ways.push((state, *edge));
                }
            }
        }
        states = ways.iter().map(|(_, edge)| edge.to).collect();
        states.sort_unstable();
        states.dedup();
    }
    Some((least, ways))
}

/// Keeps the ways whose list of keys, panel by panel, is the smallest.
fn narrow<K: Ord>(ways: &mut [Ways], key: impl Fn(&Steps) -> K) {
    let mut states: Vec<u32> = vec![0];
    for ways in ways.iter_mut() {
        ways.retain(|(from, _)| states.binary_search(from).is_ok());
        let least = ways.iter().map(|(_, edge)| key(&edge.steps)).min();
        ways.retain(|(_, edge)| Some(key(&edge.steps)) == least);
        states = ways.iter().map(|(_, edge)| edge.to).collect();
        states.sort_unstable();
        states.dedup();
    }
    // Ways that a later choice has cut off are dropped.
    for at in (1..ways.len()).rev() {
        let mut on: Vec<u32> = ways[at].iter().map(|&(from, _)| from).collect();
        on.sort_unstable();
        on.dedup();
        ways[at - 1].retain(|(_, edge)| on.binary_search(&edge.to).is_ok());
    }
}
