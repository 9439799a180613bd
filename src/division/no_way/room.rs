//! How many panels the words take at the least.

use std::collections::BTreeSet;

use crate::division::{AreaFacts, Problem};
use crate::names::Role;
use crate::plan::RuleName;

/// So few panels that no division has the words on fewer: each takes as many of them as any panel could, divided
/// wherever a panel may end. Nothing where a row fits no panel.
pub fn least_panels(problem: &Problem) -> Option<usize> {
    let panels = problem.panels.iter();
    let areas = panels.flat_map(|panel| panel.area.iter().chain(panel.shared.iter().flatten()));
    let areas: BTreeSet<AreaFacts> = areas.copied().collect();
    let share = match problem.rules.is_hard(RuleName::Fullest) {
        true => u64::from(problem.rules.fullest.0),
        false => 100,
    };
    let reach = |from: usize, area: &AreaFacts| {
        let most = u64::from(area.capacity) * share / 100;
        let ends = problem.ends(area.column, from);
        let fitting = ends.take_while(|(_, used)| u64::from(*used) <= most);
        fitting.last().map(|(to, _)| to)
    };
    // A title panel takes the headings that open the part.
    let titled = problem
        .panels
        .iter()
        .any(|panel| panel.role == Some(Role::Title));
    let (mut panels, mut from) = (0, if titled { problem.opening } else { 0 });
    while from < problem.rows.len() {
        from = areas.iter().filter_map(|area| reach(from, area)).max()?;
        panels += 1;
    }
    Some(panels)
}
