//! The forward pass: every state that divisions under a ceiling go through, and every step between them.

use rustc_hash::FxHashMap;

use super::candidates::PanelCandidate;
use super::part_search::PartSearch;
use super::{STILL, Search, Step, Steps};
use crate::division::Cost;

/// How far one part has come.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Default, PartialOrd, Ord)]
pub(super) struct Spot {
    pub place: u32,
    /// Which pictures of the queue have begun, as [`PartSearch::placed`] reads it.
    pub placed: u32,
    /// On how many more panels the last of them stands.
    pub left: u16,
    /// Its number in the queue, if it goes on; else nought.
    on: u16,
    /// What is remembered of roles, by its number on this panel.
    roles: u32,
    /// What is remembered of words, by its number.
    words: u32,
}

impl Spot {
    /// The number in the queue of the picture that goes on on the next panel.
    pub fn goes_on(self) -> Option<usize> {
        (self.left > 0).then_some(usize::from(self.on))
    }
}

pub(super) type State = [Spot; 2];

/// A step from one state to another.
#[derive(Clone, Copy)]
pub(super) struct Edge {
    /// The state it leads to, by its number among those before the next panel.
    pub to: u32,
    pub price: Cost,
    pub steps: Steps,
}

/// The states before one panel.
#[derive(Default)]
struct Layer {
    /// Only while steps are found from them, and of the last layer.
    states: Vec<State>,
    /// Where each state's steps begin among all; and where the last one's end.
    begin: Vec<u32>,
    edges: Vec<Edge>,
    /// The least that the rest costs from each state; the greatest cost stands for no way.
    rest: Vec<Cost>,
}

/// Which steps a forward pass keeps.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Keeps {
    /// Those of the cheapest ways to each state, which are all that the cheapest divisions are made of.
    Cheapest,
    /// All of them.
    All,
}

/// What a forward pass found.
pub(super) struct Graph {
    layers: Vec<Layer>,
    keeps: Keeps,
    /// Whether anything was left aside.
    pub dropped: bool,
    /// Whether anything was left aside for the ceiling's sake.
    pub cut: bool,
    /// Whether anything was left aside for want of room.
    pub trimmed: bool,
}

/// The states before the next panel, as they are found.
#[derive(Default)]
struct Next {
    states: Vec<State>,
    /// The least cost down to each, and its bound.
    costs: Vec<(Cost, Cost)>,
    numbers: FxHashMap<State, u32>,
}

/// One part's step on a panel.
pub(super) struct Move {
    pub spot: Spot,
    step: Step,
    pub price: Cost,
    /// What the rest costs at least.
    pub rest: Cost,
    /// How far its stanzas are done.
    pub stanzas: u32,
}

impl Graph {
    /// Goes forward panel by panel under a ceiling, then prices each state by what the rest costs.
    pub fn new(search: &mut Search<'_>, ceiling: Cost, keeps: Keeps) -> Graph {
        let mut graph = Graph {
            layers: Vec::with_capacity(search.panels + 1),
            keeps,
            dropped: false,
            cut: false,
            trimmed: false,
        };
        let mut layer = Layer {
            states: vec![State::default()],
            ..Layer::default()
        };
        let mut costs: Vec<Cost> = vec![0];
        let (share, mut spare) = (search.limits.of_panel(search.panels), 0usize);
        for panel in 0..search.panels {
            let mut next = Next::default();
            graph.advance(search, panel, &mut layer, &costs, &mut next, ceiling);
            search.work.states += layer.states.len();
            search.work.steps += layer.edges.len();
            // What some panels leave of their share, later ones may use.
            let most = share
                .saturating_add(spare)
                .min(search.limits.states_per_panel);
            let numbers = graph.trim(most, &mut next);
            spare = (share.saturating_add(spare)).saturating_sub(next.states.len());
            graph.sift(&mut layer, &costs, &numbers, &next);
            graph.layers.push(layer);
            costs = next.costs.iter().map(|&(cost, _)| cost).collect();
            layer = Layer {
                states: next.states,
                ..Layer::default()
            };
        }
        graph.dropped = graph.cut || graph.trimmed;
        layer.begin = vec![0; layer.states.len() + 1];
        search.work.states += layer.states.len();
        graph.layers.push(layer);
        graph.fill_rest(search);
        graph.account(search);
        graph
    }

    /// Finds the steps from every state of a layer.
    fn advance(
        &mut self,
        search: &mut Search<'_>,
        panel: usize,
        layer: &mut Layer,
        costs: &[Cost],
        next: &mut Next,
        ceiling: Cost,
    ) {
        let mut moves: [Vec<Move>; 2] = Default::default();
        for (number, state) in layer.states.iter().enumerate() {
            layer.begin.push(layer.edges.len() as u32);
            let under = ceiling.saturating_sub(costs[number]);
            for (at, track) in search.tracks.iter_mut().enumerate() {
                moves[at].clear();
                self.cut |= track.moves(panel, state[at], under, &mut moves[at]);
            }
            let paired = search.tracks.len() == 2;
            for one in &moves[0] {
                let mut add = |other: Option<&Move>| {
                    let price = one.price + other.map_or(0, |other| other.price);
                    let rest = one.rest + other.map_or(0, |other| other.rest);
                    if price + rest > under {
                        self.cut = true;
                        return;
                    }
                    let spot = other.map_or(Spot::default(), |other| other.spot);
                    let step = other.map_or(STILL, |other| other.step);
                    let to = next.number([one.spot, spot], costs[number] + price, rest);
                    layer.edges.push(Edge {
                        to,
                        price,
                        steps: [one.step, step],
                    });
                };
                if paired {
                    let in_step = moves[1].iter().filter(|other| other.stanzas == one.stanzas);
                    in_step.for_each(|other| add(Some(other)));
                } else {
                    add(None);
                }
            }
        }
        layer.begin.push(layer.edges.len() as u32);
    }

    /// Past the limit, only the most promising states go on, and nothing is proved by what they lead to. Tells the
    /// number that each state then has; the greatest stands for none.
    fn trim(&mut self, most: usize, next: &mut Next) -> Vec<u32> {
        let count = next.states.len();
        if count <= most {
            return (0..count as u32).collect();
        }
        self.trimmed = true;
        let promise = |at: usize| next.costs[at].0 + next.costs[at].1;
        let mut order: Vec<usize> = (0..count).collect();
        order.sort_by_key(|&at| (promise(at), next.states[at]));
        order.truncate(most);
        order.sort_unstable();
        let mut numbers = vec![u32::MAX; count];
        for (number, &at) in order.iter().enumerate() {
            numbers[at] = number as u32;
        }
        next.states = order.iter().map(|&at| next.states[at]).collect();
        next.costs = order.iter().map(|&at| next.costs[at]).collect();
        numbers
    }

    /// Leaves those of a layer's steps that are kept, and lets go of its states. `numbers`: of the states they lead to.
    fn sift(&self, layer: &mut Layer, costs: &[Cost], numbers: &[u32], next: &Next) {
        let mut edges = Vec::new();
        let mut begin = Vec::with_capacity(layer.begin.len());
        for (from, cost) in costs.iter().enumerate() {
            begin.push(edges.len() as u32);
            let here = &layer.edges[layer.begin[from] as usize..layer.begin[from + 1] as usize];
            let kept = here.iter().map(|edge| Edge {
                to: numbers[edge.to as usize],
                ..*edge
            });
            edges.extend(kept.filter(|edge| {
                let least = next.costs.get(edge.to as usize);
                let all = self.keeps == Keeps::All;
                least.is_some_and(|least| all || least.0 == cost + edge.price)
            }));
        }
        begin.push(edges.len() as u32);
        edges.shrink_to_fit();
        (layer.edges, layer.begin, layer.states) = (edges, begin, Vec::new());
    }

    fn fill_rest(&mut self, search: &Search<'_>) {
        let mut below: Vec<Cost> = Vec::new();
        for (at, layer) in self.layers.iter_mut().enumerate().rev() {
            layer.rest = if at == search.panels {
                let cost = |state| if search.is_done(state) { 0 } else { Cost::MAX };
                layer.states.iter().map(cost).collect()
            } else {
                let least = |from: usize| {
                    let edges = layer.begin[from] as usize..layer.begin[from + 1] as usize;
                    let costs = layer.edges[edges].iter().map(|edge| {
                        let rest = below[edge.to as usize];
                        rest.saturating_add(edge.price)
                    });
                    costs.min().unwrap_or(Cost::MAX)
                };
                (0..layer.begin.len() - 1).map(least).collect()
            };
            below.clone_from(&layer.rest);
        }
    }

    fn account(&self, search: &mut Search<'_>) {
        let states: usize = self.layers.iter().map(|layer| layer.rest.len()).sum();
        let steps: usize = self.layers.iter().map(|layer| layer.edges.len()).sum();
        let work = &mut search.work;
        work.passes += 1;
        let bytes = states * (size_of::<Cost>() + size_of::<u32>()) + steps * size_of::<Edge>();
        work.bytes = work.bytes.max(work.bounds * size_of::<u32>() + bytes);
    }

    /// How many panels there are.
    pub fn panels(&self) -> usize {
        self.layers.len() - 1
    }

    /// Whether any division was found.
    pub fn reaches_end(&self) -> bool {
        self.rest(0, 0).is_some()
    }

    /// The least that the rest costs from a state before a panel; nothing where no way was found.
    pub fn rest(&self, panel: usize, state: u32) -> Option<Cost> {
        let rest = self.layers[panel].rest.get(state as usize).copied();
        rest.filter(|cost| *cost < Cost::MAX)
    }

    /// The steps from a state.
    pub fn edges(&self, panel: usize, state: u32) -> &[Edge] {
        let layer = &self.layers[panel];
        let at = state as usize;
        &layer.edges[layer.begin[at] as usize..layer.begin[at + 1] as usize]
    }
}

impl Next {
    fn number(&mut self, state: State, cost: Cost, rest: Cost) -> u32 {
        let count = self.states.len() as u32;
        let number = *self.numbers.entry(state).or_insert(count);
        if number == count {
            self.states.push(state);
            self.costs.push((cost, rest));
        } else {
            let known = &mut self.costs[number as usize].0;
            *known = (*known).min(cost);
        }
        number
    }
}

/// What stands of pictures behind a step, whatever words stand on its panel.
#[derive(Clone, Copy)]
struct Pictures {
    placed: u32,
    left: u16,
    on: u16,
    roles: u32,
    /// What rules that remember roles ask for the panel.
    asked: Cost,
}

impl PartSearch<'_> {
    /// Every step on a panel that may come under a ceiling with all that follows; true if any was left aside.
    pub(super) fn moves(
        &mut self,
        panel: usize,
        spot: Spot,
        under: Cost,
        moves: &mut Vec<Move>,
    ) -> bool {
        let mut dropped = false;
        for offer in self.offers(panel, spot).iter() {
            if let Some(pictures) = self.pictures(panel, spot, offer) {
                dropped |= self.moves_with(panel, spot, (offer, pictures), under, moves);
            }
        }
        dropped
    }

    /// What an offer does with pictures; nothing where a hard rule about roles forbids it, or where those that
    /// still wait would have too few panels.
    fn pictures(&mut self, panel: usize, spot: Spot, offer: &PanelCandidate) -> Option<Pictures> {
        let (roles, asked) = self.roles.moves(panel, offer.row)[spot.roles as usize]?;
        let picture = offer.picture.map(|picture| &self.problem.pictures[picture]);
        let queued = picture.filter(|picture| picture.queued);
        let begins = queued.filter(|_| offer.begins);
        let left = match begins {
            Some(picture) => picture.spans as u16 - 1,
            None => spot.left.saturating_sub(u16::from(queued.is_some())),
        };
        let (mut placed, mut on) = (spot.placed, spot.on);
        if let Some(picture) = offer.picture.filter(|_| begins.is_some()) {
            placed = self.placed_with(placed, picture);
            on = self.number_of(picture) as u16;
        }
        let still = usize::from(left) + self.panels_of_waiting(placed);
        (still <= self.slots[panel + 1]).then_some(Pictures {
            placed,
            left,
            on: if left > 0 { on } else { 0 },
            roles,
            asked,
        })
    }

    /// The steps with one offer, each with other words.
    fn moves_with(
        &mut self,
        panel: usize,
        spot: Spot,
        (offer, pictures): (&PanelCandidate, Pictures),
        under: Cost,
        moves: &mut Vec<Move>,
    ) -> bool {
        let mut dropped = false;
        let Pictures {
            placed,
            left,
            on,
            roles,
            asked,
        } = pictures;
        let count = self.placed(placed).count();
        let from = spot.place as usize;
        let area = self.area(panel, offer.role, offer.picture);
        for stretch in self.stretches(panel, offer, from).iter() {
            let to = stretch.to as usize;
            let Some(rest) = self.least(panel + 1, to, count, roles) else {
                continue;
            };
            let mut price = stretch.cost + asked;
            if price + rest > under {
                dropped = true;
                continue;
            }
            let mut words = 0;
            if self.remembers_words() {
                let reading = self.reading(panel, from, spot.placed, offer, area, stretch.stop());
                let Some((memory, more)) = self.remember(spot.words, &reading) else {
                    continue;
                };
                words = self.number(&memory);
                price += more;
                if price + rest > under {
                    dropped = true;
                    continue;
                }
            }
            moves.push(Move {
                spot: Spot {
                    place: stretch.to,
                    placed,
                    left,
                    on,
                    roles,
                    words,
                },
                step: offer.step(stretch.to),
                price,
                rest,
                stanzas: self.stanzas[to],
            });
        }
        dropped
    }
}
