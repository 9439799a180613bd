//! What panels may carry, as far as the bound tells it apart.

use std::sync::Arc;

use rustc_hash::{FxHashMap, FxHashSet};

use super::bound::price;
use super::candidates::PanelCandidate;
use super::part_search::PartSearch;
use super::reach::{PanelBits, every, no_panels};

/// From a memory of roles before one panel to one before the next, by their numbers in the whole part, and what that
/// costs.
#[derive(Clone, Copy)]
pub(super) struct Shift {
    pub from: usize,
    pub to: usize,
    pub cost: u32,
}

/// What some panels may carry for the same cost, whatever is remembered of roles.
pub(super) struct Choice {
    /// One of the panels.
    pub panel: usize,
    pub offer: PanelCandidate,
    /// 1 where a picture of the queue begins.
    pub begins: usize,
    pub panels: PanelBits,
    /// What carrying it makes of memories of roles, panel by panel.
    shifts: Vec<Shift>,
    /// By panel from the first: where its shifts begin; and where the last one's end.
    begin: Vec<usize>,
}

impl Choice {
    /// The panels that may carry it lie between these.
    pub fn range(&self) -> std::ops::Range<usize> {
        self.panel..self.panel + self.begin.len() - 1
    }

    /// The shifts of some panels in its range.
    pub fn shifts(&self, panels: std::ops::Range<usize>) -> &[Shift] {
        &self.shifts[self.begin[panels.start - self.panel]..self.begin[panels.end - self.panel]]
    }
}

impl PartSearch<'_> {
    /// All choices of a part. `before`: by panel, the number of its first memory in the whole part; `with_roles`: whether
    /// memories are told apart at all.
    pub(super) fn choices(
        &self,
        offers: &[Arc<[PanelCandidate]>],
        before: &[usize],
        with_roles: bool,
    ) -> Vec<Choice> {
        let mut choices: Vec<Choice> = Vec::new();
        let mut numbers: FxHashMap<(usize, usize, Option<usize>), usize> = FxHashMap::default();
        let mut known: FxHashSet<(usize, usize, usize)> = FxHashSet::default();
        for (panel, offer) in every(offers) {
            let queued = |at: usize| self.problem.pictures[at].queued;
            let begins = usize::from(offer.begins && offer.picture.is_some_and(queued));
            let own = self.costs_its_own(panel).then_some(panel);
            let at = *numbers
                .entry((offer.kind, begins, own))
                .or_insert(choices.len());
            if at == choices.len() {
                choices.push(Choice {
                    panel,
                    offer: *offer,
                    begins,
                    panels: no_panels(offers.len()),
                    shifts: Vec::new(),
                    begin: vec![0],
                });
            }
            let row = if with_roles { offer.row } else { 0 };
            if !known.insert((at, panel, row)) {
                continue;
            }
            let choice = &mut choices[at];
            choice.panels[panel / 64] |= 1 << (panel % 64);
            choice
                .begin
                .resize(panel - choice.panel + 1, choice.shifts.len());
            let free = [Some((0, 0))];
            let moves = match with_roles {
                true => self.roles.moves(panel, row),
                false => &free,
            };
            let shifts = moves.iter().enumerate().filter_map(|(memory, to)| {
                to.map(|(next, cost)| Shift {
                    from: before[panel] + memory,
                    to: before[panel + 1] + next as usize,
                    cost: price(cost),
                })
            });
            choice.shifts.extend(shifts);
            choice.begin.push(choice.shifts.len());
        }
        choices
    }
}
