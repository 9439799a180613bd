//! A plain program for the same job: a full table over panels, places, pictures and what the rules remember,
//! without any bound. It knows pictures of one panel only.

use std::collections::HashMap;

use versefold::division::{AreaFacts, Cost, PanelView, Placed, Problem};
use versefold::names::{HalfLines, Role};
use versefold::rules::{Memory, Weighed, weighed};

#[derive(Clone, PartialEq, Eq, Hash)]
struct State {
    place: usize,
    placed: usize,
    memory: Vec<Memory>,
}

/// The least cost of any division, and how many states the table has.
pub fn full_table(problem: &Problem) -> (Option<Cost>, usize) {
    let rules = weighed(problem, &[]);
    let queue = problem.queue();
    let start = State {
        place: 0,
        placed: 0,
        memory: vec![0; rules.len()],
    };
    let mut here: HashMap<State, Cost> = HashMap::from([(start, 0)]);
    let mut states = 0;
    for panel in 0..problem.panels.len() {
        states += here.len();
        let mut next: HashMap<State, Cost> = HashMap::new();
        for (state, cost) in &here {
            let waiting = queue.get(state.placed).copied();
            for (role, picture) in offered(problem, panel, waiting) {
                for reading in readings((problem, &queue), panel, role, picture, state) {
                    let Some((memory, more)) = price(&rules, &state.memory, &reading) else {
                        continue;
                    };
                    let queued = picture.is_some_and(|at| problem.pictures[at].queued);
                    let state = State {
                        place: reading.to,
                        placed: state.placed + usize::from(queued),
                        memory,
                    };
                    let known = next.entry(state).or_insert(Cost::MAX);
                    *known = (*known).min(cost + more);
                }
            }
        }
        here = next;
    }
    let done = here
        .iter()
        .filter(|(state, _)| state.place == problem.rows.len() && state.placed == queue.len());
    (done.map(|(_, cost)| *cost).min(), states)
}

fn offered(problem: &Problem, panel: usize, waiting: Option<usize>) -> Vec<(Role, Option<usize>)> {
    let facts = &problem.panels[panel];
    let picture = facts.picture.or(waiting);
    let mut found = vec![(Role::Text, None), (Role::Blank, None), (Role::Title, None)];
    if facts.picture.is_some() {
        found.clear();
    }
    if picture.is_some() {
        found.extend([(Role::Shared, picture), (Role::Picture, picture)]);
    }
    let may = |role: Role| match facts.role {
        None => role != Role::Title,
        Some(pinned) => pinned == role,
    };
    found.retain(|(role, _)| may(*role));
    found
}

fn readings<'a>(
    (problem, queue): (&'a Problem, &'a [usize]),
    panel: usize,
    role: Role,
    picture: Option<usize>,
    state: &State,
) -> Vec<PanelView<'a>> {
    let facts = &problem.panels[panel];
    let from = state.place;
    let area: Option<AreaFacts> = match (role, picture) {
        (Role::Shared, Some(picture)) => facts.shared[picture],
        (Role::Text | Role::Title, _) => facts.area,
        _ => None,
    };
    let reading = |to: usize, used: HalfLines| PanelView {
        problem,
        panel,
        role,
        from,
        to,
        picture,
        begins_picture: picture.is_some(),
        queue,
        placed: Placed::First(state.placed),
        column: area.map(|area| area.column),
        used,
        foot: 0,
        capacity: area.map_or(HalfLines::ZERO, |area| area.capacity),
    };
    match (role, area) {
        (Role::Text | Role::Shared, Some(area)) => problem
            .ends(area.column, from)
            .take_while(|(_, used)| *used <= area.capacity)
            .map(|(to, used)| reading(to, used))
            .collect(),
        (Role::Title, Some(area)) => {
            let to = if from == 0 { problem.opening } else { from };
            vec![reading(to, problem.depth(area.column, from, to))]
        }
        (Role::Picture | Role::Blank, _) => vec![reading(from, HalfLines::ZERO)],
        _ => Vec::new(),
    }
}

fn price(
    rules: &[Weighed],
    known: &[Memory],
    reading: &PanelView<'_>,
) -> Option<(Vec<Memory>, Cost)> {
    let mut cost = 0;
    let mut memory = Vec::with_capacity(known.len());
    for (weighed, &known) in rules.iter().zip(known) {
        let (verdict, remembered) = weighed.rule.read_on(known, reading);
        cost += weighed.price(verdict)?;
        memory.push(remembered);
    }
    Some((memory, cost))
}
