//! The search against brute force: on small random books both find the same division, or that there is none.
//!
//! `VERSEFOLD_CASES` asks for more books than usual, `VERSEFOLD_SEED` for others: the first book has that
//! seed, the next ones those that follow.

mod asked;
pub mod brute;
mod captions;
mod conflict;
mod definitions;
mod developers;
pub mod generator;
mod judges;
mod meant;
mod naming;
mod pairs;
mod patterns;
mod pins;
mod posing;
mod reach;
mod sections;
mod shapes;
mod shrink;
mod small;
mod unnamed;
mod waiting;
mod wide;

use std::ops::Range;

use brute::{Best, Carried};
use versefold::division::{Cost, Limits, PartDivision, Problem, divide};
use versefold::names::HalfLines;
use versefold::plan::RuleName;

/// The rules as the plan has them, and with the first one to give way made soft.
const SOFTS: [&[RuleName]; 2] = [&[], &[RuleName::Undivided]];
/// Books with more divisions than this are passed over.
const MOST_DIVISIONS: usize = 20_000;
const SEED: u64 = 1970;

fn from_environment(name: &str, usual: u64) -> u64 {
    std::env::var(name).map_or(usual, |asked| asked.parse().expect("a whole number"))
}

/// Checks so many random books, and shows the smallest likeness of the first that fails.
fn check_books(
    book: impl Fn(u64) -> Problem,
    first: u64,
    usual: u64,
    check: impl Fn(&Problem) -> Result<bool, String>,
) {
    let first = from_environment("VERSEFOLD_SEED", first);
    let wanted = from_environment("VERSEFOLD_CASES", usual);
    let (mut checked, mut seed) = (0, first);
    while checked < wanted {
        let problem = shrink::marked(book(seed));
        match check(&problem) {
            Ok(true) => checked += 1,
            Ok(false) => {}
            Err(_) => {
                let (small, why) = shrink::smallest(problem, &check);
                panic!("seed {seed}: {why}\n{small:#?}\nrepeat with VERSEFOLD_SEED={seed}");
            }
        }
        seed += 1;
        assert!(seed - first < 4 * wanted, "too many books are too large");
    }
}

/// What a panel of the search's answer carries.
fn carried(division: &PartDivision) -> Vec<Carried> {
    let panels = division.panels.iter().map(|panel| Carried {
        role: panel.role,
        rows: panel.rows.clone(),
        picture: panel.picture,
    });
    panels.collect()
}

fn ensure(holds: bool, why: impl FnOnce() -> String) -> Result<(), String> {
    if holds { Ok(()) } else { Err(why()) }
}

/// The answer is the best there is, says so, and accounts for it panel by panel and rule by rule. False
/// where there are too many divisions to try.
fn check_exact(problem: &Problem) -> Result<bool, String> {
    let Some(bests) = brute::best(problem, &SOFTS, MOST_DIVISIONS) else {
        return Ok(false);
    };
    for (soft, best) in SOFTS.iter().zip(bests) {
        let answer = divide(problem, soft, Limits::default());
        let with =
            |what: &str| format!("soft {soft:?}: {what}\nbest: {best:#?}\nanswer: {answer:#?}");
        match (&best, &answer) {
            (None, None) => {}
            (Some(best), Some(answer)) => {
                check_same(best, answer).map_err(|why| with(&why))?;
                check_account(problem, answer, soft).map_err(|why| with(&why))?;
            }
            _ => return Err(with("one finds a division, the other none")),
        }
    }
    Ok(true)
}

fn check_same(best: &Best, answer: &PartDivision) -> Result<(), String> {
    ensure(best.cost == answer.cost, || "the costs differ".to_string())?;
    ensure(best.book == carried(answer), || {
        "another division of the same cost comes first".to_string()
    })?;
    ensure(answer.proved && answer.bound == answer.cost, || {
        "the answer is not said to be proved".to_string()
    })
}

/// The answer's own account of its costs: by panel they sum up to the whole, by rule they are what the
/// rules' definitions ask.
fn check_account(
    problem: &Problem,
    answer: &PartDivision,
    soft: &[RuleName],
) -> Result<(), String> {
    let costs = || answer.panels.iter().flat_map(|panel| &panel.costs);
    let sum: Cost = costs().map(|(_, cost)| cost).sum();
    ensure(sum == answer.cost, || {
        format!("the panels' costs sum up to {sum}")
    })?;
    let book = carried(answer);
    for (name, ..) in RuleName::ALL {
        let told: Cost = costs()
            .filter(|cost| cost.0 == name)
            .map(|cost| cost.1)
            .sum();
        let asked = definitions::cost_of(problem, &book, soft, name);
        ensure(asked == Some(told), || {
            format!("{} costs {asked:?}, the answer says {told}", name.word())
        })?;
    }
    for (index, panel) in answer.panels.iter().enumerate() {
        let area = brute::area(problem, index, &book[index]);
        let used = |rows: &Range<usize>| {
            area.map_or(HalfLines::ZERO, |area| {
                definitions::used(problem, area.column, rows)
            })
        };
        let capacity = area.map_or(HalfLines::ZERO, |area| area.capacity);
        ensure(
            (panel.used, panel.capacity) == (used(&panel.rows), capacity),
            || format!("{} is not filled as it says", panel.panel),
        )?;
        ensure(panel.panel == problem.panels[index].name, || {
            format!("panel {index} bears the wrong name")
        })?;
    }
    ensure(answer.gave_way == soft, || {
        "it tells other rules that gave way".to_string()
    })
}

/// A search that must leave most ways aside still finds one where there is one, and never promises more
/// than is true.
fn check_hurried(problem: &Problem) -> Result<bool, String> {
    let Some(bests) = brute::best(problem, &SOFTS, MOST_DIVISIONS) else {
        return Ok(false);
    };
    for (soft, best) in SOFTS.iter().zip(bests) {
        for states_per_panel in [1, 2, 3, 6] {
            let limits = Limits {
                states_per_panel,
                ..Limits::default()
            };
            let answer = divide(problem, soft, limits);
            let with = |what: &str| {
                format!(
                    "soft {soft:?}, {states_per_panel} states: {what}\nbest: {best:#?}\nanswer: {answer:#?}"
                )
            };
            match (&best, &answer) {
                (None, None) => {}
                (Some(best), Some(answer)) => {
                    let account = check_account(problem, answer, soft);
                    account.map_err(|why| with(&why))?;
                    ensure(
                        answer.bound <= best.cost && best.cost <= answer.cost,
                        || with("the bound or the cost lies on the wrong side of the best"),
                    )?;
                    ensure(!answer.proved || check_same(best, answer).is_ok(), || {
                        with("proved, and yet not the best")
                    })?;
                }
                _ => return Err(with("one finds a division, the other none")),
            }
        }
    }
    Ok(true)
}

#[test]
fn the_search_finds_what_trying_every_division_finds() {
    check_books(wide::problem, SEED, 2_500, check_exact);
}

/// Long waits behind each other, which few of the other books have.
#[test]
fn those_who_wait_cost_what_each_of_them_should() {
    check_books(waiting::problem, SEED, 4_000, check_exact);
}

#[test]
fn a_search_cut_short_finds_a_division_and_bounds_the_best() {
    // Among these are some where the bound is easily set too high.
    check_books(wide::problem, 500_000, 1_000, check_hurried);
}
