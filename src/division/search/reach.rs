//! Which places panels can begin at.

use super::candidates::PanelCandidate;
use super::part_search::PartSearch;
use super::stretches::Stretches;

impl PartSearch<'_> {
    /// The fewest panels that can take the words from each place on that any panel can begin at, if every panel
    /// could be of the kind that suits best.
    pub(super) fn needed(&mut self, offers: &[Vec<PanelCandidate>]) -> Vec<usize> {
        let mut kinds: Vec<(usize, PanelCandidate)> = Vec::new();
        for (panel, offers) in offers.iter().enumerate() {
            for offer in offers.iter() {
                // A panel without words takes none.
                let takes = offer.role.has_words() || offer.picture.is_some();
                if takes && !kinds.iter().any(|(_, known)| known.kind == offer.kind) {
                    kinds.push((panel, *offer));
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
            for (panel, offer) in &kinds {
                for stretch in self.stretches_of_kind(*panel, offer, place).iter() {
                    met[stretch.to as usize] = true;
                }
            }
        }
        let mut needed = vec![usize::MAX; places];
        needed[places - 1] = 0;
        for place in (0..places - 1).rev().filter(|&place| met[place]) {
            for (panel, offer) in &kinds {
                let stretches: Stretches = self.stretches_of_kind(*panel, offer, place);
                for to in stretches.iter().map(|stretch| stretch.to as usize) {
                    if to > place && needed[to] < usize::MAX {
                        needed[place] = needed[place].min(needed[to] + 1);
                    }
                }
            }
        }
        needed
    }

    /// The places at which each panel can begin, in order, those left out that need more panels than follow.
    pub(super) fn reached(
        &mut self,
        offers: &[Vec<PanelCandidate>],
        needed: &[usize],
    ) -> Vec<Vec<usize>> {
        let panels = self.problem.panels.len();
        let mut reached = vec![vec![0]];
        let mut next = vec![false; self.problem.rows.len() + 1];
        for panel in 0..panels {
            let (mut first, mut last) = (usize::MAX, 0);
            for &place in &reached[panel] {
                for offer in offers[panel].iter() {
                    for stretch in self.stretches_of_kind(panel, offer, place).iter() {
                        let to = stretch.to as usize;
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
}

/// One offer of each kind.
pub(super) fn of_kinds(offers: &[PanelCandidate]) -> Vec<PanelCandidate> {
    let mut kinds: Vec<PanelCandidate> = Vec::new();
    for offer in offers {
        if !kinds.iter().any(|known| known.kind == offer.kind) {
            kinds.push(*offer);
        }
    }
    kinds
}
