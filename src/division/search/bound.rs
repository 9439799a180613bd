//! The backward pass: what the rest must cost at least, from every place and panel, by what is remembered of roles and
//! by the number of pictures placed.
//!
//! Panels of a class may carry the same words for the same cost. So it goes place by place, from the last: each stretch
//! of words is looked at once for all panels together, whose costs lie behind each other. What roles ask of each panel
//! is added beforehand, to what follows the words.

use std::ops::Range;
use std::sync::Arc;

use super::candidates::PanelCandidate;
use super::choices::Choice;
use super::count::Count;
use super::part_search::PartSearch;
use super::reach::Reach;
use super::{Cost, Work};

/// A cost that stands for no way.
const NO_WAY: u32 = 1 << 31;
/// Greater costs are told as this, which is still a bound, and prices of single steps as no more than the next one: a
/// sum of both is still a way.
const MOST_COST: u32 = MOST_PRICE - 1;
const MOST_PRICE: u32 = 1 << 30;
/// With more bounds than this, pictures are not counted; with still more, memories of roles are left aside too.
const MOST: usize = 40_000_000;
/// From how many places on stretches are found at a time.
const AT_ONCE: usize = 512;

/// What the rest must cost at least: by place, by lane (how many pictures have been placed), by panel, and by what may
/// be remembered of roles.
#[derive(Default)]
pub(super) struct Bound {
    /// By panel, and for the end: the number of its first memory in the whole part; and how many there are in all.
    before: Vec<usize>,
    /// Whether memories of a panel are told apart.
    with_roles: bool,
    lanes: usize,
    places: Vec<Costs>,
    costs: Vec<u32>,
}

/// Where the costs of some memories lie, which follow each other, lane by lane.
#[derive(Clone, Copy, Default)]
struct Costs {
    begin: usize,
    low: usize,
    high: usize,
}

impl Costs {
    /// Where those of a lane lie, and of some of its memories.
    fn lane(self, lane: usize, low: usize, high: usize) -> Range<usize> {
        let begin = self.begin + lane * (self.high - self.low);
        begin + low - self.low..begin + high - self.low
    }
}

impl Bound {
    fn new(places: usize, lanes: usize, widths: impl Iterator<Item = usize>) -> Bound {
        let mut before = vec![0];
        for width in widths {
            before.push(before[before.len() - 1] + width);
        }
        Bound {
            before,
            with_roles: true,
            lanes,
            places: vec![Costs::default(); places],
            costs: Vec::new(),
        }
    }

    fn least(&self, panel: usize, place: usize, lane: usize, memory: u32) -> Option<Cost> {
        let memory = self.before[panel] + if self.with_roles { memory as usize } else { 0 };
        let of = self.places[place];
        if !(of.low..of.high).contains(&memory) {
            return None;
        }
        let cost = self.costs[of.lane(lane, memory, memory + 1).start];
        (cost < NO_WAY).then_some(Cost::from(cost))
    }

    /// How many costs there are, for so many lanes.
    fn size(&self, reach: &Reach) -> usize {
        let ends = (0..self.places.len()).filter_map(|place| reach.ends(place));
        let wide = ends.map(|(first, last)| self.before[last + 1] - self.before[first]);
        wide.sum()
    }
}

/// What follows words that panels carry by a choice: what that asks of roles, and the rest, from the place where they
/// end.
#[derive(Default)]
struct Ahead {
    of: Costs,
    costs: Vec<u32>,
}

/// All that the pass goes by.
struct Pass {
    choices: Vec<Choice>,
    reach: Reach,
    /// By panel: what those pay who wait when it begins.
    reaching: Vec<Waits>,
    /// What those pay on a panel who still wait behind it.
    leaving: Waits,
    /// By place, counted around, and by choice.
    ahead: Vec<Vec<Ahead>>,
}

impl PartSearch<'_> {
    /// What the rest must cost at least, which before the bounds are filled is not known to be anything; nothing where no
    /// way leads on from there.
    pub fn least(&self, panel: usize, place: usize, placed: usize, memory: u32) -> Option<Cost> {
        if self.bound.places.is_empty() {
            return Some(0);
        }
        let lane = self.count.lane(placed, place)?;
        self.bound.least(panel, place, lane, memory)
    }

    /// Fills the bounds. Places that no words could have reached by a panel, or that leave too much for the panels that
    /// follow, are passed over.
    pub fn fill_bound(&mut self, work: &mut Work) {
        let (panels, places) = (self.problem.panels.len(), self.problem.rows.len() + 1);
        let offers: Vec<Arc<[PanelCandidate]>> =
            (0..panels).map(|panel| self.all_offers(panel)).collect();
        let reach = self.reach(&offers);
        let widths = (0..=panels).map(|panel| self.roles.width(panel));
        let mut bound = Bound::new(places, 1, widths);
        let wide = bound.size(&reach);
        if wide <= MOST {
            let may = |count: &Count| wide * count.lanes() <= MOST;
            let mut counts = self.counts_of_pictures().into_iter();
            self.count = counts.find(may).unwrap_or_default();
        } else {
            bound = Bound::new(places, 1, std::iter::repeat_n(1, panels + 1));
            bound.with_roles = false;
        }
        bound.lanes = self.count.lanes();
        let choices = self.choices(&offers, &bound.before, bound.with_roles);
        let ahead = || choices.iter().map(|_| Ahead::default()).collect();
        let mut pass = Pass {
            ahead: (0..=reach.longest).map(|_| ahead()).collect(),
            reaching: (0..panels)
                .map(|panel| {
                    self.by_waiting(|words, pictures| self.reaching(panel, words, pictures))
                })
                .collect(),
            leaving: self.by_waiting(|words, pictures| self.leaving(words, pictures)),
            choices,
            reach,
        };
        bound
            .costs
            .reserve_exact(bound.size(&pass.reach) * bound.lanes);
        self.bound = bound;
        let mut end = places;
        while end > 0 {
            let begin = end.saturating_sub(AT_ONCE);
            self.find_ahead(begin..end, &pass);
            (begin..end)
                .rev()
                .for_each(|place| self.fill_place(place, &mut pass));
            end = begin;
        }
        work.bounds += self.bound.costs.len();
        work.bytes += work.bounds * size_of::<u32>();
    }

    /// Finds the stretches of words from some places on that the pass asks for, on all cores.
    fn find_ahead(&mut self, places: Range<usize>, pass: &Pass) {
        let asked = places.flat_map(|place| {
            let meet = move |choice: &&Choice| pass.reach.meets(place, &choice.panels);
            let choices = pass.choices.iter().filter(meet);
            choices.map(move |choice| (choice.panel, &choice.offer, place))
        });
        self.find_stretches_of_kinds(asked.collect());
    }

    /// Fills those of a place, for every panel that can begin there.
    fn fill_place(&mut self, place: usize, pass: &mut Pass) {
        // What was kept for a place farther down is not of this one.
        let around = pass.ahead.len();
        let ahead = pass.ahead[place % around].iter_mut();
        ahead.for_each(|ahead| ahead.of = Costs::default());
        let Some((first, last)) = pass.reach.ends(place) else {
            return;
        };
        let bound = &mut self.bound;
        let of = Costs {
            begin: bound.costs.len(),
            low: bound.before[first],
            high: bound.before[last + 1],
        };
        bound.places[place] = of;
        let end = of.begin + bound.lanes * (of.high - of.low);
        bound.costs.resize(end, NO_WAY);
        let mut still: Vec<(usize, u32)> = Vec::new();
        for (at, choice) in pass.choices.iter().enumerate() {
            if !pass.reach.meets(place, &choice.panels) {
                continue;
            }
            for stretch in self.stretches(choice.panel, &choice.offer, place).iter() {
                let to = stretch.to as usize;
                let price = price(stretch.cost);
                if to == place {
                    still.push((at, price));
                } else {
                    let ahead = &pass.ahead[to % (pass.reach.longest + 1)][at];
                    self.add_words(of, ahead, (place, to), choice.begins, price);
                }
            }
        }
        let end = self.problem.panels.len();
        if place == self.problem.rows.len()
            && let Some(lane) = self.count.lane(self.queue.len(), place)
            && last == end
        {
            let done = of.lane(lane, self.bound.before[end], of.high);
            self.bound.costs[done].fill(0);
        }
        for panel in (first..(last + 1).min(end)).rev() {
            self.stand_still(of, (panel, place), &still, pass);
        }
        self.look_ahead(of, place, (first, last), pass);
    }

    /// Adds words from one place to another, for all panels that may carry them.
    fn add_words(
        &mut self,
        of: Costs,
        ahead: &Ahead,
        (from, to): (usize, usize),
        begins: usize,
        price: u32,
    ) {
        let (low, high) = (of.low.max(ahead.of.low), of.high.min(ahead.of.high));
        if low >= high {
            return;
        }
        for lane in 0..self.bound.lanes {
            let Some((first, last)) = self.count.next(lane, begins, from, to) else {
                continue;
            };
            let here = &mut self.bound.costs[of.lane(lane, low, high)];
            for next in first..=last {
                let rest = &ahead.costs[ahead.of.lane(next, low, high)];
                for (least, rest) in here.iter_mut().zip(rest) {
                    *least = (*least).min(rest.wrapping_add(price));
                }
            }
        }
    }

    /// Adds what a panel may carry that leaves words where they are, and what all pay that wait when it begins.
    fn stand_still(
        &mut self,
        of: Costs,
        (panel, place): (usize, usize),
        still: &[(usize, u32)],
        pass: &Pass,
    ) {
        let memories = self.bound.before[panel]..self.bound.before[panel + 1];
        for &(at, price) in still {
            let choice = &pass.choices[at];
            if !choice.range().contains(&panel) || memories.end == of.high {
                continue;
            }
            for lane in 0..self.bound.lanes {
                let next = self.count.next(lane, choice.begins, place, place);
                for next in next.into_iter().flat_map(|(first, last)| first..=last) {
                    let price = price + self.of_waiting(&pass.leaving, next, place);
                    for shift in choice.shifts(panel..panel + 1) {
                        let rest = self.bound.costs[of.lane(next, shift.to, of.high).start];
                        let price = price.saturating_add(shift.cost).min(MOST_PRICE);
                        let at = of.lane(lane, shift.from, of.high).start;
                        let least = &mut self.bound.costs[at];
                        *least = (*least).min(rest + price);
                    }
                }
            }
        }
        for lane in 0..self.bound.lanes {
            let cost = self.of_waiting(&pass.reaching[panel], lane, place);
            let costs = &mut self.bound.costs[of.lane(lane, memories.start, memories.end)];
            for least in costs.iter_mut().filter(|least| **least < NO_WAY) {
                *least = (*least).min(MOST_COST).saturating_add(cost).min(MOST_COST);
            }
        }
    }

    /// Keeps what follows words that end at a place, for all choices that carry words.
    fn look_ahead(&self, of: Costs, place: usize, (first, last): (usize, usize), pass: &mut Pass) {
        let before = &self.bound.before;
        let around = pass.ahead.len();
        for (choice, ahead) in pass.choices.iter().zip(&mut pass.ahead[place % around]) {
            let range = choice.range();
            let from = range.start.max(first.saturating_sub(1));
            let panels = from..range.end.min(last).max(from);
            if panels.is_empty() || !pass.reach.with_words.contains(&choice.offer.kind) {
                continue;
            }
            let behind = Costs {
                begin: 0,
                low: before[panels.start],
                high: before[panels.end],
            };
            ahead.of = behind;
            ahead.costs.clear();
            ahead
                .costs
                .resize(self.bound.lanes * (behind.high - behind.low), NO_WAY);
            for lane in 0..self.bound.lanes {
                let leaving = self.of_waiting(&pass.leaving, lane, place);
                let rest = &self.bound.costs[of.lane(lane, of.low, of.high)];
                let costs = &mut ahead.costs[behind.lane(lane, behind.low, behind.high)];
                for shift in choice.shifts(panels.clone()) {
                    let rest = rest[shift.to - of.low];
                    let least = &mut costs[shift.from - behind.low];
                    if rest < NO_WAY {
                        let rest = rest.saturating_add(leaving).saturating_add(shift.cost);
                        *least = (*least).min(rest.min(MOST_COST));
                    }
                }
            }
        }
    }

    /// What those pay on a panel who wait, by how many do: from all pictures before their words up to the words of all
    /// before them, as far as lanes tell these apart.
    fn by_waiting(&self, cost: impl Fn(usize, usize) -> Cost) -> Waits {
        let most = self.queue.len().min(self.count.lanes());
        let cost = |number: usize| {
            price(cost(
                number.saturating_sub(most),
                most.saturating_sub(number),
            ))
        };
        Waits((0..=2 * most).map(cost).collect())
    }

    /// What those pay that wait at a place in a lane; of some that are not told apart, the fewest.
    fn of_waiting(&self, waits: &Waits, lane: usize, place: usize) -> u32 {
        let most = (waits.0.len() / 2) as i64;
        let waiting = self.count.waiting(lane, place).clamp(-most, most);
        waits.0[(waiting + most) as usize]
    }
}

/// What those pay who wait, from the most pictures before their words up to the words of most.
struct Waits(Vec<u32>);

/// A price of one step.
pub(super) fn price(cost: Cost) -> u32 {
    u32::try_from(cost).unwrap_or(MOST_PRICE).min(MOST_PRICE)
}
