//! Whether there is any division at all: depth first, so that where there are many the first is enough.

use std::cmp::Reverse;

use rustc_hash::FxHashSet;

use super::Search;
use super::graph::{Move, Spot, State};
use crate::division::Cost;

impl Search<'_> {
    /// Whether any division keeps the hard rules. No state is left aside for want of room, and none looked at twice.
    pub fn has_division(&mut self) -> bool {
        self.look(usize::MAX) == Some(true)
    }

    /// The same, if it is known once so many states have been looked at.
    pub fn look(&mut self, most: usize) -> Option<bool> {
        if self.least().is_none() {
            return Some(false);
        }
        let mut seen: Vec<FxHashSet<State>> = vec![FxHashSet::default(); self.panels + 1];
        let mut open: Vec<(usize, State)> = vec![(0, State::default())];
        let mut ways: Vec<(Promise, State)> = Vec::new();
        let mut looked = 0;
        while let Some((panel, state)) = open.pop() {
            if panel == self.panels {
                if self.is_done(&state) {
                    return Some(true);
                }
                continue;
            }
            looked += 1;
            if looked > most {
                return None;
            }
            self.ways_on(panel, &state, &mut ways);
            // What is put down last is taken up first: what promises most.
            ways.sort_by_key(|(promise, _)| *promise);
            for (_, next) in ways.drain(..).rev() {
                if seen[panel + 1].insert(next) {
                    open.push((panel + 1, next));
                }
            }
        }
        Some(false)
    }

    /// The states that a state leads to.
    fn ways_on(&mut self, panel: usize, state: &State, ways: &mut Vec<(Promise, State)>) {
        let mut moves: [Vec<Move>; 2] = Default::default();
        for (at, track) in self.tracks.iter_mut().enumerate() {
            track.moves(panel, state[at], Cost::MAX, &mut moves[at]);
        }
        let [ones, others] = &moves;
        if self.tracks.len() == 1 {
            ways.extend(
                ones.iter()
                    .map(|one| (promise(&[one]), [one.spot, Spot::default()])),
            );
            return;
        }
        for one in ones {
            let in_step = others.iter().filter(|other| other.stanzas == one.stanzas);
            ways.extend(in_step.map(|other| (promise(&[one, other]), [one.spot, other.spot])));
        }
    }

    /// Whether a state behind the last panel has all words and all pictures before it.
    pub(super) fn is_done(&self, state: &State) -> bool {
        let mut tracks = self.tracks.iter().zip(state);
        tracks.all(|(track, spot)| {
            spot.place as usize == track.problem.rows.len()
                && track.placed(spot.placed).count() == track.queue.len()
                && spot.left == 0
        })
    }
}

/// What promises most comes first: what costs least with the rest, then what leaves the fewest words.
type Promise = (Cost, Reverse<u32>);

fn promise(moves: &[&Move]) -> Promise {
    let costs = moves.iter().map(|one| one.price + one.rest);
    let places = moves.iter().map(|one| one.spot.place);
    (costs.sum(), Reverse(places.sum()))
}
