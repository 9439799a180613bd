//! Two parts divided at once, against every pair of their divisions that keep step.

use std::cmp::Reverse;
use std::collections::HashMap;

use versefold::division::{AreaFacts, Limits, Problem, divide_together};
use versefold::names::{HalfLines, Role};

use super::brute::{self, Best, Carried};
use super::generator::{Dice, insert_row};
use super::shrink::marked;
use super::{carried, shapes, wide};

/// Parts with more divisions than this are passed over.
const MOST_DIVISIONS: usize = 3_000;
const PAIRS: u64 = 600;

/// A part and its translation: the same stanzas, some a line longer or shorter, on other panels, without captions and
/// in other shapes.
fn pair(seed: u64) -> (Problem, Problem) {
    let one = wide::problem(seed);
    let mut dice = Dice::new(seed ^ 0x7a5);
    let mut other = wide::plain(seed);
    other.rules = wide::problem(seed + 90_000_000).rules;
    other.body = false;
    let pictures = other.pictures.len();
    for panel in &mut other.panels {
        panel.ends = None;
        panel.begins = None;
        if let Some(area) = &mut panel.area {
            *area = AreaFacts {
                capacity: (area.capacity + HalfLines::lines(dice.between(0, 4))
                    - HalfLines::lines(2))
                .max(HalfLines::LINE),
                ..*area
            };
        }
        if panel.picture.take().is_some() || panel.role.is_some_and(Role::has_picture) {
            panel.role = None;
        }
        panel.shared = vec![panel.area; pictures];
    }
    other.pictures.clear();
    for panel in &mut other.panels {
        panel.shared.clear();
    }
    let verse = other.rows.iter().all(|row| !row.prose);
    if verse && other.rows.len() > other.opening && dice.chance(60) {
        let at = dice.between(other.opening, other.rows.len() - 1);
        if other.rows[at].verse && other.rows[at].kept.is_none() {
            let again = other.rows[at];
            let later = versefold::division::RowFacts {
                joined: false,
                new_panel: false,
                may_divide: false,
                ..again
            };
            other.rows.insert(at + 1, later);
            other.stack.spaces.insert(at + 1, HalfLines::ZERO);
            for column in &mut other.stack.columns {
                insert_row(column, at + 1, HalfLines::LINE);
            }
        }
    }
    (marked(one), marked(shapes::add(other, &mut dice)))
}

/// For each panel: how many stanzas and paragraphs are done, and whether one is under way.
fn keeps_step(problem: &Problem, book: &[Carried]) -> Vec<(usize, bool)> {
    let blocks = |rows: std::ops::Range<usize>| {
        let words = rows.filter(|&row| problem.rows[row].verse || problem.rows[row].prose);
        let mut blocks: Vec<usize> = words.map(|row| problem.rows[row].block).collect();
        blocks.dedup();
        blocks
    };
    let step = |panel: &Carried| {
        let (above, below) = (
            blocks(0..panel.rows.end),
            blocks(panel.rows.end..problem.rows.len()),
        );
        let under_way = above.last().is_some_and(|last| below.first() == Some(last));
        (above.len() - usize::from(under_way), under_way)
    };
    book.iter().map(step).collect()
}

type PairRank = (
    Vec<[Reverse<usize>; 2]>,
    Vec<[Role; 2]>,
    Vec<[Option<usize>; 2]>,
);

fn rank(one: &[Carried], other: &[Carried]) -> PairRank {
    let both = || one.iter().zip(other);
    (
        both()
            .map(|(a, b)| [Reverse(a.rows.end), Reverse(b.rows.end)])
            .collect(),
        both().map(|(a, b)| [a.role, b.role]).collect(),
        both().map(|(a, b)| [a.picture, b.picture]).collect(),
    )
}

/// Checks that the search divides a pair as trying every pair of divisions does, and tells whether it can be divided,
/// and if so whether it has captions and whether words stand in shapes; nothing where there are too many.
fn agrees(seed: u64) -> Option<Option<[bool; 2]>> {
    let (one, other) = pair(seed);
    let ones = brute::all(&one, MOST_DIVISIONS)?;
    let others = brute::all(&other, MOST_DIVISIONS)?;
    let mut by_step: HashMap<_, Vec<&Best>> = HashMap::new();
    for best in &others {
        by_step
            .entry(keeps_step(&other, &best.book))
            .or_default()
            .push(best);
    }
    let mut pairs = 0;
    let mut best: Option<(u64, PairRank, &Best, &Best)> = None;
    for a in &ones {
        for b in by_step
            .get(&keeps_step(&one, &a.book))
            .into_iter()
            .flatten()
        {
            pairs += 1;
            let cost = a.cost + b.cost;
            if best.as_ref().is_some_and(|known| known.0 < cost) {
                continue;
            }
            let rank = rank(&a.book, &b.book);
            if best
                .as_ref()
                .is_none_or(|known| (cost, &rank) < (known.0, &known.1))
            {
                best = Some((cost, rank, a, b));
            }
        }
        if pairs > 2_000_000 {
            return None;
        }
    }
    let (found, _) = divide_together(&[&one, &other], &[], Limits::default());
    let expected = best.map(|(_, _, a, b)| [(a.cost, a.book.clone()), (b.cost, b.book.clone())]);
    let found = found.map(|parts| [0, 1].map(|at| (parts[at].cost, carried(&parts[at]))));
    assert_eq!(found, expected, "seed {seed}: {one:#?}\n{other:#?}");
    let captioned = one.rows.iter().any(|row| row.caption.is_some());
    Some(expected.map(|[(_, a), (_, b)]| {
        let shaped = shapes::has_words(&one, &a) || shapes::has_words(&other, &b);
        [captioned, shaped]
    }))
}

#[test]
fn paired_parts_are_divided_as_trying_every_pair_of_divisions_does() {
    let (mut tried, mut divided, mut captioned, mut shaped) = (0, 0, 0, 0);
    let mut seed = 4_000_000;
    while tried < PAIRS {
        if let Some(found) = agrees(seed) {
            tried += 1;
            divided += u64::from(found.is_some());
            captioned += u64::from(found.is_some_and(|found| found[0]));
            shaped += u64::from(found.is_some_and(|found| found[1]));
        }
        seed += 1;
        assert!(seed < 4_000_000 + 3 * PAIRS, "too many pairs are too large");
    }
    let told = format!(
        "{divided} of {tried} can be divided, {captioned} of them with captions, {shaped} in shapes"
    );
    println!("{told}");
    assert!(
        divided * 6 >= tried && captioned >= 10 && shaped >= 10,
        "{told}"
    );
}
