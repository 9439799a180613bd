//! What `--why` tells of random books is true: the book is forced as it says, and every division tried by its plain
//! definition.

use std::sync::Arc;

use versefold::assets::Assets;
use versefold::book::{Outcome, Why, Workbench};
use versefold::division::Problem;
use versefold::plan::RuleName;

use super::books::Book;
use super::random;
use crate::division::brute::{self, Best};

/// Books with more divisions than this are passed over.
const MOST_DIVISIONS: usize = 3_000;

/// The least cost of any division under the rules that a book was divided by; where there is none, with stanzas that need
/// not stay whole, unless the plan says that they must; nothing where there is none either. Nothing at all where there are
/// too many to try.
fn least(why: &Why, problem: &Problem) -> Option<Option<u64>> {
    let undivided = problem.rules.weight(RuleName::Undivided).hard;
    let divided: &[RuleName] = match undivided {
        None => &[RuleName::Undivided],
        Some(_) => &why.gave_way,
    };
    let best = brute::best(problem, &[&why.gave_way, divided], MOST_DIVISIONS)?;
    let cost = |best: &Option<Best>| best.as_ref().map(|best| best.cost);
    Some(cost(&best[0]).or(cost(&best[1])))
}

/// Checks every other end and every other role of every panel of a book; says how many were checked.
fn check(book: &Book) -> usize {
    let assets = Assets::memory()
        .with("concertina.toml", book.plan.to_string())
        .with("winter-bus.txt", book.words.as_str());
    let mut bench = Workbench::new(assets);
    let Ok(layout) = bench.lay_out() else {
        return 0;
    };
    let mut checked = 0;
    for panel in &layout.panels {
        // One that no part has carries what is pinned to it.
        let Ok(why) = bench.why(panel.panel) else {
            continue;
        };
        let problem = &why.prepared.problems[why.part];
        let Some(best) = least(&why, problem) else {
            return checked;
        };
        let best = best.expect("it is divided") as i64;
        let here = problem.panels.iter();
        let here = here.take_while(|facts| facts.name != panel.panel).count();
        let mut forced_as = |told: &Outcome, force: &dyn Fn(&mut Problem)| {
            let mut forced = problem.clone();
            force(Arc::make_mut(&mut forced));
            let Some(found) = least(&why, &forced) else {
                return;
            };
            let more = found.map(|cost| cost as i64 - best);
            let says = match told {
                Outcome::Costs { more, .. } => Some(*more),
                Outcome::Against(_) => None,
            };
            assert_eq!(more, says, "{} {told:?}\n{}", panel.panel, book.shown());
            checked += 1;
        };
        for end in &why.ends {
            forced_as(&end.outcome, &|problem| {
                problem.panels[here].ends = Some(end.what);
            });
        }
        for role in &why.roles {
            forced_as(&role.outcome, &|problem| {
                problem.panels[here].role = Some(role.what);
            });
        }
    }
    checked
}

#[test]
fn what_every_other_end_and_role_costs_is_what_it_costs_when_it_is_forced() {
    let mut checked = 0;
    let mut seed = 50_000;
    while checked < 500 {
        checked += check(&random::book(seed));
        seed += 1;
        assert!(seed < 51_000, "only {checked} in too many books");
    }
}
