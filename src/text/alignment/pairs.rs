//! Which lines of two stretches are each other's, though not the same.

use similar::{Algorithm, DiffOp, capture_diff_slices};

/// Lines with fewer words in common than this share of both have nothing to do with each other.
const LEAST_ALIKE: f64 = 0.34;
/// With more pairs of lines than this, each line is compared with that of the same number alone.
const MOST: usize = 60_000;

/// Pairs of lines that are alike, in order, chosen so that as many words as can be are the same.
pub(super) fn alike(old: &[Vec<&str>], new: &[Vec<&str>]) -> Vec<(usize, usize)> {
    if old.is_empty() || new.is_empty() {
        return Vec::new();
    }
    if old.len().saturating_mul(new.len()) > MOST {
        let pairs = (0..old.len().min(new.len())).map(|at| (at, at));
        return pairs
            .filter(|&(one, other)| worth(&old[one], &new[other]) > 0)
            .collect();
    }
    let width = new.len() + 1;
    let worths: Vec<u32> = old
        .iter()
        .flat_map(|one| new.iter().map(|other| worth(one, other)))
        .collect();
    let worth_of = |one: usize, other: usize| worths[one * new.len() + other];
    // The best sum from each pair of lines to the end.
    let mut best = vec![0u32; (old.len() + 1) * width];
    for one in (0..old.len()).rev() {
        for other in (0..new.len()).rev() {
            let paired = match worth_of(one, other) {
                0 => 0,
                worth => worth + best[(one + 1) * width + other + 1],
            };
            best[one * width + other] = paired
                .max(best[(one + 1) * width + other])
                .max(best[one * width + other + 1]);
        }
    }
    let (mut one, mut other) = (0, 0);
    let mut pairs = Vec::new();
    while one < old.len() && other < new.len() {
        let here = best[one * width + other];
        let worth = worth_of(one, other);
        if worth > 0 && here == worth + best[(one + 1) * width + other + 1] {
            pairs.push((one, other));
            (one, other) = (one + 1, other + 1);
        } else if here == best[(one + 1) * width + other] {
            one += 1;
        } else {
            other += 1;
        }
    }
    pairs
}

/// How much two lines have in common: a hundred for each word, and up to 99 for the share that these words are of both
/// lines; 0 where that share is less than `LEAST_ALIKE`.
fn worth(one: &[&str], other: &[&str]) -> u32 {
    let most = one.len().min(other.len());
    let all = one.len() + other.len();
    if (2 * most) as f64 / (all.max(1) as f64) < LEAST_ALIKE {
        return 0;
    }
    let same: usize = capture_diff_slices(Algorithm::Myers, one, other)
        .iter()
        .map(|op| match op {
            DiffOp::Equal { len, .. } => *len,
            _ => 0,
        })
        .sum();
    let share = (2 * same) as f64 / all.max(1) as f64;
    if share < LEAST_ALIKE {
        return 0;
    }
    // Of pairings with as many words in common, that whose lines are most alike has the greatest sum.
    (same * 100) as u32 + (share * 99.0) as u32
}
