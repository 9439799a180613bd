//! Whether the words are surely more than the panels have room for, known before anything is searched.

use std::collections::BTreeMap;

use crate::division::{AreaFacts, PanelFacts, Problem};
use crate::names::{HalfLines, Role};
use crate::plan::RuleName;

/// Whether no division of a part has room for its words, whatever pictures and other rules ask; `soft` is the rules that
/// may give way. Where this says no, there may be none still.
///
/// Behind each panel words reach no farther than the farthest that any panel takes them from any place that they may
/// have come to before it.
pub(super) fn has_surely_no_room(problem: &Problem, soft: &[RuleName]) -> bool {
    let fixed = |panel: &PanelFacts| {
        panel.passed.is_some() || panel.chosen.is_some() || panel.role == Some(Role::Title)
    };
    // A picture's panel with captions alone is bounded by nothing but its text area, and what is fixed may be by less.
    if problem.panels.iter().any(fixed) || problem.rows.iter().any(|row| row.caption.is_some()) {
        return false;
    }
    let open = |panel: &&PanelFacts| panel.role.is_none_or(Role::has_words);
    let panels = problem.panels.iter().filter(open).count();
    let reach = Reach::new(problem, soft);
    // Most words fit, which the panels tell that each take all that they can.
    match reach.panels_one_by_one() {
        Some(taken) if taken <= panels => false,
        _ => reach.least_panels().is_none_or(|least| least > panels),
    }
}

/// How far words reach on one panel.
struct Reach<'a> {
    problem: &'a Problem,
    /// How deep they may go on any panel, by column.
    deepest: BTreeMap<usize, u64>,
}

impl<'a> Reach<'a> {
    fn new(problem: &'a Problem, soft: &[RuleName]) -> Reach<'a> {
        let share = match problem.rules.is_hard(RuleName::Fullest) {
            true if !soft.contains(&RuleName::Fullest) => u64::from(problem.rules.fullest.0),
            _ => 100,
        };
        let panels = problem.panels.iter();
        let areas = panels.flat_map(|panel| panel.area.iter().chain(panel.shared.iter().flatten()));
        let mut deepest = BTreeMap::new();
        for AreaFacts { column, capacity } in areas {
            let depth = deepest.entry(*column).or_insert(0);
            *depth = u64::max(*depth, u64::from(*capacity) * share.min(100));
        }
        Reach { problem, deepest }
    }

    /// The farthest place that words from a place reach on any panel.
    fn from(&self, place: usize) -> usize {
        let reaches = self.deepest.iter().filter_map(|(&column, &depth)| {
            let fits = |used: HalfLines| u64::from(used) * 100 <= depth;
            let stops = self.problem.stack.walk(column, place);
            let fitting = stops.take_while(|stop| fits(stop.used));
            fitting
                .map(|stop| stop.to)
                .filter(|&to| self.problem.may_end(to))
                .last()
        });
        reaches.max().unwrap_or(place)
    }

    /// How many panels the words take, each of which takes all that it can; nothing where there is an end to that.
    fn panels_one_by_one(&self) -> Option<usize> {
        let (mut panels, mut place) = (0, 0);
        while place < self.problem.rows.len() {
            let next = self.from(place);
            if next == place {
                return None;
            }
            (panels, place) = (panels + 1, next);
        }
        Some(panels)
    }

    /// So few panels that no division has the words on fewer; nothing where there is no number.
    fn least_panels(&self) -> Option<usize> {
        let (mut panels, mut reached, mut farthest, mut asked) = (0, 0, 0, 0);
        while reached < self.problem.rows.len() {
            for place in asked..=reached {
                farthest = farthest.max(self.from(place));
            }
            if farthest == reached {
                return None;
            }
            asked = reached + 1;
            (panels, reached) = (panels + 1, farthest);
        }
        Some(panels)
    }
}
