//! Two parts that lie back to back, against every division of both.

use versefold::division::{
    Behind, Cost, Limits, PartDivision, Pattern, Problem, Together, among, best_back_to_back,
    divide, show_through,
};
use versefold::names::{PanelName, Role};
use versefold::plan::ShowThrough;

use super::brute::{self, Carried};
use super::generator::{self, Dice};
use super::{SEED, definitions};

/// Parts with more divisions than this are passed over.
const MOST: usize = 4_000;
const BOOKS: u64 = 400;

/// A part on the front and one on the back of a strip, most of whose pictures are heavy.
fn parts(seed: u64) -> [Problem; 2] {
    let mut dice = Dice::new(seed);
    let mut parts = [generator::problem(2 * seed), generator::problem(2 * seed + 1)];
    let panels = parts.iter().map(|part| part.panels.len()).max();
    let panels = panels.expect("two parts") as u16;
    for (part, side) in parts.iter_mut().zip([PanelName::front, PanelName::back]) {
        part.rules.show_through = ShowThrough::Avoided;
        for (panel, number) in part.panels.iter_mut().zip(1..) {
            let behind = panels + 1 - number;
            let of = [PanelName::front(behind), PanelName::back(behind)];
            panel.name = side(number);
            panel.behind = None;
            panel.back = Behind {
                of: of.into_iter().find(|of| of.side != panel.name.side),
                ..Behind::default()
            };
        }
        for picture in &mut part.pictures {
            picture.heavy = dice.chance(70);
        }
    }
    parts
}

/// The part as it knows what stands behind its panels in a division of the other.
fn knowing(problem: &Problem, other: &Problem, book: &[Carried]) -> Problem {
    let mut problem = problem.clone();
    for panel in &mut problem.panels {
        let stands = other.panels.iter().zip(book);
        let mut stands = stands.filter(|(facts, _)| Some(facts.name) == panel.back.of);
        if let Some((_, carried)) = stands.next() {
            let picture = carried.picture.map(|at| &other.pictures[at]);
            panel.back.heavy = picture.is_some_and(|picture| picture.heavy);
            panel.back.words = [Role::Title, Role::Text, Role::Shared].contains(&carried.role);
        }
    }
    problem
}

fn carried(part: &PartDivision) -> Vec<Carried> {
    let panels = part.panels.iter().map(|panel| Carried {
        role: panel.role,
        rows: panel.rows.clone(),
        picture: panel.picture,
    });
    panels.collect()
}

/// Role and picture of each panel.
fn pattern(book: &[Carried]) -> Vec<(Role, Option<usize>)> {
    book.iter().map(|panel| (panel.role, panel.picture)).collect()
}

/// The least cost of each pattern of both parts, cheapest first; nothing where there are too many divisions.
fn every(front: &Problem, back: &Problem) -> Option<Vec<Cost>> {
    let mut fronts = brute::all(front, MOST)?;
    fronts.sort_by_key(|front| front.cost);
    let backs = brute::all(back, MOST)?;
    let mut seen = Vec::new();
    let mut costs = Vec::new();
    for one in &fronts {
        let own = pattern(&one.book);
        if seen.contains(&own) {
            continue;
        }
        seen.push(own);
        let back = knowing(back, front, &one.book);
        let mut others = Vec::new();
        let mut least: Vec<Cost> = Vec::new();
        for other in &backs {
            // That what lies behind costs something breaks no rule.
            let cost = definitions::cost(&back, &other.book, &[]).expect("a division");
            let own = pattern(&other.book);
            match others.iter().position(|known| *known == own) {
                Some(at) => least[at] = least[at].min(cost),
                None => {
                    others.push(own);
                    least.push(cost);
                }
            }
        }
        costs.extend(least.iter().map(|cost| one.cost + cost));
    }
    costs.sort_unstable();
    Some(costs)
}

#[test]
fn parts_back_to_back_are_divided_as_is_best_for_both() {
    let (mut tried, mut dearer, mut other_front) = (0, 0, 0);
    for seed in SEED..SEED + BOOKS {
        let [front, back] = parts(seed);
        if !show_through(&[&front], &[&back]) {
            continue;
        }
        let Some(expected) = every(&front, &back).filter(|costs| !costs.is_empty()) else {
            continue;
        };
        tried += 1;
        let groups = [&front, &back].map(|part| Together {
            problems: vec![part.clone()],
            soft: Vec::new(),
        });
        let most = 5;
        let found = best_back_to_back(&groups, Limits::default(), Pattern::Coarse, most);
        let costs = found.ways.iter().map(|parts| parts.iter().map(|part| part.cost).sum());
        let costs: Vec<Cost> = costs.collect();
        assert_eq!(costs, expected[..expected.len().min(most)], "seed {seed}");
        let best = &found.ways[0];
        assert!(best.iter().all(|part| part.proved), "seed {seed}");
        // What one part pays among the others is its own and all that lies behind its panels.
        let alone = |problem: &Problem| divide(problem, &[], Limits::default()).expect("a division");
        let (_, told) = among(&front, &best[0], &[(&back, &best[1])]);
        let knows = knowing(&front, &back, &carried(&best[1]));
        let cost = definitions::cost(&knows, &carried(&best[0]), &[]);
        assert_eq!(Some(told.cost), cost, "seed {seed}");
        dearer += usize::from(costs[0] > alone(&front).cost + alone(&back).cost);
        other_front += usize::from(carried(&best[0]) != carried(&alone(&front)));
    }
    println!("{tried} books, {dearer} dearer together, {other_front} with another front");
    assert!(tried >= 40 && dearer >= 10 && other_front >= 3);
}
