//! Parts that lie back to back: heavy pictures of one show through to words of the other.
//!
//! Such parts are divided one after the other, the later ones knowing what the earlier ones put behind their panels, and
//! what that costs is charged to the later ones. That is tried for the best division of each pattern of the earlier
//! part, cheapest first: for what lies behind a panel is told by roles and pictures alone. Once a pattern costs so much
//! that even the best of the later parts, asked nothing of what lies behind, could not make up for it, no other can:
//! what was found is then proved.

use std::collections::BTreeMap;

use super::kinds::{Kind, kind};
use super::search::{self, Limits, Pattern, retell};
use super::{BestDivisions, Cost, PartDivision, Problem};
use crate::names::PanelName;
use crate::plan::RuleName;
use crate::rules::{Behind, ShowThrough};

/// No more patterns of a part than this are tried.
const MOST_PATTERNS: usize = 500;

/// Parts that are divided at once: one, or two that are paired; with the rules that give way.
#[derive(Clone, Debug)]
pub struct Together {
    /// The parts.
    pub problems: Vec<Problem>,
    /// The rules that are weighed instead of kept.
    pub soft: Vec<RuleName>,
}

/// What is known to stand on panels.
type Known = BTreeMap<PanelName, Behind>;

/// Whether a heavy picture of either may come to lie behind a panel of the other.
pub fn show_through(one: &[&Problem], other: &[&Problem]) -> bool {
    let heavy = |problems: &[&Problem]| {
        let mut pictures = problems.iter().flat_map(|problem| &problem.pictures);
        pictures.any(|picture| picture.heavy)
    };
    let asked = |problem: &&Problem| problem.rules.show_through == ShowThrough::Avoided;
    let mut panels = other.iter().flat_map(|problem| &problem.panels);
    let names: Vec<PanelName> = panels.by_ref().map(|panel| panel.name).collect();
    let mut behind = one.iter().flat_map(|problem| &problem.panels);
    one.iter().any(asked)
        && (heavy(one) || heavy(other))
        && behind.any(|panel| panel.back.of.is_some_and(|of| names.contains(&of)))
}

/// The best divisions of parts that lie back to back, as [`super::best_divisions`] finds those of parts that do not: the
/// parts of each way in the order of the groups.
pub fn best_back_to_back(
    groups: &[Together],
    limits: Limits,
    pattern: Pattern,
    most: usize,
) -> BestDivisions {
    let mut found = Ways::default();
    find(groups, &Known::new(), (limits, pattern, most), &mut found);
    let problems = groups.iter().flat_map(|group| &group.problems);
    let problems: Vec<&Problem> = problems.collect();
    let ways = found.first(&problems, pattern, most);
    let complete = ways.len() == most || found.complete;
    let ways = ways.into_iter().cloned().map(|mut parts| {
        for part in parts.iter_mut().filter(|_| !found.proved) {
            part.proved = false;
        }
        parts
    });
    BestDivisions {
        ways: ways.collect(),
        complete,
    }
}

/// A part as it is divided, told again with what others put behind its panels; what that costs is charged to it, whoever
/// paid for it before.
pub fn among(
    problem: &Problem,
    part: &PartDivision,
    others: &[(&Problem, &PartDivision)],
) -> (Problem, PartDivision) {
    let mut known = Known::new();
    for (problem, part) in others {
        note(problem, part, &mut known);
    }
    let told = with_behind(problem, &known);
    if told == *problem {
        return (told, part.clone());
    }
    let panels = &problem.panels;
    let part = match panels.iter().any(|panel| panel.chosen.is_some()) {
        // It has been divided so where panels are chosen.
        true => retell(&told.as_printed(), part),
        false => retell(&told, part),
    };
    (told, part)
}

/// Ways, the cheapest first; those of one cost in the order in which they were found.
#[derive(Default)]
struct Ways {
    all: Vec<(Cost, Vec<PartDivision>)>,
    /// Whether there are no more.
    complete: bool,
    /// Whether the first of them are the best.
    proved: bool,
}

impl Ways {
    /// The first that differ.
    fn first(
        &self,
        problems: &[&Problem],
        pattern: Pattern,
        most: usize,
    ) -> Vec<&Vec<PartDivision>> {
        let mut kinds: Vec<Kind> = Vec::new();
        let all = self.all.iter().map(|(_, parts)| parts);
        let differs = |parts: &&Vec<PartDivision>| {
            let kind = kind(problems, parts);
            let differs = pattern != Pattern::Kind || !kinds.contains(&kind);
            kinds.push(kind);
            differs
        };
        all.filter(differs).take(most).collect()
    }
}

fn find(
    groups: &[Together],
    known: &Known,
    (limits, pattern, most): (Limits, Pattern, usize),
    found: &mut Ways,
) {
    let [group, rest @ ..] = groups else {
        (found.complete, found.proved) = (true, true);
        found.all.push((0, Vec::new()));
        return;
    };
    let cost = |parts: &[PartDivision]| parts.iter().map(|part| part.cost).sum::<Cost>();
    let problems = group.problems.iter();
    let problems: Vec<Problem> = problems
        .map(|problem| with_behind(problem, known))
        .collect();
    let problems: Vec<&Problem> = problems.iter().collect();
    // Kinds of all parts together are told apart by patterns of each.
    let apart = match pattern {
        Pattern::Fine => Pattern::Fine,
        Pattern::Kind | Pattern::Coarse => Pattern::Coarse,
    };
    let mut least = Ways::default();
    find(rest, known, (limits, Pattern::Coarse, 1), &mut least);
    let Some((least, _)) = least.all.first() else {
        return;
    };
    let own =
        |patterns: usize| search::best_patterns(&problems, &group.soft, limits, apart, patterns);
    let (mut tried, mut patterns) = (0, if rest.is_empty() { most } else { most.max(4) });
    let all: Vec<&Problem> = groups.iter().flat_map(|group| &group.problems).collect();
    (found.complete, found.proved) = (true, true);
    loop {
        let ways = own(patterns);
        let no_more = ways.len() < patterns;
        for way in ways.into_iter().skip(tried) {
            let spent = cost(&way);
            let first = found.first(&all, pattern, most);
            let enough = first.last().filter(|_| first.len() == most);
            if enough.is_some_and(|last| cost(last) <= spent + least) {
                found.complete = false;
                return;
            }
            let mut known = known.clone();
            for (problem, part) in problems.iter().zip(&way) {
                note(problem, part, &mut known);
            }
            let mut others = Ways::default();
            find(rest, &known, (limits, pattern, most), &mut others);
            found.proved &= others.proved && way.iter().all(|part| part.proved);
            found.complete &= others.complete;
            for (more, parts) in others.all {
                let parts = way.iter().cloned().chain(parts).collect();
                found.all.push((spent + more, parts));
            }
            found.all.sort_by_key(|(cost, _)| *cost);
        }
        tried = patterns;
        let first = found.first(&all, pattern, most);
        if no_more || rest.is_empty() && first.len() == most || patterns == MOST_PATTERNS {
            found.complete &= no_more;
            found.proved &= no_more || rest.is_empty();
            return;
        }
        patterns = (patterns * 4).min(MOST_PATTERNS);
    }
}

/// Notes what stands on the panels of a part.
fn note(problem: &Problem, part: &PartDivision, known: &mut Known) {
    for panel in &part.panels {
        let picture = panel.picture.map(|at| &problem.pictures[at]);
        let stands = Behind {
            of: None,
            heavy: picture.is_some_and(|picture| picture.heavy),
            words: panel.role.has_words(),
        };
        known.insert(panel.panel, stands);
    }
}

/// A part that knows what stands behind its panels.
fn with_behind(problem: &Problem, known: &Known) -> Problem {
    let mut problem = problem.clone();
    for panel in &mut problem.panels {
        if let Some(stands) = panel.back.of.and_then(|of| known.get(&of)) {
            (panel.back.heavy, panel.back.words) = (stands.heavy, stands.words);
        }
    }
    problem
}
