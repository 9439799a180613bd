//! Where there is no way: what is named stands against each other, and each of it is needed.

use versefold::division::{Conflict, Demand, Limits, Problem, conflict};
use versefold::names::Role;
use versefold::plan::{RuleName, Weight};

use super::{MOST_DIVISIONS, brute, check_books, ensure, shrink, wide};

/// The book when some demands are not asked. A picture that nothing pins any more waits, if a callout names it.
fn without(problem: &Problem, demands: &[Demand]) -> Problem {
    let mut less = problem.clone();
    for demand in demands {
        match *demand {
            Demand::Rule(name) => {
                let off = Weight {
                    hard: Some(false),
                    importance: 0,
                };
                less.rules.weights.insert(name, off);
            }
            Demand::Pairing => panic!("there is none in these books"),
            Demand::Caption { picture, .. } => {
                for row in &mut less.rows {
                    if row.caption == Some(picture) {
                        row.caption = None;
                    }
                }
            }
            Demand::Alone { picture, .. } => {
                less.pictures[picture].leaves_room = true;
                for panel in &mut less.panels {
                    panel.shared[picture] = panel.shared[picture].or(panel.area);
                }
            }
            Demand::WholeSpread { picture, .. } => less.pictures[picture].whole_spread = false,
            Demand::Spans { picture, .. } => {
                less.pictures[picture].spans = 1;
                for panel in &mut less.panels {
                    panel.shared[picture] = panel.shared[picture].or(panel.area);
                }
                let first = less.pictures[picture].panel;
                for (index, panel) in less.panels.iter_mut().enumerate() {
                    if panel.picture == Some(picture) && Some(index) != first {
                        panel.picture = None;
                    }
                }
            }
            Demand::Role { panel, .. } => less.panels[panel].role = None,
            Demand::Picture { picture, .. } => {
                for panel in &mut less.panels {
                    if panel.picture == Some(picture) {
                        panel.picture = None;
                    }
                }
                less.pictures[picture].panel = None;
                less.pictures[picture].queued = less.pictures[picture].word_row.is_some();
            }
            Demand::Begins { panel, .. } => less.panels[panel].begins = None,
            Demand::Ends { panel, .. } => less.panels[panel].ends = None,
            Demand::Passed { panel, .. } => less.panels[panel].passed = None,
        }
    }
    shrink::marked(less)
}

/// Everything that a book asks: hard rules, and what is fixed by hand.
fn all(problem: &Problem) -> Vec<Demand> {
    let part = 0;
    let mut all = Vec::new();
    for (name, ..) in RuleName::ALL {
        all.extend(problem.rules.is_hard(name).then_some(Demand::Rule(name)));
    }
    for (panel, facts) in problem.panels.iter().enumerate() {
        all.extend(facts.role.map(|_| Demand::Role { part, panel }));
        all.extend(facts.begins.map(|_| Demand::Begins { part, panel }));
        all.extend(facts.ends.map(|_| Demand::Ends { part, panel }));
    }
    for (picture, facts) in problem.pictures.iter().enumerate() {
        all.extend(
            facts
                .whole_spread
                .then_some(Demand::WholeSpread { part, picture }),
        );
        let captioned = problem.rows.iter().any(|row| row.caption == Some(picture));
        all.extend(captioned.then_some(Demand::Caption { part, picture }));
        all.extend((!facts.leaves_room).then_some(Demand::Alone { part, picture }));
        all.extend((facts.spans > 1).then_some(Demand::Spans { part, picture }));
        all.extend(facts.panel.map(|_| Demand::Picture { part, picture }));
    }
    all
}

fn check(problem: &Problem) -> Result<bool, String> {
    let Some(best) = brute::best(problem, &[&[]], MOST_DIVISIONS) else {
        return Ok(false);
    };
    if best[0].is_some() {
        return Ok(false);
    }
    let possible = |demands: &[Demand]| {
        let less = without(problem, demands);
        brute::best(&less, &[&[]], MOST_DIVISIONS).map(|best| best[0].is_some())
    };
    let all = all(problem);
    let found = conflict(&[problem], &[], Limits::default());
    let Some(found) = found else {
        let none = possible(&all);
        ensure(none != Some(true), || {
            "without any demand there is a way".to_string()
        })?;
        return Ok(none.is_some());
    };
    let others: Vec<Demand> = all
        .iter()
        .filter(|demand| !found.demands.contains(demand))
        .copied()
        .collect();
    let Some(with_all) = possible(&others) else {
        return Ok(false);
    };
    ensure(!with_all, || format!("{:?} can all be met", found.demands))?;
    for demand in &found.demands {
        let mut less = others.clone();
        less.push(*demand);
        let but = |kept: &dyn Fn(&Demand) -> bool| {
            let some = less.iter().filter(|demand| !kept(demand));
            some.copied().collect::<Vec<Demand>>()
        };
        let is_caption = |demand: &Demand| matches!(demand, Demand::Caption { .. });
        let is_title = |demand: &Demand| match *demand {
            Demand::Role { panel, .. } => problem.panels[panel].role == Some(Role::Title),
            _ => false,
        };
        let but_captions = but(&is_caption);
        let fewest = but(&|demand| is_caption(demand) || is_title(demand));
        let given_up = [&less, &but_captions, &fewest];
        let met = given_up
            .iter()
            .any(|given_up| possible(given_up) != Some(false));
        ensure(met, || {
            format!("{:?} cannot be met without {demand:?}", found.demands)
        })?;
    }
    check_ways(&all, &found, possible)?;
    Ok(true)
}

/// Each way out leads out, with nothing in it to spare; whatever is enough by itself is among them.
fn check_ways(
    all: &[Demand],
    found: &Conflict,
    possible: impl Fn(&[Demand]) -> Option<bool>,
) -> Result<(), String> {
    for (at, way) in found.ways.iter().enumerate() {
        ensure(possible(way) != Some(false), || {
            format!("{way:?} is no way out")
        })?;
        for spared in 0..way.len() {
            let mut less = way.clone();
            less.remove(spared);
            ensure(less.is_empty() || possible(&less) != Some(true), || {
                format!("of {way:?} something can be spared")
            })?;
        }
        let same = |other: &Vec<Demand>| {
            other.len() == way.len() && other.iter().all(|demand| way.contains(demand))
        };
        ensure(!found.ways[..at].iter().any(same), || {
            format!("{way:?} twice")
        })?;
    }
    for demand in all {
        let enough = possible(&[*demand]) == Some(true);
        ensure(!enough || found.ways.contains(&vec![*demand]), || {
            format!("{demand:?} is enough, and not told")
        })?;
    }
    Ok(())
}

#[test]
fn what_is_named_stands_against_each_other_and_nothing_of_it_can_be_spared() {
    check_books(wide::problem, 7_000_000, 500, check);
}
