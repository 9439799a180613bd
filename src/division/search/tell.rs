//! Telling what each panel carries, and what each rule asks for it.

use std::collections::HashMap;

use super::candidates::PanelCandidate;
use super::part_search::PartSearch;
use super::{Search, Step, Steps};
use crate::division::{Cost, PanelDivision, PartDivision};
use crate::plan::RuleName;
use crate::rules::{Memory, weighed};
use crate::stack::Stop;

impl Search<'_> {
    /// What the parts carry in a division.
    pub fn describe(&self, steps: &[Steps], soft: &[RuleName]) -> Vec<PartDivision> {
        let described = self.tracks.iter().enumerate().map(|(at, track)| {
            let steps = steps.iter().map(|steps| steps[at]);
            describe(track, steps, soft)
        });
        let mut parts: Vec<PartDivision> = described.collect();
        let whole: Cost = parts.iter().map(|part| part.cost).sum();
        let lower = if self.proved {
            whole
        } else {
            self.lower.min(whole)
        };
        let mut lacks = whole - lower;
        for part in &mut parts {
            part.proved = self.proved;
            let less = lacks.min(part.bound);
            part.bound -= less;
            lacks -= less;
        }
        parts
    }
}

pub(super) fn describe(
    track: &PartSearch<'_>,
    steps: impl Iterator<Item = Step>,
    soft: &[RuleName],
) -> PartDivision {
    let problem = track.problem;
    let asked = weighed(problem, soft);
    let mut memory: HashMap<RuleName, Memory> = HashMap::new();
    let (mut from, mut placed, mut total) = (0, 0, 0);
    let mut panels = Vec::with_capacity(problem.panels.len());
    for (panel, step) in steps.enumerate() {
        let to = step.to as usize;
        let offer = PanelCandidate {
            role: step.role,
            picture: step.picture.map(usize::from),
            begins: step.begins,
            kind: 0,
            row: 0,
        };
        let area = track.area(panel, offer.role, offer.picture);
        let stop = area.map(|area| problem.stop(area.column, from, to));
        let stop = Stop {
            to,
            ..stop.unwrap_or_default()
        };
        let reading = track.reading(panel, from, placed, &offer, area, stop);
        let mut costs = Vec::new();
        for weighed in &asked {
            let name = weighed.name;
            let known = memory.get(&name).copied().unwrap_or(0);
            let (verdict, remembered) = weighed.rule.read_on(known, &reading);
            memory.insert(name, remembered);
            match weighed.price(verdict) {
                Some(cost) if cost > 0 => costs.push((name, cost)),
                _ => {}
            }
        }
        total += costs.iter().map(|(_, cost)| cost).sum::<Cost>();
        panels.push(PanelDivision {
            panel: problem.panels[panel].name,
            role: step.role,
            rows: from..to,
            picture: offer.picture,
            used: reading.used,
            capacity: reading.capacity,
            costs,
        });
        let begins = offer.picture.filter(|_| step.begins);
        if let Some(picture) = begins.filter(|at| problem.pictures[*at].queued) {
            placed = track.placed_with(placed, picture);
        }
        from = to;
    }
    PartDivision {
        panels,
        cost: total,
        proved: true,
        bound: total,
        gave_way: soft.to_vec(),
    }
}
