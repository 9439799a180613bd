//! The exact search: a dynamic program over (panel, place, pictures placed, what the rules remember).
//!
//! A backward pass prices every panel by itself and gives a lower bound on what the rest must cost, leaving
//! pictures' order and the rules' memories aside. A forward pass then goes panel by panel and keeps, for
//! each state, the cheapest way to it, dropping states whose cost and bound together pass a ceiling. If it
//! reaches the end, the answer is proved to be the cheapest; otherwise the ceiling is raised. Among
//! divisions of one cost, the one whose panels end latest wins, from the first panel on (words come as early
//! as they can, and blank panels gather at the end), then by the order of roles, then of pictures.

use std::cmp::{Ordering, Reverse};
use std::collections::HashMap;
use std::rc::Rc;

use super::problem::{AreaFacts, PanelFacts, Problem, Reading};
use super::rules::{Memory, Weighed, weighed};
use super::{Cost, PanelDivision, PartDivision};
use crate::plan::{Role, RuleName};

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
    numbers: HashMap<Rc<[Memory]>, usize>,
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
    kinds: HashMap<Kind, usize>,
    /// The stretches from each place on, by kind, found when first asked for.
    known: Vec<Vec<Option<Stretches>>>,
    memories: Memories,
    /// Least cost from (panel, place) to the end.
    bound: Vec<Vec<Option<Cost>>>,
    /// How many panels from each on may carry a picture of the queue.
    slots: Vec<usize>,
    proved: bool,
    lower: Cost,
}

impl<'a> Search<'a> {
    fn new(problem: &'a Problem, soft: &[RuleName], limits: Limits) -> Search<'a> {
        let (remembering, plain) = weighed(problem, soft)
            .into_iter()
            .partition(|weighed| weighed.rule.remembers());
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
            kinds: HashMap::new(),
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
        let least = self.bound[0][0]?;
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

    /// The backward pass: for each panel and place, the least that the rest can cost. Places that no words
    /// could have reached by then, or that leave too much for the panels that follow, are passed over.
    fn fill_bound(&mut self) {
        let (panels, places) = (self.problem.panels.len(), self.problem.rows.len() + 1);
        let choices: Vec<Vec<Choice>> = (0..panels).map(|panel| self.choices(panel)).collect();
        let needed = self.needed(&choices);
        let reached = self.reached(&choices, &needed);
        self.bound = vec![Vec::new(); panels + 1];
        let mut last = vec![None; places];
        last[places - 1] = Some(0);
        self.bound[panels] = last;
        for panel in (0..panels).rev() {
            let mut here = vec![None; places];
            for &place in &reached[panel] {
                here[place] = self.least_from(panel, place, &choices[panel]);
            }
            self.bound[panel] = here;
        }
    }

    /// What a panel may carry, one picture standing for all that leave the same text area.
    fn choices(&mut self, panel: usize) -> Vec<Choice> {
        let mut choices: Vec<Choice> = Vec::new();
        for (role, picture) in self.carries(panel, None) {
            let kind = self.kind(panel, role, picture);
            if !choices.iter().any(|choice| choice.kind == kind) {
                choices.push(Choice {
                    kind,
                    role,
                    picture,
                });
            }
        }
        choices
    }

    /// The fewest panels that can take the words from each place on, if every panel could be of the kind
    /// that suits best.
    fn needed(&mut self, choices: &[Vec<Choice>]) -> Vec<usize> {
        let mut kinds: Vec<(usize, Choice)> = Vec::new();
        for (panel, choices) in choices.iter().enumerate() {
            for choice in choices {
                if !kinds.iter().any(|(_, known)| known.kind == choice.kind) {
                    kinds.push((panel, *choice));
                }
            }
        }
        let places = self.problem.rows.len() + 1;
        let mut needed = vec![usize::MAX; places];
        needed[places - 1] = 0;
        for place in (0..places - 1).rev() {
            for (panel, choice) in &kinds {
                for &(to, _) in self.stretches(*panel, *choice, place).iter() {
                    if to > place && needed[to] < usize::MAX {
                        needed[place] = needed[place].min(needed[to] + 1);
                    }
                }
            }
        }
        needed
    }

    /// The places at which each panel can begin, those left out that need more panels than follow.
    fn reached(&mut self, choices: &[Vec<Choice>], needed: &[usize]) -> Vec<Vec<usize>> {
        let (panels, places) = (self.problem.panels.len(), self.problem.rows.len() + 1);
        let mut reached = vec![vec![0]];
        for panel in 0..panels {
            let mut next = vec![false; places];
            for &place in &reached[panel] {
                for choice in &choices[panel] {
                    for &(to, _) in self.stretches(panel, *choice, place).iter() {
                        next[to] = needed[to] < panels - panel;
                    }
                }
            }
            reached.push((0..places).filter(|&place| next[place]).collect());
        }
        reached
    }

    fn least_from(&mut self, panel: usize, place: usize, choices: &[Choice]) -> Option<Cost> {
        let mut least: Option<Cost> = None;
        for choice in choices {
            for &(to, cost) in self.stretches(panel, *choice, place).iter() {
                if let Some(rest) = self.bound[panel + 1][to] {
                    let whole = cost + rest;
                    least = Some(least.map_or(whole, |known| known.min(whole)));
                }
            }
        }
        least
    }

    /// The roles a panel may have, each with its picture. `next` is the picture at the head of the queue;
    /// without one, all that wait are tried.
    fn carries(&self, panel: usize, next: Option<Option<usize>>) -> Vec<(Role, Option<usize>)> {
        let facts = &self.problem.panels[panel];
        let waiting: Vec<usize> = match next {
            Some(next) => next.into_iter().collect(),
            None => self.queue.clone(),
        };
        let pictures = facts.picture.map_or(waiting, |pinned| vec![pinned]);
        let mut found = Vec::new();
        let may = |role| facts.role.is_none_or(|pinned| pinned == role);
        if facts.role == Some(Role::Title) {
            found.push((Role::Title, None));
        }
        if may(Role::Text) && facts.picture.is_none() {
            found.push((Role::Text, None));
        }
        for role in [Role::Shared, Role::Picture] {
            if may(role) {
                found.extend(pictures.iter().map(|&picture| (role, Some(picture))));
            }
        }
        if may(Role::Blank) && facts.picture.is_none() {
            found.push((Role::Blank, None));
        }
        found
    }

    fn area(&self, panel: usize, role: Role, picture: Option<usize>) -> Option<AreaFacts> {
        let facts = &self.problem.panels[panel];
        match role {
            Role::Title | Role::Text => facts.area,
            Role::Shared => picture
                .and_then(|picture| facts.shared[picture])
                .or(facts.area),
            _ => None,
        }
    }

    fn kind(&mut self, panel: usize, role: Role, picture: Option<usize>) -> usize {
        let area = self.area(panel, role, picture);
        let kind = Kind {
            class: self.class_of[panel],
            role,
            area,
        };
        let count = self.kinds.len();
        let number = *self.kinds.entry(kind).or_insert(count);
        if number == count {
            self.known.push(vec![None; self.problem.rows.len() + 1]);
        }
        number
    }

    /// The stretches from a place on that a panel may carry.
    fn stretches(&mut self, panel: usize, choice: Choice, from: usize) -> Stretches {
        if let Some(known) = &self.known[choice.kind][from] {
            return Rc::clone(known);
        }
        let area = self.area(panel, choice.role, choice.picture);
        let found: Stretches = self
            .find_stretches(panel, choice.role, area, choice.picture, from)
            .into();
        self.known[choice.kind][from] = Some(Rc::clone(&found));
        found
    }

    fn find_stretches(
        &self,
        panel: usize,
        role: Role,
        area: Option<AreaFacts>,
        picture: Option<usize>,
        from: usize,
    ) -> Vec<(usize, Cost)> {
        let problem = self.problem;
        let begins = problem.panels[panel].begins;
        if begins.is_some_and(|row| row != from) {
            return Vec::new();
        }
        let reading = |to: usize, used: u32| {
            let capacity = area.map_or(0, |area| area.capacity);
            Reading {
                problem,
                panel,
                role,
                from,
                to,
                picture,
                used,
                capacity,
            }
        };
        let mut found = Vec::new();
        match (role, area) {
            (Role::Title, Some(area)) => {
                let to = if from == 0 { problem.opening } else { from };
                let used = problem.depth(area.setting, from, to);
                if used <= area.capacity {
                    found.extend(self.price(&reading(to, used)).map(|cost| (to, cost)));
                }
            }
            (Role::Text | Role::Shared, Some(area)) => {
                let mut used = 0;
                for to in from + 1..=problem.rows.len() {
                    let row = to - 1;
                    let space = if row > from {
                        problem.rows[row].space_above
                    } else {
                        0
                    };
                    used += space + problem.heights[area.setting][row];
                    if used > area.capacity {
                        break;
                    }
                    if problem.may_end(to) {
                        found.extend(self.price(&reading(to, used)).map(|cost| (to, cost)));
                    }
                }
            }
            (Role::Picture | Role::Blank, _) => {
                found.extend(self.price(&reading(from, 0)).map(|cost| (from, cost)));
            }
            _ => {}
        }
        if begins.is_some() {
            // A panel with no words begins with none.
            found.retain(|&(to, _)| to > from);
        }
        found
    }

    /// What the rules without memory ask for a panel; nothing where it breaks a hard one.
    fn price(&self, reading: &Reading<'_>) -> Option<Cost> {
        self.plain.iter().try_fold(0, |sum, weighed| {
            Some(sum + weighed.price(weighed.rule.read(reading))?)
        })
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
        let mut index: HashMap<State, usize> = HashMap::new();
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
                    let Some(rest) = self.bound[panel + 1][to] else {
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
        let reading = self.reading(panel, state.place, step, area);
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
        step: Step,
        area: Option<AreaFacts>,
    ) -> Reading<'a> {
        let used = area.map_or(0, |area| self.problem.depth(area.setting, from, step.to));
        Reading {
            problem: self.problem,
            panel,
            role: step.role,
            from,
            to: step.to,
            picture: step.picture,
            used,
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
            let rest = self.bound[panel][layer.states[index].place].unwrap_or(Cost::MAX / 2);
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
        let mut from = 0;
        let mut panels = Vec::with_capacity(steps.len());
        let mut total = 0;
        for (panel, step) in steps.iter().enumerate() {
            let area = self.area(panel, step.role, step.picture);
            let reading = self.reading(panel, from, *step, area);
            let mut costs = Vec::new();
            for weighed in weighed(self.problem, soft) {
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

/// Keeps the cheaper of two ways to a state; of equal ones the one that wins by panel ends, roles, pictures.
fn keep(
    index: &mut HashMap<State, usize>,
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
fn compare(a: &Node, b: &Node, from: &Layer) -> Ordering {
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
fn rank(layer: &mut Layer, from: &Layer) {
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

/// Panels that may carry the same for the same cost are of one class.
fn classify(panels: &[PanelFacts]) -> Vec<usize> {
    let mut classes: Vec<usize> = Vec::new();
    let mut class_of = Vec::with_capacity(panels.len());
    for (index, panel) in panels.iter().enumerate() {
        let same = |&first: &usize| {
            let known = &panels[first];
            PanelFacts {
                name: panel.name,
                ..known.clone()
            } == *panel
        };
        let class = classes.iter().position(same).unwrap_or_else(|| {
            classes.push(index);
            classes.len() - 1
        });
        class_of.push(class);
    }
    class_of
}

fn takes_queued(panel: &PanelFacts) -> bool {
    panel.picture.is_none() && panel.role.is_none_or(Role::has_picture)
}
