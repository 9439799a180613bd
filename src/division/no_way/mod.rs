//! Where no division keeps every hard rule: which rules and pins stand against each other, and which of them
//! would have to give way.

mod demands;
mod room;

pub use demands::Demand;
pub use room::least_panels;

use super::Problem;
use super::search::{Limits, has_division};
use crate::plan::{RuleName, Weight};

/// Demands that stand against each other, and the ways out.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    /// Demands that cannot all be met, whatever else gives way, though all but any one of them can.
    pub demands: Vec<Demand>,
    /// What may give way so that everything else can be met: each set of demands once, those of one demand first, and
    /// of none can a demand be spared. Every demand that is enough by itself is among them.
    pub ways: Vec<Vec<Demand>>,
}

/// What stands against each other in a part, or in two that are paired, where no division keeps the hard rules
/// but those of `soft`, and the ways out. Of all demands those are given up first that come first in
/// [`Demand::all`]. Nothing where the words would not even fit if every demand were given up.
pub fn conflict(problems: &[&Problem], soft: &[RuleName], limits: Limits) -> Option<Conflict> {
    let asked = Asked::new(problems, soft, limits);
    let demands = asked.irreducible(&asked.all)?;
    // Where giving up only ever frees, what is enough by itself is one of any demands that stand against each other.
    let only_frees = asked.all.iter().all(|demand| demand.only_frees(problems));
    let might = |demand: &&Demand| !only_frees || demands.contains(demand);
    let alone = asked.all.iter().filter(might);
    let alone = alone.filter(|demand| asked.is_possible(&[**demand]));
    let mut ways: Vec<Vec<Demand>> = alone.map(|demand| vec![*demand]).collect();
    for demand in &demands {
        let way = asked.way_by(*demand);
        let holds = |known: &Vec<Demand>| {
            let mut known = known.iter();
            way.as_ref()
                .is_some_and(|way| known.all(|demand| way.contains(demand)))
        };
        if !ways.iter().any(holds) {
            ways.extend(way);
        }
    }
    ways.sort_by_key(Vec::len);
    Some(Conflict { demands, ways })
}

/// The demands alone that [`conflict`] finds.
pub fn against(problems: &[&Problem], soft: &[RuleName], limits: Limits) -> Option<Vec<Demand>> {
    let asked = Asked::new(problems, soft, limits);
    asked.irreducible(&asked.all)
}

/// Parts of which only the hard rules are left, and all that they demand.
struct Asked {
    problems: Vec<Problem>,
    all: Vec<Demand>,
    limits: Limits,
}

impl Asked {
    fn new(problems: &[&Problem], soft: &[RuleName], limits: Limits) -> Asked {
        let all = Demand::all(problems, soft);
        let bare = problems
            .iter()
            .map(|problem| problem.with_hard_rules_alone(soft));
        Asked {
            problems: bare.collect(),
            all,
            limits,
        }
    }

    /// Whether there is a division in which some demands are given up and all others met.
    fn is_possible(&self, given_up: &[Demand]) -> bool {
        let mut problems = self.problems.clone();
        for demand in given_up {
            demand.give_way(&mut problems);
            if let Demand::Rule(name) = demand {
                let off = Weight {
                    hard: Some(false),
                    importance: 0,
                };
                for problem in &mut problems {
                    problem.rules.weights.insert(*name, off);
                }
            }
        }
        let problems: Vec<&Problem> = problems.iter().collect();
        let together = match given_up.contains(&Demand::Pairing) {
            true => 1,
            false => problems.len(),
        };
        let mut groups = problems.chunks(together);
        groups.all(|group| has_division(group, self.limits))
    }

    /// An irreducible set of some demands that cannot all be met, all others being given up; nothing where not even
    /// giving up all of them helps.
    fn irreducible(&self, of: &[Demand]) -> Option<Vec<Demand>> {
        let others = self.all.iter().filter(|demand| !of.contains(demand));
        let mut free: Vec<Demand> = others.copied().collect();
        let mut kept = of.to_vec();
        // A picture set free may be harder to place than where it was pinned, so that what was needed at first may be
        // spared later: until nothing changes.
        loop {
            let mut needed = Vec::new();
            self.spare(&kept, &mut free, &mut needed, false);
            if needed.is_empty() {
                return None;
            }
            if needed.len() == kept.len() {
                return Some(needed);
            }
            kept = needed;
        }
    }

    /// Gives up those of some demands without which the rest still cannot be met, and gathers the others. Many are
    /// given up at once where that makes no difference; `helps`: giving up all of these is known to make one.
    fn spare(
        &self,
        some: &[Demand],
        free: &mut Vec<Demand>,
        needed: &mut Vec<Demand>,
        helps: bool,
    ) {
        if some.is_empty() {
            return;
        }
        let before = free.len();
        free.extend(some);
        if !helps && !self.is_possible(free) {
            return;
        }
        free.truncate(before);
        if let [one] = some {
            needed.push(*one);
            return;
        }
        let (first, second) = some.split_at(some.len() / 2);
        self.spare(first, free, needed, false);
        // Where all of the first half are given up, the second is what is left of what helps.
        let helps = free.len() == before + first.len();
        self.spare(second, free, needed, helps);
    }

    /// Demands with which everything else can be met if they are given up, this one among them unless it can be
    /// spared; nothing where there are none.
    fn way_by(&self, demand: Demand) -> Option<Vec<Demand>> {
        let mut given_up = vec![demand];
        while !self.is_possible(&given_up) {
            let still = self.all.iter().filter(|other| !given_up.contains(other));
            let still: Vec<Demand> = still.copied().collect();
            given_up.push(*self.irreducible(&still)?.last()?);
        }
        let mut at = 0;
        while at < given_up.len() {
            let mut fewer = given_up.clone();
            fewer.remove(at);
            match !fewer.is_empty() && self.is_possible(&fewer) {
                true => given_up = fewer,
                false => at += 1,
            }
        }
        Some(given_up)
    }
}
