//! The backward pass: what the rest must cost at least, from every panel, place and memory of roles.

use std::rc::Rc;

use super::offers::Offer;
use super::roles::Move;
use super::track::{Stretches, Track};
use super::{Cost, Work};
use crate::plan::RuleName;

/// A cost that stands for no way. Greater costs are told as the one below it, which is still a bound.
const NO_WAY: u32 = u32::MAX;
/// With more bounds than this, memories of roles are left aside.
const MOST: usize = 60_000_000;

/// What the rest must cost at least from one panel on, for the places that the panel may begin at and what may
/// then be remembered of roles.
#[derive(Default)]
pub(super) struct Rest {
    first: usize,
    width: usize,
    costs: Vec<u32>,
}

impl Rest {
    fn least(&self, place: usize, memory: u32) -> Option<Cost> {
        let memory = if self.width == 1 { 0 } else { memory as usize };
        let at = place.checked_sub(self.first)? * self.width + memory;
        let known = self.costs.get(at).copied();
        known.filter(|cost| *cost < NO_WAY).map(Cost::from)
    }

    fn row(&self, place: usize) -> &[u32] {
        let Some(at) = place.checked_sub(self.first) else {
            return &[];
        };
        let at = at * self.width;
        self.costs.get(at..at + self.width).unwrap_or(&[])
    }
}

/// What a panel may carry, as far as the bound tells it apart.
struct Choice {
    offer: Offer,
    moves: Vec<Move>,
    /// Whether it is a picture that must stand near its words.
    near: bool,
}

/// Where the words of pictures lie, and how far from them a panel with a picture may begin and end.
struct Near {
    words: Vec<usize>,
    back: usize,
    ahead: usize,
}

impl Track<'_> {
    /// What the rest must cost at least; nothing where no way leads on from there.
    pub fn least(&self, panel: usize, place: usize, memory: u32) -> Option<Cost> {
        self.bound[panel].least(place, memory)
    }

    /// Fills the bounds, panel by panel from the last. Places that no words could have reached by then, or that
    /// leave too much for the panels that follow, are passed over.
    pub fn fill_bound(&mut self, work: &mut Work) {
        let (panels, places) = (self.problem.panels.len(), self.problem.rows.len() + 1);
        let offers: Vec<Rc<[Offer]>> = (0..panels).map(|panel| self.all_offers(panel)).collect();
        let kinds: Vec<Vec<Offer>> = offers.iter().map(|offers| of_kinds(offers)).collect();
        let needed = self.needed(&kinds);
        let reached = self.reached(&kinds, &needed);
        let wide: usize = (0..panels)
            .map(|panel| reached[panel].len() * self.roles.width(panel))
            .sum();
        let with_roles = wide <= MOST;
        let near = self.near();
        let width = |track: &Track<'_>, panel: usize| match with_roles {
            true => track.roles.width(panel),
            false => 1,
        };
        self.bound.resize_with(panels + 1, Rest::default);
        self.bound[panels] = Rest {
            first: places - 1,
            width: width(self, panels),
            costs: vec![0; width(self, panels)],
        };
        for panel in (0..panels).rev() {
            let width = width(self, panel);
            self.bound[panel].width = width;
            let (Some(&first), Some(&last)) = (reached[panel].first(), reached[panel].last())
            else {
                continue;
            };
            let choices = self.choices(panel, &offers[panel], with_roles, near.is_some());
            let mut costs = vec![NO_WAY; (last - first + 1) * width];
            for &place in &reached[panel] {
                let at = (place - first) * width;
                let row = &mut costs[at..at + width];
                self.fill_row(panel, place, &choices, near.as_ref(), row);
            }
            work.bounds += costs.len();
            self.bound[panel] = Rest {
                first,
                width,
                costs,
            };
        }
        work.bytes += work.bounds * size_of::<u32>();
    }

    fn fill_row(
        &mut self,
        panel: usize,
        place: usize,
        choices: &[Choice],
        near: Option<&Near>,
        row: &mut [u32],
    ) {
        let called = near.and_then(|near| {
            let from = place.saturating_sub(near.back);
            let at = near.words.partition_point(|&word| word < from);
            near.words.get(at).copied()
        });
        for choice in choices {
            let stretches = self.stretches(panel, &choice.offer, place);
            let rest = &self.bound[panel + 1];
            for stretch in stretches.iter() {
                let to = stretch.to as usize;
                if choice.near
                    && let Some(near) = near
                    && called.is_none_or(|word| word >= to + near.ahead)
                {
                    continue;
                }
                let next = rest.row(to);
                if next.is_empty() {
                    continue;
                }
                let price = u32::try_from(stretch.cost).unwrap_or(NO_WAY - 1);
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

    /// What a panel may carry, one standing for all that cost the same.
    fn choices(
        &self,
        panel: usize,
        offers: &[Offer],
        with_roles: bool,
        with_near: bool,
    ) -> Vec<Choice> {
        let mut choices: Vec<Choice> = Vec::new();
        for offer in offers {
            let moves = match with_roles {
                true => self.roles.moves(panel, offer.row).to_vec(),
                false => vec![Some((0, 0))],
            };
            let queued = offer
                .picture
                .is_some_and(|at| self.problem.pictures[at].queued);
            let near = with_near && offer.begins && queued;
            let same = |known: &Choice| {
                known.offer.kind == offer.kind && known.near == near && known.moves == moves
            };
            if !choices.iter().any(same) {
                choices.push(Choice {
                    offer: *offer,
                    moves,
                    near,
                });
            }
        }
        choices
    }

    /// How near to words pictures of the queue must stand, if each of them must.
    fn near(&self) -> Option<Near> {
        if !self.is_hard(RuleName::PictureComes) || self.queue.is_empty() {
            return None;
        }
        let pictures = self.queue.iter().map(|&at| &self.problem.pictures[at]);
        let pictures: Vec<_> = pictures.collect();
        let windows: Option<Vec<_>> = pictures.iter().map(|picture| picture.comes).collect();
        let words: Option<Vec<usize>> = pictures.iter().map(|picture| picture.word_row).collect();
        let (windows, words) = (windows?, words?);
        let latest = windows.iter().map(|window| window.latest).max()?;
        let soonest = windows.iter().map(|window| window.soonest).min()?;
        let longest = self.longest();
        let panels = |count: i8| longest * usize::try_from(count).unwrap_or(0);
        Some(Near {
            words,
            back: panels(latest),
            ahead: panels(soonest.saturating_neg()),
        })
    }

    /// The fewest panels that can take the words from each place on that any panel can begin at, if every panel
    /// could be of the kind that suits best.
    fn needed(&mut self, offers: &[Vec<Offer>]) -> Vec<usize> {
        let mut kinds: Vec<(usize, Offer)> = Vec::new();
        for (panel, offers) in offers.iter().enumerate() {
            for offer in offers.iter() {
                if !kinds.iter().any(|(_, known)| known.kind == offer.kind) {
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
                for stretch in self.stretches(*panel, offer, place).iter() {
                    met[stretch.to as usize] = true;
                }
            }
        }
        let mut needed = vec![usize::MAX; places];
        needed[places - 1] = 0;
        for place in (0..places - 1).rev().filter(|&place| met[place]) {
            for (panel, offer) in &kinds {
                let stretches: Stretches = self.stretches(*panel, offer, place);
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
    fn reached(&mut self, offers: &[Vec<Offer>], needed: &[usize]) -> Vec<Vec<usize>> {
        let panels = self.problem.panels.len();
        let mut reached = vec![vec![0]];
        let mut next = vec![false; self.problem.rows.len() + 1];
        for panel in 0..panels {
            let (mut first, mut last) = (usize::MAX, 0);
            for &place in &reached[panel] {
                for offer in offers[panel].iter() {
                    for stretch in self.stretches(panel, offer, place).iter() {
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
fn of_kinds(offers: &[Offer]) -> Vec<Offer> {
    let mut kinds: Vec<Offer> = Vec::new();
    for offer in offers {
        if !kinds.iter().any(|known| known.kind == offer.kind) {
            kinds.push(*offer);
        }
    }
    kinds
}
