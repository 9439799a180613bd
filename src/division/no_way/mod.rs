//! Where no division keeps every hard rule: which rules and pins stand against each other, and which of them
//! would have to give way.

mod demands;
mod room;

pub use demands::Demand;
pub use room::least_panels;

use std::cell::{Cell, OnceCell};

use super::search::{Limits, has_division, have_surely_no_room};
use super::{PanelFacts, Problem};
use crate::names::Role;
use crate::plan::{RuleName, Weight};

/// Ways out that give up more demands than this are not looked for: nobody would go them.
const MOST_GIVEN_UP: usize = 3;
/// So many places × panels are searched in all for ways out that give up several, in so many searches at least and at
/// most: a long book with many pictures has far more of them than anybody would read.
const WORK: usize = 200_000;
const SEARCHES: (usize, usize) = (20, 300);

const FULLEST: Demand = Demand::Rule(RuleName::Fullest);

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
    let only_frees = asked.all.iter().all(|demand| demand.only_frees(problems))
        && asked.long_stanzas_stay_long();
    let might = |demand: &&Demand| !only_frees || demands.contains(demand);
    let alone = asked.all.iter().filter(might);
    let alone = alone.filter(|demand| asked.is_possible(&[**demand]));
    let mut ways: Vec<Vec<Demand>> = alone.map(|demand| vec![*demand]).collect();
    let tried = |at: usize| &demands[..at];
    let more = demands.iter().enumerate();
    let more = more.flat_map(|(at, demand)| asked.ways_by(*demand, tried(at)));
    for way in more.collect::<Vec<_>>() {
        let holds = |known: &Vec<Demand>| known.iter().all(|demand| way.contains(demand));
        if !ways.iter().any(holds) {
            ways.retain(|known| !way.iter().all(|demand| known.contains(demand)));
            ways.push(way);
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
    /// How many searches there may still be for ways out that give up several demands.
    left: Cell<usize>,
    /// Whether the words have no room as long as `fullest` holds, whatever else gives way.
    full: OnceCell<bool>,
}

impl Asked {
    fn new(problems: &[&Problem], soft: &[RuleName], limits: Limits) -> Asked {
        let all = Demand::all(problems, soft);
        let bare = problems
            .iter()
            .map(|problem| problem.with_hard_rules_alone(soft));
        let sizes = problems
            .iter()
            .map(|problem| problem.rows.len() * problem.panels.len());
        let searches = WORK / sizes.sum::<usize>().max(1);
        Asked {
            problems: bare.collect(),
            all,
            limits,
            left: Cell::new(searches.clamp(SEARCHES.0, SEARCHES.1)),
            full: OnceCell::new(),
        }
    }

    /// Whether there is a division in which some demands are given up and all others met.
    fn is_possible(&self, given_up: &[Demand]) -> bool {
        self.left.set(self.left.get().saturating_sub(1));
        if !given_up.contains(&FULLEST) && self.is_full() {
            return false;
        }
        let mut problems = self.problems.clone();
        Demand::give_way(given_up, &mut problems);
        for demand in given_up {
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

    /// Whether the words have surely no room as long as `fullest` holds, whatever else gives way. Told of parts without
    /// pictures, titles and printed panels alone: of them what gives way opens panels, and nothing else.
    fn is_full(&self) -> bool {
        *self.full.get_or_init(|| {
            let fixed = |panel: &PanelFacts| {
                panel.passed.is_some() || panel.chosen.is_some() || panel.role == Some(Role::Title)
            };
            let plain = |problem: &Problem| {
                problem.pictures.is_empty() && !problem.panels.iter().any(fixed)
            };
            if !self.problems.iter().all(plain) {
                return false;
            }
            let mut freed = self.problems.clone();
            let others = self.all.iter().filter(|demand| **demand != FULLEST);
            Demand::give_way(&others.copied().collect::<Vec<_>>(), &mut freed);
            have_surely_no_room(&freed)
        })
    }

    /// Whether everything else can be met where some demands may be given up. A caption that is none takes room among
    /// the words, and so do headings without a title panel: what cannot be met with them there may be met where they
    /// are.
    fn can_be_met_without(&self, given_up: &[Demand]) -> bool {
        let takes_no_room = |demand: &Demand| match *demand {
            Demand::Caption { .. } => false,
            Demand::Role { part, panel } => {
                self.problems[part].panels[panel].role != Some(Role::Title)
            }
            _ => true,
        };
        let is_caption = |demand: &Demand| matches!(demand, Demand::Caption { .. });
        let only = |may: &dyn Fn(&Demand) -> bool| {
            let some = given_up.iter().filter(|demand| may(demand));
            some.copied().collect::<Vec<Demand>>()
        };
        let but_captions = only(&|demand| !is_caption(demand));
        let fewest = only(&takes_no_room);
        self.is_possible(given_up)
            || but_captions.len() < given_up.len() && self.is_possible(&but_captions)
            || fewest.len() < but_captions.len() && self.is_possible(&fewest)
    }

    /// Whether every stanza that no panel has room for has none either where all demands are given up: it is not the
    /// less divided for that.
    fn long_stanzas_stay_long(&self) -> bool {
        let mut freed = self.problems.clone();
        Demand::give_way(&self.all, &mut freed);
        let mut parts = self.problems.iter().zip(&freed);
        parts.all(|(problem, freed)| {
            let mut rows = problem.rows.iter().zip(&freed.rows);
            rows.all(|(row, freed)| row.too_long == freed.too_long)
        })
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
        if !helps && !self.can_be_met_without(free) {
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

    /// Ways out that give up a demand and two others at most, each without what can be spared of it: where the demand
    /// alone is not enough, one for each of those that still stand against each other, but for those `tried` with it
    /// already. None once the searches for them are used up.
    fn ways_by(&self, demand: Demand, tried: &[Demand]) -> Vec<Vec<Demand>> {
        if self.is_possible(&[demand]) {
            return vec![vec![demand]];
        }
        let may_go_on = || self.left.get() > 0;
        let seconds = Some(()).filter(|()| may_go_on());
        let seconds = seconds.and_then(|()| self.still_against(&[demand]));
        let seconds = seconds.unwrap_or_default().into_iter();
        let seconds = seconds.filter(|second| !tried.contains(second));
        let ways = seconds.filter_map(|second| {
            let mut given_up = vec![demand, second];
            while may_go_on() && !self.is_possible(&given_up) {
                if given_up.len() == MOST_GIVEN_UP {
                    return None;
                }
                given_up.push(*self.still_against(&given_up)?.last()?);
            }
            may_go_on().then(|| self.spared(given_up))
        });
        ways.collect()
    }

    /// What stands against each other though some demands are given up.
    fn still_against(&self, given_up: &[Demand]) -> Option<Vec<Demand>> {
        let still = self.all.iter().filter(|other| !given_up.contains(other));
        self.irreducible(&still.copied().collect::<Vec<_>>())
    }

    /// A way out without what can be spared of it.
    fn spared(&self, mut given_up: Vec<Demand>) -> Vec<Demand> {
        let mut at = 0;
        while at < given_up.len() {
            let mut fewer = given_up.clone();
            fewer.remove(at);
            // What could not be spared of more may be spared of less: a stanza may then be too long for any panel.
            match !fewer.is_empty() && self.is_possible(&fewer) {
                true => (given_up, at) = (fewer, 0),
                false => at += 1,
            }
        }
        given_up
    }
}
