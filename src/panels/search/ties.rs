//! Which of two ways to a state goes on: the cheaper; of equal ones the one that wins by panel ends, then by
//! roles, then by pictures.

use std::cmp::{Ordering, Reverse};

use rustc_hash::FxHashMap;

use super::{Layer, Node, State};

/// Keeps the cheaper of two ways to a state; of equal ones the one that wins by panel ends, roles, pictures.
pub(super) fn keep(
    index: &mut FxHashMap<State, usize>,
    layer: &mut Layer,
    from: &Layer,
    state: State,
    node: Node,
) {
    match index.get(&state) {
        None => {
            index.insert(state, layer.states.len());
            layer.states.push(state);
            layer.nodes.push(node);
        }
        Some(&at) => {
            let known = &layer.nodes[at];
            let wins = node
                .cost
                .cmp(&known.cost)
                .then_with(|| compare(&node, known, from));
            if wins == Ordering::Less {
                layer.nodes[at] = node;
            }
        }
    }
}

/// Compares two ways by their panel ends (later first), then their roles, then their pictures.
pub(super) fn compare(a: &Node, b: &Node, from: &Layer) -> Ordering {
    let [ends_a, roles_a, pictures_a] = from.nodes[a.parent].rank;
    let [ends_b, roles_b, pictures_b] = from.nodes[b.parent].rank;
    let ends = (ends_a, Reverse(a.step.to)).cmp(&(ends_b, Reverse(b.step.to)));
    let roles = || (roles_a, a.step.role).cmp(&(roles_b, b.step.role));
    let pictures = || (pictures_a, a.step.picture).cmp(&(pictures_b, b.step.picture));
    ends.then_with(roles).then_with(pictures)
}

/// What ways are ranked by: the rank of the parent, and the step.
type RankKey<'a> = Box<dyn Fn(&Node) -> (u32, Reverse<usize>, usize) + 'a>;

/// Ranks the ways of a layer, each by the rank of its parent and its own step.
pub(super) fn rank(layer: &mut Layer, from: &Layer) {
    let keys: [RankKey<'_>; 3] = [
        Box::new(|node| (from.nodes[node.parent].rank[0], Reverse(node.step.to), 0)),
        Box::new(|node| {
            (
                from.nodes[node.parent].rank[1],
                Reverse(0),
                node.step.role as usize,
            )
        }),
        Box::new(|node| {
            let picture = node.step.picture.map_or(0, |picture| picture + 1);
            (from.nodes[node.parent].rank[2], Reverse(0), picture)
        }),
    ];
    for (slot, key) in keys.iter().enumerate() {
        let mut order: Vec<_> = layer
            .nodes
            .iter()
            .enumerate()
            .map(|(at, node)| (key(node), at))
            .collect();
        order.sort_unstable();
        let mut rank = 0;
        for at in 0..order.len() {
            if at > 0 && order[at].0 != order[at - 1].0 {
                rank += 1;
            }
            layer.nodes[order[at].1].rank[slot] = rank;
        }
    }
}
