//! The backward pass: what the rest must cost at least, from every panel, place, memory of roles, and number of
//! pictures placed.

use std::rc::Rc;

use super::candidates::PanelCandidate;
use super::part_search::PartSearch;
use super::reach::of_kinds;
use super::roles::Move;
use super::{Cost, Work};
use crate::plan::RuleName;

/// A cost that stands for no way. Greater costs are told as the one below it, which is still a bound.
const NO_WAY: u32 = u32::MAX;
/// With more bounds than this, pictures are not counted; with still more, memories of roles are left aside too.
const MOST: usize = 40_000_000;
/// How many that wait are told apart where any number may.
const REACH: usize = 4;

/// What the rest must cost at least from one panel on, by place, by lane (how many pictures have been placed), and
/// by what may be remembered of roles.
#[derive(Default)]
pub(super) struct Rest {
    first: usize,
    lanes: usize,
    width: usize,
    costs: Vec<u32>,
}

impl Rest {
    fn new(first: usize, places: usize, (lanes, width): (usize, usize)) -> Rest {
        Rest {
            first,
            lanes,
            width,
            costs: vec![NO_WAY; places * lanes * width],
        }
    }

    fn at(&self, place: usize, lane: usize) -> Option<usize> {
        let place = place.checked_sub(self.first)?;
        Some((place * self.lanes + lane) * self.width)
    }

    fn least(&self, place: usize, lane: usize, memory: u32) -> Option<Cost> {
        let memory = if self.width == 1 { 0 } else { memory as usize };
        let known = self.costs.get(self.at(place, lane)? + memory).copied();
        known.filter(|cost| *cost < NO_WAY).map(Cost::from)
    }

    /// All lanes of a place, one after the other; none where no panel can begin.
    fn rows(&self, place: usize) -> &[u32] {
        let Some(at) = self.at(place, 0) else {
            return &[];
        };
        self.costs
            .get(at..at + self.lanes * self.width)
            .unwrap_or(&[])
    }
}

/// How the bound counts pictures of the queue.
#[derive(Default)]
pub(super) enum Count {
    /// Not at all.
    #[default]
    Not,
    /// From those whose words stand before a place: so many of these may wait yet, and so many others may have
    /// come before their words.
    Near {
        /// By place: how many have their words before it.
        called: Vec<usize>,
        /// The most that wait: each must come within so many panels, on one of its own.
        latest: usize,
        /// The most that came early.
        early: usize,
    },
    /// The same where any number may wait or have come: those beyond `reach` are not told apart.
    Around { called: Vec<usize>, reach: usize },
    /// All of them.
    All {
        called: Vec<usize>,
        /// How many there are.
        pictures: usize,
    },
}

impl Count {
    fn lanes(&self) -> usize {
        match self {
            Count::Not => 1,
            Count::Near { latest, early, .. } => latest + early + 1,
            Count::Around { reach, .. } => 2 * reach + 1,
            Count::All { pictures, .. } => pictures + 1,
        }
    }

    /// How many more have their words before a place than have been placed there, in a lane; below nought where more
    /// have been placed. Of those that are not told apart, the fewest.
    fn waiting(&self, lane: usize, place: usize) -> i64 {
        let lane = lane as i64;
        match self {
            Count::Not => 0,
            Count::Near { latest, .. } => *latest as i64 - lane,
            Count::Around { reach, .. } => *reach as i64 - lane,
            Count::All { called, .. } => called[place] as i64 - lane,
        }
    }

    /// The lane of so many placed before a place; nothing where that cannot be.
    fn lane(&self, placed: usize, place: usize) -> Option<usize> {
        match self {
            Count::Not => Some(0),
            Count::Near {
                called,
                latest,
                early,
            } => {
                let lane = (placed + latest).checked_sub(called[place])?;
                (lane <= latest + early).then_some(lane)
            }
            Count::Around { called, reach } => {
                let lane = (placed + reach).saturating_sub(called[place]);
                Some(lane.min(2 * reach))
            }
            Count::All { .. } => Some(placed),
        }
    }

    /// The lanes, from one to another, that may lie behind a panel that words stand on and a picture may begin on;
    /// nothing where that cannot be.
    fn next(&self, lane: usize, begins: usize, from: usize, to: usize) -> Option<(usize, usize)> {
        let one = |lane: usize| (lane, lane);
        match self {
            Count::Not => Some((0, 0)),
            Count::Near {
                called,
                latest,
                early,
            } => {
                let here = called[to] - called[from];
                let next = (lane + begins).checked_sub(here)?;
                let waits = latest.saturating_sub(next);
                let came = next.saturating_sub(*latest);
                // Within one panel, only those of this one can wait on or have come.
                let may = next <= latest + early
                    && (*latest > 1 || waits <= here)
                    && (*early > 1 || came <= begins);
                may.then_some(one(next))
            }
            Count::Around { called, reach } => {
                let last = 2 * reach;
                let here = called[to] - called[from];
                let next = (lane + begins).saturating_sub(here).min(last);
                Some(match lane {
                    // More may wait, or have come, than the lane says.
                    0 => (0, next),
                    _ if lane == last => (next, last),
                    _ => one(next),
                })
            }
            Count::All { pictures, .. } => {
                Some(lane + begins).filter(|next| next <= pictures).map(one)
            }
        }
    }
}

/// What a panel may carry, as far as the bound tells it apart.
struct Choice {
    offer: PanelCandidate,
    moves: Vec<Move>,
    /// 1 where a picture of the queue begins.
    begins: usize,
}

impl PartSearch<'_> {
    /// What the rest must cost at least; nothing where no way leads on from there.
    pub fn least(&self, panel: usize, place: usize, placed: usize, memory: u32) -> Option<Cost> {
        let lane = self.count.lane(placed, place)?;
        self.bound[panel].least(place, lane, memory)
    }

    /// Fills the bounds, panel by panel from the last. Places that no words could have reached by then, or that
    /// leave too much for the panels that follow, are passed over.
    pub fn fill_bound(&mut self, work: &mut Work) {
        let (panels, places) = (self.problem.panels.len(), self.problem.rows.len() + 1);
        let offers: Vec<Rc<[PanelCandidate]>> =
            (0..panels).map(|panel| self.all_offers(panel)).collect();
        let kinds: Vec<Vec<PanelCandidate>> =
            offers.iter().map(|offers| of_kinds(offers)).collect();
        let needed = self.needed(&kinds);
        let reached = self.reached(&kinds, &needed);
        let wide = (0..panels).map(|panel| reached[panel].len() * self.roles.width(panel));
        let wide: usize = wide.sum();
        let with_roles = wide <= MOST;
        if with_roles {
            let may = |count: &Count| wide * count.lanes() <= MOST;
            self.count = self
                .counts_of_pictures()
                .into_iter()
                .find(may)
                .unwrap_or_default();
        }
        let lanes = self.count.lanes();
        let sizes = |track: &PartSearch<'_>, panel: usize| match with_roles {
            true => (lanes, track.roles.width(panel)),
            false => (lanes, 1),
        };
        self.bound.resize_with(panels + 1, Rest::default);
        let mut end = Rest::new(places - 1, 1, sizes(self, panels));
        if let Some(lane) = self.count.lane(self.queue.len(), places - 1)
            && let Some(at) = end.at(places - 1, lane)
        {
            let width = end.width;
            end.costs[at..at + width].fill(0);
        }
        self.bound[panels] = end;
        for panel in (0..panels).rev() {
            let first = reached[panel].first().copied().unwrap_or(0);
            let count = reached[panel].last().map_or(0, |last| last - first + 1);
            let mut rest = Rest::new(first, count, sizes(self, panel));
            let choices = self.choices(panel, &offers[panel], with_roles);
            let waits = self.costs_of_waiting(panel);
            for &place in &reached[panel] {
                self.fill_rows(panel, place, &choices, &mut rest);
                self.add_waiting(place, &waits, &mut rest);
            }
            work.bounds += rest.costs.len();
            self.bound[panel] = rest;
        }
        work.bytes += work.bounds * size_of::<u32>();
    }

    fn fill_rows(&mut self, panel: usize, place: usize, choices: &[Choice], here: &mut Rest) {
        let (lanes, width) = (here.lanes, here.width);
        let Some(at) = here.at(place, 0).filter(|_| width > 0) else {
            return;
        };
        let rows = &mut here.costs[at..at + lanes * width];
        for choice in choices {
            let stretches = self.stretches(panel, &choice.offer, place);
            let rest = &self.bound[panel + 1];
            if let (1, 1, &[Some((0, more))]) =
                (rows.len(), rest.lanes * rest.width, &choice.moves[..])
            {
                // Nothing but places: the same by the shortest way.
                let least = stretches.iter().filter_map(|stretch| {
                    let at = (stretch.to as usize).checked_sub(rest.first)?;
                    let rest = rest.costs.get(at).filter(|cost| **cost < NO_WAY)?;
                    Some((stretch.cost + more).saturating_add(Cost::from(*rest)))
                });
                let least = least.min().map_or(NO_WAY, |cost| {
                    u32::try_from(cost).unwrap_or(NO_WAY).min(NO_WAY - 1)
                });
                rows[0] = rows[0].min(least);
                continue;
            }
            for stretch in stretches.iter() {
                let to = stretch.to as usize;
                let next_rows = rest.rows(to);
                if next_rows.is_empty() {
                    continue;
                }
                let price = u32::try_from(stretch.cost).unwrap_or(NO_WAY - 1);
                for (lane, row) in rows.chunks_exact_mut(width).enumerate() {
                    let Some((low, high)) = self.count.next(lane, choice.begins, place, to) else {
                        continue;
                    };
                    for next in low..=high {
                        let next = &next_rows[next * rest.width..];
                        for (least, step) in row.iter_mut().zip(&choice.moves) {
                            let Some((memory, more)) = *step else {
                                continue;
                            };
                            let rest = next[memory as usize];
                            if rest < NO_WAY {
                                let more = u32::try_from(more).unwrap_or(NO_WAY - 1);
                                let cost = price.saturating_add(more).saturating_add(rest);
                                *least = (*least).min(cost.min(NO_WAY - 1));
                            }
                        }
                    }
                }
            }
        }
    }

    /// What a panel may carry, one standing for all that cost the same.
    fn choices(&self, panel: usize, offers: &[PanelCandidate], with_roles: bool) -> Vec<Choice> {
        let mut choices: Vec<Choice> = Vec::new();
        for offer in offers {
            let moves = match with_roles {
                true => self.roles.moves(panel, offer.row).to_vec(),
                false => vec![Some((0, 0))],
            };
            let queued = |at: usize| self.problem.pictures[at].queued;
            let begins = usize::from(offer.begins && offer.picture.is_some_and(queued));
            let same = |known: &Choice| {
                known.offer.kind == offer.kind && known.begins == begins && known.moves == moves
            };
            if !choices.iter().any(same) {
                choices.push(Choice {
                    offer: *offer,
                    moves,
                    begins,
                });
            }
        }
        choices
    }

    /// What it costs at least to come to a panel, by how many wait: from all pictures before their words up to the
    /// words of all before them.
    fn costs_of_waiting(&self, panel: usize) -> Vec<u32> {
        let all = self.queue.len();
        let cost = |number: usize| {
            let words = number.saturating_sub(all);
            let cost = self.reaching(panel, words, all.saturating_sub(number));
            u32::try_from(cost).unwrap_or(NO_WAY - 1)
        };
        (0..=2 * all).map(cost).collect()
    }

    /// Adds what all pay that wait at a place, whatever its panel carries.
    fn add_waiting(&self, place: usize, costs: &[u32], here: &mut Rest) {
        let (lanes, width) = (here.lanes, here.width);
        let Some(at) = here.at(place, 0).filter(|_| width > 0) else {
            return;
        };
        let rows = &mut here.costs[at..at + lanes * width];
        for (lane, row) in rows.chunks_exact_mut(width).enumerate() {
            let all = self.queue.len() as i64;
            let waiting = self.count.waiting(lane, place) + all;
            let cost = costs[waiting.clamp(0, 2 * all) as usize];
            for least in row.iter_mut().filter(|least| **least < NO_WAY) {
                *least = least.saturating_add(cost).min(NO_WAY - 1);
            }
        }
    }

    /// How pictures can be counted, the best way first: near their words, if each of them must stand there.
    fn counts_of_pictures(&self) -> Vec<Count> {
        let pictures = || self.queue.iter().map(|&at| &self.problem.pictures[at]);
        if self.queue.is_empty() {
            return Vec::new();
        }
        let windows: Option<Vec<_>> = pictures().map(|picture| picture.comes).collect();
        let words = pictures().map(|picture| picture.word_row.unwrap_or(0));
        let words: Vec<usize> = words.collect();
        let before = |place: usize| words.partition_point(|&word| word < place);
        let called: Vec<usize> = (0..=self.problem.rows.len()).map(before).collect();
        let known = pictures().all(|picture| picture.word_row.is_some());
        let hard = known && self.is_hard(RuleName::PictureComes);
        let (Some(windows), true) = (windows, hard) else {
            let all = Count::All {
                called: called.clone(),
                pictures: self.queue.len(),
            };
            let around = |reach: usize| Count::Around {
                called: called.clone(),
                reach,
            };
            let near = self.is_in_use(RuleName::Nearness) && self.queue.len() > 2 * REACH;
            let mut counts: Vec<Count> = (1..=REACH).rev().map(around).collect();
            counts.insert(if near { counts.len() } else { 0 }, all);
            return counts;
        };
        let latest = windows.iter().map(|window| window.latest).max();
        let soonest = windows.iter().map(|window| window.soonest).min();
        let panels = |count: Option<i8>| usize::try_from(count.unwrap_or(0)).unwrap_or(0);
        vec![Count::Near {
            called,
            latest: panels(latest),
            early: panels(soonest.map(i8::saturating_neg)),
        }]
    }
}
