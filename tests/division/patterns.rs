//! The best division of each of the best patterns, against all divisions sorted by pattern.

use std::collections::HashMap;

use versefold::division::{Limits, Pattern, Problem, best_divisions};
use versefold::names::Role;

use super::brute::{self, Best, Carried, rank};
use super::{MOST_DIVISIONS, SEED, carried, check_books, ensure, wide};

/// How many are asked for.
const MOST: usize = 6;

/// What a reader tells apart: what each spread carries, in no order, blank panels and blank spreads at the end left out.
fn kind(problem: &Problem, book: &[Carried]) -> Vec<String> {
    let mut spreads: Vec<(usize, Vec<String>)> = Vec::new();
    for (panel, carried) in problem.panels.iter().zip(book) {
        if spreads
            .last()
            .is_none_or(|(spread, _)| *spread != panel.spread)
        {
            spreads.push((panel.spread, Vec::new()));
        }
        if carried.role != Role::Blank {
            let carries = format!("{:?} {:?}", carried.role, carried.picture);
            spreads.last_mut().expect("one was put").1.push(carries);
        }
    }
    let mut told: Vec<String> = spreads
        .into_iter()
        .map(|(_, mut carried)| {
            carried.sort();
            carried.join(", ")
        })
        .collect();
    while told.last().is_some_and(String::is_empty) {
        told.pop();
    }
    told
}

/// What patterns tell apart: role and picture of each panel; of fine ones also the stanza or paragraph that the
/// words up to there end in, by its number.
fn pattern(problem: &Problem, book: &[Carried], fine: Pattern) -> Vec<String> {
    if fine == Pattern::Kind {
        return kind(problem, book);
    }
    let stanza = |end: usize| match fine {
        Pattern::Kind | Pattern::Coarse => 0,
        Pattern::Fine => {
            let mut blocks: Vec<usize> = problem.rows[..end]
                .iter()
                .filter(|row| row.verse || row.prose)
                .map(|row| row.block)
                .collect();
            blocks.dedup();
            blocks.len()
        }
    };
    book.iter()
        .map(|panel| {
            format!(
                "{:?} {:?} {}",
                panel.role,
                panel.picture,
                stanza(panel.rows.end)
            )
        })
        .collect()
}

fn check(problem: &Problem) -> Result<bool, String> {
    let Some(all) = brute::all(problem, MOST_DIVISIONS) else {
        return Ok(false);
    };
    for fine in [Pattern::Kind, Pattern::Coarse, Pattern::Fine] {
        let mut best: HashMap<Vec<String>, &Best> = HashMap::new();
        for book in &all {
            let known = best
                .entry(pattern(problem, &book.book, fine))
                .or_insert(book);
            if (book.cost, rank(&book.book)) < (known.cost, rank(&known.book)) {
                *known = book;
            }
        }
        let mut best: Vec<&Best> = best.into_values().collect();
        best.sort_by_key(|book| (book.cost, rank(&book.book)));
        best.truncate(MOST);
        let found = best_divisions(&[problem], &[], Limits::default(), fine, MOST);
        let looked_through = found.complete;
        let found = found.ways;
        let costs =
            |found: &[(u64, Vec<Carried>)]| found.iter().map(|(cost, _)| *cost).collect::<Vec<_>>();
        let best: Vec<_> = best
            .iter()
            .map(|best| (best.cost, best.book.clone()))
            .collect();
        let found: Vec<_> = found
            .iter()
            .map(|parts| (parts[0].cost, carried(&parts[0])))
            .collect();
        let best = match looked_through {
            true => best,
            // More patterns than are looked through: those that were found are the best.
            false => best[..found.len()].to_vec(),
        };
        ensure(found == best, || {
            format!(
                "{fine:?}: costs {:?}, and it should be {:?}",
                costs(&found),
                costs(&best)
            )
        })?;
    }
    Ok(true)
}

#[test]
fn trials_are_the_best_of_each_of_the_best_patterns() {
    check_books(wide::problem, SEED + 1_000_000, 2_000, check);
}
