//! Divisions that a reader tells apart.
//!
//! On a spread the order of a picture and its words makes no other book, nor does where a blank panel lies on it, nor how
//! many blank spreads come last. Divisions that differ in nothing else are of one kind.

use super::search::{self, Limits, Pattern};
use super::{PartDivision, Problem};
use crate::names::Role;
use crate::plan::RuleName;

/// No more patterns than this are looked through for kinds.
const MOST_PATTERNS: usize = 500;

/// The best divisions that are asked for.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct BestDivisions {
    /// Each with its parts, the cheapest first.
    pub ways: Vec<Vec<PartDivision>>,
    /// Whether there are no more, where there are fewer than were asked for.
    pub complete: bool,
}

/// The best division of each of the `most` best kinds or patterns, cheapest first; fewer where there are not so many,
/// or, of kinds, where the best patterns are all of fewer. Of those that cost the same, the one whose division wins among
/// equals comes first.
///
/// # Panics
/// As [`super::divide_together`].
pub fn best_divisions(
    problems: &[&Problem],
    soft: &[RuleName],
    limits: Limits,
    pattern: Pattern,
    most: usize,
) -> BestDivisions {
    if pattern != Pattern::Kind {
        return BestDivisions {
            ways: search::best_patterns(problems, soft, limits, pattern, most),
            complete: true,
        };
    }
    let mut looked_through = most;
    loop {
        let all = search::best_patterns(problems, soft, limits, Pattern::Coarse, looked_through);
        let count = all.len();
        // Patterns come cheapest first, so the first of a kind is its best.
        let mut kinds: Vec<Kind> = Vec::new();
        let mut ways: Vec<Vec<PartDivision>> = Vec::new();
        for way in all {
            let kind = kind(problems, &way);
            if ways.len() < most && !kinds.contains(&kind) {
                kinds.push(kind);
                ways.push(way);
            }
        }
        let no_more = count < looked_through;
        if ways.len() == most || no_more || looked_through == MOST_PATTERNS {
            let complete = ways.len() == most || no_more;
            return BestDivisions { ways, complete };
        }
        looked_through = (looked_through * 4).min(MOST_PATTERNS);
    }
}

/// What every spread of a part carries, in no order and without what is blank: role and picture.
pub(super) type Kind = Vec<Vec<(Role, Option<usize>)>>;

pub(super) fn kind(problems: &[&Problem], way: &[PartDivision]) -> Kind {
    let mut kind = Kind::new();
    for (problem, part) in problems.iter().zip(way) {
        let first = kind.len();
        let panels: Vec<_> = problem.panels.iter().zip(&part.panels).collect();
        for spread in panels.chunk_by(|one, other| one.0.spread == other.0.spread) {
            let panels = spread.iter().map(|(_, panel)| *panel);
            let carried = panels.filter(|panel| panel.role != Role::Blank);
            let mut carried: Vec<_> = carried.map(|panel| (panel.role, panel.picture)).collect();
            carried.sort_unstable();
            kind.push(carried);
        }
        while kind.len() > first && kind.last().is_some_and(Vec::is_empty) {
            kind.pop();
        }
        // Where one part ends and the next begins.
        kind.push(vec![(Role::Blank, None)]);
    }
    kind
}
