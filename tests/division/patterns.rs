//! The best division of each of the best patterns, against all divisions sorted by pattern.

use std::collections::HashMap;

use versefold::division::{Limits, Pattern, Problem, best_patterns};

use super::brute::{self, Best, Carried, rank};
use super::{MOST_DIVISIONS, SEED, carried, check_books, ensure, wide};

/// How many are asked for.
const MOST: usize = 6;

/// What patterns tell apart: role and picture of each panel; of fine ones also the stanza or paragraph that the
/// words up to there end in, by its number.
fn pattern(problem: &Problem, book: &[Carried], fine: Pattern) -> Vec<String> {
    let stanza = |end: usize| match fine {
        Pattern::Coarse => 0,
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
    for fine in [Pattern::Coarse, Pattern::Fine] {
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
        let found = best_patterns(&[problem], &[], Limits::default(), fine, MOST);
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
