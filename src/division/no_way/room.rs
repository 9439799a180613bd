//! How many panels would be needed.

use crate::division::{Limits, PanelFacts, Problem, divide_together};
use crate::plan::RuleName;

/// How many places × panels are searched exactly before an estimate is given.
const EXACT: usize = 400_000;

/// The fewest panels with which a part, or two that are paired, can be divided, more ordinary panels following
/// those there are. Nothing where that does not help.
pub fn fewest_panels(problems: &[&Problem], soft: &[RuleName], limits: Limits) -> Option<usize> {
    let has = problems[0].panels.len();
    let least = problems.iter().map(|problem| least_panels(problem));
    let first = least
        .collect::<Option<Vec<_>>>()?
        .into_iter()
        .max()?
        .max(has + 1);
    let rows: usize = problems.iter().map(|problem| problem.rows.len()).sum();
    if first.saturating_mul(rows) > EXACT {
        return Some(first);
    }
    (first..first + 24).find(|&panels| {
        let longer: Vec<Problem> = problems
            .iter()
            .map(|problem| with(problem, panels))
            .collect();
        let longer: Vec<&Problem> = longer.iter().collect();
        divide_together(&longer, soft, limits).0.is_some()
    })
}

/// A part with more panels, as the strip would go on.
fn with(problem: &Problem, panels: usize) -> Problem {
    let ordinary = |panel: &&PanelFacts| panel.role.is_none() && panel.picture.is_none();
    let last = problem.panels.last();
    let Some(like) = problem.panels.iter().rev().find(ordinary).or(last) else {
        return problem.clone();
    };
    let mut longer = problem.clone();
    while longer.panels.len() < panels {
        let before = &longer.panels[longer.panels.len() - 1];
        let opens_spread = !before.opens_spread;
        longer.panels.push(PanelFacts {
            role: None,
            picture: None,
            begins: None,
            ends: None,
            chosen: None,
            passed: None,
            spread: before.spread + usize::from(opens_spread),
            opens_spread,
            follows: true,
            ..like.clone()
        });
    }
    longer
}

/// The fewest panels that hold the words by themselves, each as full as the roomiest panel may be, divided
/// wherever a panel may end. Nothing where a row fits no panel.
fn least_panels(problem: &Problem) -> Option<usize> {
    let roomiest = problem
        .panels
        .iter()
        .filter_map(|panel| panel.area)
        .max_by_key(|area| area.capacity)?;
    let most = u64::from(roomiest.capacity) * u64::from(problem.rules.fullest.0) / 100;
    let rows = problem.rows.len();
    let mut panels = 0;
    let mut from = 0;
    while from < rows {
        let ends = problem.ends(roomiest.column, from);
        let end = ends
            .take_while(|(_, used)| u64::from(*used) <= most)
            .last()
            .map(|(to, _)| to);
        from = end?;
        panels += 1;
    }
    Some(panels)
}
