//! A sharper bound, where the first one leaves aside what would prove an answer: at those places alone that a division
//! may have which costs no more than the best that has been found.

use std::rc::Rc;

use super::bound::{Choice, NO_WAY, Rest};
use super::candidates::PanelCandidate;
use super::part_search::PartSearch;
use super::{Cost, Work};

impl PartSearch<'_> {
    /// Fills the bounds anew, at those places alone that a division may have which costs no more than `most`: there are so
    /// much fewer of them that more can be told apart. False where nothing more was.
    pub fn sharpen_bound(&mut self, most: Cost, work: &mut Work) -> bool {
        let before = self.left_aside;
        if before == 0 {
            return false;
        }
        let offers = self.offers_of_panels();
        let reached = self.reached_under(&offers, most);
        self.fill_bound_at(&offers, &reached, work);
        self.left_aside < before
    }

    /// The places at which each panel can begin in a division that costs no more than `most`, as far as the bound tells:
    /// forward from the first panel what it costs at least to come to a place, in the bound's own lanes and memories.
    fn reached_under(&mut self, offers: &[Rc<[PanelCandidate]>], most: Cost) -> Vec<Vec<usize>> {
        let places = self.problem.rows.len() + 1;
        let sizes = |track: &Self, panel: usize| {
            let bound = &track.bound[panel];
            (bound.lanes, bound.width)
        };
        let mut spent = Rest::new(0, places, sizes(self, 0));
        if let Some(at) = self.count.lane(0, 0).and_then(|lane| spent.at(0, lane)) {
            spent.costs[at] = 0;
        }
        let with_roles =
            (0..=offers.len()).all(|panel| self.bound[panel].width == self.roles.width(panel));
        let mut reached = Vec::with_capacity(offers.len());
        for (panel, offers) in offers.iter().enumerate() {
            let choices = self.choices(panel, offers, with_roles);
            let waits = self.costs_of_waiting(panel);
            let mut next = Rest::new(0, places, sizes(self, panel + 1));
            let mut here = Vec::new();
            for place in 0..places {
                let live = self.live(panel, place, &spent, most);
                if live.iter().any(|cost| *cost < NO_WAY) {
                    here.push(place);
                    let live = self.with_waiting(place, &waits, live);
                    self.go_on(panel, place, &choices, &live, &mut next);
                }
            }
            reached.push(here);
            spent = next;
        }
        reached
    }

    /// What has been spent down to a place, by lane and memory, where it and the rest come to no more than `most`.
    fn live(&self, panel: usize, place: usize, spent: &Rest, most: Cost) -> Vec<u32> {
        let pairs = spent.rows(place).iter().zip(self.bound[panel].rows(place));
        let under = pairs.map(|(spent, rest)| {
            let way = *spent < NO_WAY && *rest < NO_WAY;
            let fits = way && Cost::from(*spent) + Cost::from(*rest) <= most;
            if fits { *spent } else { NO_WAY }
        });
        under.collect()
    }

    /// The same with what all pay that wait there.
    fn with_waiting(&self, place: usize, waits: &[u32], live: Vec<u32>) -> Vec<u32> {
        let mut all = Rest {
            first: place,
            lanes: self.count.lanes(),
            width: live.len() / self.count.lanes(),
            costs: live,
        };
        self.add_waiting(place, waits, &mut all);
        all.costs
    }

    /// Goes on from a place over one panel.
    fn go_on(
        &mut self,
        panel: usize,
        place: usize,
        choices: &[Choice],
        live: &[u32],
        next: &mut Rest,
    ) {
        let width = live.len() / self.count.lanes();
        for choice in choices {
            for stretch in self.stretches(panel, &choice.offer, place).iter() {
                let to = stretch.to as usize;
                let price = u32::try_from(stretch.cost).unwrap_or(NO_WAY - 1);
                for (lane, row) in live.chunks_exact(width).enumerate() {
                    let Some((low, high)) = self.count.next(lane, choice.begins, place, to) else {
                        continue;
                    };
                    let pairs = row.iter().zip(&choice.moves);
                    for (spent, step) in pairs.filter(|(spent, _)| **spent < NO_WAY) {
                        let Some((memory, more)) = *step else {
                            continue;
                        };
                        let more = u32::try_from(more).unwrap_or(NO_WAY - 1);
                        let cost = spent.saturating_add(price).saturating_add(more);
                        for lane in low..=high {
                            let Some(at) = next.at(to, lane) else {
                                continue;
                            };
                            let known = &mut next.costs[at + memory as usize];
                            *known = (*known).min(cost.min(NO_WAY - 1));
                        }
                    }
                }
            }
        }
    }
}
