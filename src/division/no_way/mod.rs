//! Where no division keeps every hard rule: which rules and pins stand against each other, what each would come
//! to if it gave way, and how many panels there would have to be.

mod demands;
mod room;

pub use demands::Demand;
pub use room::fewest_panels;

use super::search::{Limits, divide_together};
use super::{Cost, PartDivision, Problem};
use crate::plan::{RuleName, Weight};

/// Demands that stand against each other, and the ways out.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    /// Demands that cannot all be met, though all but any one of them can.
    pub demands: Vec<Demand>,
    /// For each of them the best division in which it gives way, the cheapest first.
    pub ways: Vec<Way>,
}

/// What comes of giving something up.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// What gives way: one demand of the conflict, and where others stand against each other too, one of those.
    pub demands: Vec<Demand>,
    /// The best division without them, part by part; a rule that gives way costs there what it costs where it is
    /// soft.
    pub parts: Vec<PartDivision>,
}

impl Way {
    /// What the division costs.
    pub fn cost(&self) -> Cost {
        self.parts.iter().map(|part| part.cost).sum()
    }
}

/// What stands against each other in a part, or in two that are paired, where no division keeps the hard rules
/// but those of `soft`. Of all demands those are given up first that come first in [`Demand::all`]; what is left
/// cannot be made smaller. Nothing where the words would not even fit if every demand were given up.
pub fn conflict(problems: &[&Problem], soft: &[RuleName], limits: Limits) -> Option<Conflict> {
    let all = Demand::all(problems, soft);
    let demands = irreducible(problems, &all, soft, limits)?;
    let mut ways: Vec<Way> = Vec::new();
    for demand in &demands {
        let mut given_up = vec![*demand];
        let parts = loop {
            if let Some(parts) = give_up(problems, &given_up, soft, limits) {
                break parts;
            }
            let still: Vec<Demand> = all
                .iter()
                .filter(|demand| !given_up.contains(demand))
                .copied()
                .collect();
            given_up.push(*irreducible(problems, &still, soft, limits)?.last()?);
        };
        ways.push(Way {
            demands: given_up,
            parts,
        });
    }
    ways.sort_by_key(|way| (way.demands.len(), way.cost()));
    Some(Conflict { demands, ways })
}

/// An irreducible set of those demands that cannot all be met; nothing where not even giving up all of them
/// helps. All others are given up.
fn irreducible(
    problems: &[&Problem],
    of: &[Demand],
    soft: &[RuleName],
    limits: Limits,
) -> Option<Vec<Demand>> {
    let mut free = Stripped::new(problems, soft);
    for other in Demand::all(problems, soft) {
        if !of.contains(&other) {
            free = free.without(&other);
        }
    }
    let without_any = of
        .iter()
        .fold(free.clone(), |free, demand| free.without(demand));
    if !without_any.is_possible(limits) {
        return None;
    }
    // A picture set free may be harder to place than where it was pinned, so that what was needed at first may be
    // spared later: until nothing changes.
    let mut kept = of.to_vec();
    loop {
        let before = kept.len();
        let mut needed = Vec::new();
        for demand in kept {
            let fewer = free.without(&demand);
            if fewer.is_possible(limits) {
                needed.push(demand);
            } else {
                free = fewer;
            }
        }
        if needed.len() == before {
            return Some(needed);
        }
        kept = needed;
    }
}

/// The best division in which some demands give way, all others being kept.
fn give_up(
    problems: &[&Problem],
    demands: &[Demand],
    soft: &[RuleName],
    limits: Limits,
) -> Option<Vec<PartDivision>> {
    let mut changed: Vec<Problem> = problems.iter().map(|problem| (*problem).clone()).collect();
    for demand in demands {
        demand.give_way(&mut changed);
        if let Demand::Rule(name) = demand {
            for problem in &mut changed {
                let weight = problem.rules.weights.entry(*name).or_default();
                weight.importance = weight.importance.max(1);
            }
        }
    }
    solve(&changed, demands.contains(&Demand::Pairing), soft, limits)
}

fn solve(
    problems: &[Problem],
    apart: bool,
    soft: &[RuleName],
    limits: Limits,
) -> Option<Vec<PartDivision>> {
    let problems: Vec<&Problem> = problems.iter().collect();
    if !apart {
        return divide_together(&problems, soft, limits).0;
    }
    let each = problems
        .iter()
        .map(|&problem| divide_together(&[problem], soft, limits).0);
    let parts: Option<Vec<Vec<PartDivision>>> = each.collect();
    parts.map(|parts| parts.into_iter().flatten().collect())
}

/// A problem of which only what must hold is left, and of that not everything.
#[derive(Clone)]
struct Stripped {
    problems: Vec<Problem>,
    apart: bool,
}

impl Stripped {
    /// All soft rules off.
    fn new(problems: &[&Problem], soft: &[RuleName]) -> Stripped {
        let mut problems: Vec<Problem> =
            problems.iter().map(|problem| (*problem).clone()).collect();
        for problem in &mut problems {
            for (name, ..) in RuleName::ALL {
                if soft.contains(&name) || !problem.rules.is_hard(name) {
                    off(problem, name);
                }
            }
        }
        Stripped {
            problems,
            apart: false,
        }
    }

    fn without(&self, demand: &Demand) -> Stripped {
        let mut fewer = self.clone();
        demand.give_way(&mut fewer.problems);
        if let Demand::Rule(name) = demand {
            fewer
                .problems
                .iter_mut()
                .for_each(|problem| off(problem, *name));
        }
        fewer.apart |= *demand == Demand::Pairing;
        fewer
    }

    fn is_possible(&self, limits: Limits) -> bool {
        solve(&self.problems, self.apart, &[], limits).is_some()
    }
}

fn off(problem: &mut Problem, name: RuleName) {
    let off = Weight {
        hard: Some(false),
        importance: 0,
    };
    problem.rules.weights.insert(name, off);
}
