//! Whether there is any division at all: depth first, so that where there are many the first is enough.

use rustc_hash::FxHashSet;

use super::Search;
use super::graph::{Move, Spot, State};
use crate::division::Cost;

impl Search<'_> {
    /// Whether any division keeps the hard rules. No state is left aside for want of room, and none looked at twice.
    pub fn has_division(&mut self) -> bool {
        if self.least().is_none() {
            return false;
        }
        let mut seen: Vec<FxHashSet<State>> = vec![FxHashSet::default(); self.panels + 1];
        let mut open: Vec<(usize, State)> = vec![(0, State::default())];
        let mut moves: [Vec<Move>; 2] = Default::default();
        while let Some((panel, state)) = open.pop() {
            if panel == self.panels {
                if self.is_done(&state) {
                    return true;
                }
                continue;
            }
            for (at, track) in self.tracks.iter_mut().enumerate() {
                moves[at].clear();
                track.moves(panel, state[at], Cost::MAX, &mut moves[at]);
            }
            let paired = self.tracks.len() == 2;
            // What is put down last is taken up first: the first of what a panel may carry.
            for one in moves[0].iter().rev() {
                let mut go_on = |other: Spot| {
                    let next = [one.spot, other];
                    if seen[panel + 1].insert(next) {
                        open.push((panel + 1, next));
                    }
                };
                if paired {
                    let in_step = moves[1].iter().filter(|other| other.stanzas == one.stanzas);
                    in_step.for_each(|other| go_on(other.spot));
                } else {
                    go_on(Spot::default());
                }
            }
        }
        false
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
