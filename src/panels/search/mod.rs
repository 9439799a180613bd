//! The exact search: a dynamic program over (panel, place, pictures placed, what the rules remember).
//!
//! A backward pass prices every panel by itself and gives a lower bound on what the rest must cost, leaving
//! pictures' order and the rules' memories aside. A forward pass then goes panel by panel and keeps, for
//! each state, the cheapest way to it, dropping states whose cost and bound together pass a ceiling. If it
//! reaches the end, the answer is proved to be the cheapest; otherwise the ceiling is raised. Among
//! divisions of one cost, the one whose panels end latest wins, from the first panel on (words come as early
//! as they can, and blank panels gather at the end), then by the order of roles, then of pictures.

mod bound;
mod stretch;
mod ties;

use std::collections::HashMap;
use std::rc::Rc;

use rustc_hash::FxHashMap;

use super::problem::{AreaFacts, Problem, Reading};
use super::rules::{Memory, Remembers, Weighed, weighed};
use super::{Cost, PanelDivision, PartDivision};
use crate::plan::{Role, RuleName};
use bound::Rest;
use stretch::{classify, takes_queued};
use ties::{keep, rank};

/// How far a search may go.
#[derive(Clone, Copy, Debug)]
pub struct Limits {
    /// The most states kept for one panel; past it the answer is the best that was found and says that it
    /// is not proved. Only where none is found that way are more kept.
    pub states_per_panel: usize,
}

impl Default for Limits {
    fn default() -> Limits {
        Limits {
            states_per_panel: 200_000,
        }
    }
}

/// The cheapest division that keeps the hard rules; nothing where none does. Rules of `soft` are weighed
/// instead of kept.
pub fn divide(problem: &Problem, soft: &[RuleName], limits: Limits) -> Option<PartDivision> {
    let mut search = Search::new(problem, soft, limits);
    let steps = search.run()?;
    Some(search.describe(&steps, soft))
}

/// What one panel carries, as the search decides it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
struct Step {
    to: usize,
    role: Role,
    picture: Option<usize>,
}

#[derive(Clone, Copy, PartialEq, Eq, Hash)]
struct State {
    place: usize,
    placed: usize,
    /// What the rules remember, by its number among all memories met so far.
    memory: usize,
}

/// Every combination of memories met so far, numbered.
#[derive(Default)]
struct Memories {
    all: Vec<Rc<[Memory]>>,
    numbers: FxHashMap<Rc<[Memory]>, usize>,
}

impl Memories {
    fn number(&mut self, memory: &[Memory]) -> usize {
        if let Some(&known) = self.numbers.get(memory) {
            return known;
        }
        let memory: Rc<[Memory]> = memory.into();
        self.all.push(Rc::clone(&memory));
        self.numbers.insert(memory, self.all.len() - 1);
        self.all.len() - 1
    }
}

/// What a panel may carry as far as rules without memory can tell: panels of one class in one role with one
/// text area cost the same for the same stretch.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
struct Kind {
    class: usize,
    role: Role,
    area: Option<AreaFacts>,
}

/// The cheapest way to a state.
struct Node {
    cost: Cost,
    parent: usize,
    step: Step,
    /// Ranks of the whole way among those of its panel: by panel ends, roles and pictures. Less is better.
    rank: [u32; 3],
}

struct Layer {
    states: Vec<State>,
    nodes: Vec<Node>,
}

/// A role that a panel may have, with its picture.
#[derive(Clone, Copy)]
struct Choice {
    kind: usize,
    role: Role,
    picture: Option<usize>,
}

/// A stretch of rows that may stand on a panel, and what rules without memory ask for it.
type Stretches = Rc<[(usize, Cost)]>;

struct Search<'a> {
    problem: &'a Problem,
    plain: Vec<Weighed>,
    remembering: Vec<Weighed>,
    limits: Limits,
    queue: Vec<usize>,
    /// Which panels may carry the same for the same cost.
    class_of: Vec<usize>,
    kinds: FxHashMap<Kind, usize>,
    /// The stretches from each place on, by kind, found when first asked for.
    known: Vec<Vec<Option<Stretches>>>,
    memories: Memories,
    /// Least cost from (panel, place) to the end.
    bound: Vec<Rest>,
    /// How many panels from each on may carry a picture of the queue.
    slots: Vec<usize>,
    proved: bool,
    lower: Cost,
}

impl<'a> Search<'a> {
    fn new(problem: &'a Problem, soft: &[RuleName], limits: Limits) -> Search<'a> {
        let (remembering, plain) = weighed(problem, soft)
            .into_iter()
            .partition(|weighed| weighed.rule.remembers() != Remembers::Nothing);
        let class_of = classify(&problem.panels);
        let mut slots = vec![0; problem.panels.len() + 1];
        for (index, panel) in problem.panels.iter().enumerate().rev() {
            slots[index] = slots[index + 1] + usize::from(takes_queued(panel));
        }
        Search {
            problem,
            plain,
            remembering,
            limits,
            queue: problem.queue(),
            class_of,
            kinds: FxHashMap::default(),
            known: Vec::new(),
            memories: Memories::default(),
            bound: Vec::new(),
            slots,
            proved: true,
            lower: 0,
        }
    }

    fn run(&mut self) -> Option<Vec<Step>> {
        self.fill_bound();
        let least = self.bound[0].least(0)?;
        let mut gap: Cost = 64;
        self.lower = least;
        loop {
            let ceiling = least.saturating_add(gap);
            let (layers, dropped) = self.forward(ceiling);
            if let Some(steps) = self.finish(&layers) {
                return Some(steps);
            }
            if !dropped {
                return None;
            }
            if self.proved {
                self.lower = ceiling.saturating_add(1);
            } else {
                // The only way may be among those left aside: next time more go on.
                let kept = self.limits.states_per_panel.max(1);
                self.limits.states_per_panel = kept.saturating_mul(4);
            }
            gap = gap.saturating_mul(8);
        }
    }

    /// One layer of states for each panel's start and the end; and whether the ceiling dropped any.
    fn forward(&mut self, ceiling: Cost) -> (Vec<Layer>, bool) {
        let start = State {
            place: 0,
            placed: 0,
            memory: self.memories.number(&vec![0; self.remembering.len()]),
        };
        let root = Node {
            cost: 0,
            parent: 0,
            step: Step {
                to: 0,
                role: Role::Blank,
                picture: None,
            },
            rank: [0; 3],
        };
        let mut layers = vec![Layer {
            states: vec![start],
            nodes: vec![root],
        }];
        let mut dropped = false;
        self.proved = true;
        for panel in 0..self.problem.panels.len() {
            let mut next = self.advance(panel, &layers[panel], ceiling, &mut dropped);
            self.trim(panel + 1, &mut next, &mut dropped);
            layers.push(next);
        }
        (layers, dropped)
    }

    fn advance(&mut self, panel: usize, from: &Layer, ceiling: Cost, dropped: &mut bool) -> Layer {
        let mut index: FxHashMap<State, usize> = FxHashMap::default();
        let mut next = Layer {
            states: Vec::new(),
            nodes: Vec::new(),
        };
        for (parent, state) in from.states.iter().enumerate() {
            let head = self.queue.get(state.placed).copied();
            for (role, picture) in self.carries(panel, Some(head)) {
                let choice = Choice {
                    kind: self.kind(panel, role, picture),
                    role,
                    picture,
                };
                let area = self.area(panel, role, picture);
                let stretches = self.stretches(panel, choice, state.place);
                for &(to, price) in stretches.iter() {
                    let step = Step { to, role, picture };
                    let Some(rest) = self.bound[panel + 1].least(to) else {
                        continue;
                    };
                    let cost = from.nodes[parent].cost + price;
                    if cost + rest > ceiling {
                        *dropped = true;
                        continue;
                    }
                    let Some((state, more)) = self.remember(panel, *state, step, area) else {
                        continue;
                    };
                    let cost = cost + more;
                    if cost + rest > ceiling {
                        *dropped = true;
                        continue;
                    }
                    let node = Node {
                        cost,
                        parent,
                        step,
                        rank: [0; 3],
                    };
                    keep(&mut index, &mut next, from, state, node);
                }
            }
        }
        rank(&mut next, from);
        next
    }

    /// The state after a panel, and what the rules with memory ask; nothing where it breaks a hard one or
    /// leaves no room for the pictures that wait.
    fn remember(
        &mut self,
        panel: usize,
        state: State,
        step: Step,
        area: Option<AreaFacts>,
    ) -> Option<(State, Cost)> {
        let queued = |picture: usize| self.problem.pictures[picture].queued;
        let placed = state.placed + usize::from(step.picture.is_some_and(queued));
        if self.queue.len() - placed > self.slots[panel + 1] {
            return None;
        }
        if self.remembering.is_empty() {
            let place = step.to;
            return Some((
                State {
                    place,
                    placed,
                    ..state
                },
                0,
            ));
        }
        let reading = self.reading(panel, state.place, state.placed, step, area);
        let mut cost = 0;
        let mut memory = Vec::with_capacity(self.remembering.len());
        let remembered = Rc::clone(&self.memories.all[state.memory]);
        for (weighed, &known) in self.remembering.iter().zip(remembered.iter()) {
            let (verdict, remembered) = weighed.rule.read_on(known, &reading);
            cost += weighed.price(verdict)?;
            memory.push(remembered);
        }
        let memory = self.memories.number(&memory);
        Some((
            State {
                place: step.to,
                placed,
                memory,
            },
            cost,
        ))
    }

    fn reading(
        &self,
        panel: usize,
        from: usize,
        placed: usize,
        step: Step,
        area: Option<AreaFacts>,
    ) -> Reading<'a> {
        let stop = area.map(|area| self.problem.stop(area.setting, from, step.to));
        Reading {
            problem: self.problem,
            panel,
            role: step.role,
            from,
            to: step.to,
            picture: step.picture,
            begins_picture: step.picture.is_some(),
            placed,
            setting: area.map(|area| area.setting),
            used: stop.map_or(0, |stop| stop.used),
            foot: stop.map_or(0, |stop| stop.foot),
            capacity: area.map_or(0, |area| area.capacity),
        }
    }

    /// Past the limit, only the most promising states go on, and the answer is no longer proved.
    fn trim(&mut self, panel: usize, layer: &mut Layer, dropped: &mut bool) {
        let most = self.limits.states_per_panel;
        if layer.states.len() <= most {
            return;
        }
        self.proved = false;
        *dropped = true;
        let promise = |index: usize| {
            let rest = self.bound[panel]
                .least(layer.states[index].place)
                .unwrap_or(Cost::MAX / 2);
            (layer.nodes[index].cost + rest, layer.nodes[index].rank)
        };
        let mut order: Vec<usize> = (0..layer.states.len()).collect();
        order.sort_by_key(|&index| promise(index));
        order.truncate(most);
        order.sort_unstable();
        let mut kept = order.iter().copied().peekable();
        let mut stays = Vec::with_capacity(layer.states.len());
        for index in 0..layer.states.len() {
            stays.push(kept.next_if_eq(&index).is_some());
        }
        let mut flags = stays.iter();
        layer
            .states
            .retain(|_| flags.next().is_some_and(|stay| *stay));
        let mut flags = stays.iter();
        layer
            .nodes
            .retain(|_| flags.next().is_some_and(|stay| *stay));
    }

    /// The cheapest way that ends with all words and pictures placed.
    fn finish(&self, layers: &[Layer]) -> Option<Vec<Step>> {
        let last = layers.last()?;
        let done = |state: &State| {
            state.place == self.problem.rows.len() && state.placed == self.queue.len()
        };
        let ends = (0..last.states.len()).filter(|&index| done(&last.states[index]));
        let mut at = ends.min_by_key(|&index| (last.nodes[index].cost, last.nodes[index].rank))?;
        let mut steps = Vec::with_capacity(layers.len());
        for layer in layers[1..].iter().rev() {
            steps.push(layer.nodes[at].step);
            at = layer.nodes[at].parent;
        }
        steps.reverse();
        Some(steps)
    }

    /// Tells what each panel carries and what each rule asks for it.
    fn describe(&self, steps: &[Step], soft: &[RuleName]) -> PartDivision {
        let mut memory: HashMap<RuleName, Memory> = HashMap::new();
        let (mut from, mut placed) = (0, 0);
        let mut panels = Vec::with_capacity(steps.len());
        let mut total = 0;
        let asked = weighed(self.problem, soft);
        for (panel, step) in steps.iter().enumerate() {
            let area = self.area(panel, step.role, step.picture);
            let reading = self.reading(panel, from, placed, *step, area);
            let mut costs = Vec::new();
            for weighed in &asked {
                let name = weighed.rule.name();
                let known = memory.get(&name).copied().unwrap_or(0);
                let (verdict, remembered) = weighed.rule.read_on(known, &reading);
                memory.insert(name, remembered);
                match weighed.price(verdict) {
                    Some(cost) if cost > 0 => costs.push((name, cost)),
                    _ => {}
                }
            }
            total += costs.iter().map(|(_, cost)| cost).sum::<Cost>();
            panels.push(PanelDivision {
                panel: self.problem.panels[panel].name,
                role: step.role,
                rows: from..step.to,
                picture: step.picture,
                used: reading.used,
                capacity: reading.capacity,
                costs,
            });
            from = step.to;
            let queued = |picture: usize| self.problem.pictures[picture].queued;
            placed += usize::from(step.picture.is_some_and(queued));
        }
        let bound = if self.proved {
            total
        } else {
            self.lower.min(total)
        };
        PartDivision {
            panels,
            cost: total,
            proved: self.proved,
            bound,
            gave_way: soft.to_vec(),
        }
    }
}
