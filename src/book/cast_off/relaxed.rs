//! Whether all panels of a part together have room for its words, were every line as short as it could be.

use crate::division::{AreaFacts, Problem};
use crate::plan::RuleName;

/// A part with every line as short as it could be.
pub(super) struct Relaxed {
    pub problem: Problem,
    /// What all its lines and spaces take at least, in half lines.
    pub needed: u64,
}

impl Relaxed {
    /// Whether all panels together have room, the least that pictures take of it set aside.
    pub fn has_room(&self) -> bool {
        let capacity = |area: &Option<AreaFacts>| area.map_or(0, |area| area.capacity.into());
        let problem = &self.problem;
        let beside = |panel: usize, picture: usize| match problem.may_share(panel, picture) {
            true => capacity(&problem.panels[panel].shared[picture]),
            false => 0,
        };
        let panels = 0..problem.panels.len();
        let of_panel = |panel: usize| match problem.panels[panel].picture {
            Some(picture) => beside(panel, picture),
            None => capacity(&problem.panels[panel].area),
        };
        let free = problem
            .panels
            .iter()
            .filter(|panel| panel.picture.is_none());
        let least = free.map(|panel| capacity(&panel.area)).min().unwrap_or(0);
        let kept = match problem.rules.is_hard(RuleName::Pictures) {
            true => least * problem.unnamed_pictures() as u64,
            false => 0,
        };
        let taken: u64 = problem
            .queue()
            .iter()
            .map(|&picture| {
                let beside = panels.clone().map(|panel| beside(panel, picture)).max();
                let spans = problem.pictures[picture].spans as u64;
                least.saturating_sub(beside.unwrap_or(0)) * spans
            })
            .sum();
        let capacity: u64 = panels.clone().map(of_panel).sum();
        self.needed + kept + taken <= capacity
    }
}
