//! How many panels a side would do.

use super::again::Stuck;
use super::steps::Step;
use crate::book::PreparedBook;
use crate::book::plan_file::change::Change;
use crate::division::Problem;
use crate::names::{PanelName, panel_list};
use crate::plan::{PartPlan, Plan};

/// As many panels as a side may have.
const MOST_PANELS: u16 = 400;
/// At most so many numbers are tried, so many of them one after the other; of long texts fewer.
const MOST_TRIES: usize = 12;
const ONE_BY_ONE: usize = 8;
/// So many places × panels are searched in all before a number is given up.
const WORK: usize = 40_000_000;

/// Panels enough, and what else there is to say of them.
pub(super) struct MorePanels {
    pub step: Step,
    /// How many there are more on all sides together.
    pub more: usize,
    /// Where parts have panels of their own: which these parts then have.
    pub told: Option<String>,
}

/// How many panels a side would do, as few as can be told; nothing where no number does.
pub(super) fn enough(stuck: &Stuck<'_>, problems: &[&Problem]) -> Option<MorePanels> {
    let plan = &stuck.prepared.plan;
    let was = plan.paper.panels.per_side;
    let sides = stuck.prepared.strip.sides().len();
    let least = super::least(problems)?;
    let lacks = least.saturating_sub(problems[0].panels.len());
    let rows: usize = problems.iter().map(|problem| problem.rows.len()).sum();
    let work = (rows * least.max(problems[0].panels.len())).max(1);
    let tries = (WORK / work).clamp(2, MOST_TRIES);
    let parts = names(stuck);
    let mut per_side = usize::from(was) + lacks.div_ceil(sides).max(1);
    for tried in 0..tries {
        let number = u16::try_from(per_side).ok()?;
        if number > MOST_PANELS {
            return None;
        }
        let step = Step::Plan(Change::Panels {
            per_side: number,
            parts: parts.clone(),
        });
        if let Some(longer) = stuck.opens(std::slice::from_ref(&step)) {
            return Some(MorePanels {
                step,
                more: usize::from(number - was) * sides,
                told: on(stuck, &longer),
            });
        }
        per_side += (per_side / 8).clamp(1, if tried < ONE_BY_ONE { 1 } else { 50 });
    }
    None
}

/// The names of the parts that cannot be divided.
fn names(stuck: &Stuck<'_>) -> Vec<String> {
    let parts = stuck.group.iter();
    let names = parts.map(|&at| stuck.prepared.set.parts[at].name.clone());
    names.collect()
}

/// Which panels the parts then have, where the plan says which they have, and whether others move.
fn on(stuck: &Stuck<'_>, longer: &PreparedBook) -> Option<String> {
    let plan = &stuck.prepared.plan;
    let ours = names(stuck);
    if plan.parts.iter().all(|part| part.place.is_none()) {
        return None;
    }
    let changed = |part: &&PartPlan| plan.part(&part.name).map(|was| &was.on) != Some(&part.on);
    let changed: Vec<&PartPlan> = longer.plan.parts.iter().filter(changed).collect();
    let grown = changed.iter().filter(|part| ours.contains(&part.name));
    let told: Vec<String> = grown
        .map(|part| format!("`{}` on {}", part.name, panel_list(&part.on)))
        .collect();
    if told.is_empty() {
        return None;
    }
    let pins = |plan: &Plan| -> Vec<PanelName> {
        let pins = plan.panels.iter();
        pins.map(|pin| pin.panel).collect()
    };
    let others = changed.len() > told.len() || pins(plan) != pins(&longer.plan);
    let along = if others {
        ", and move what follows along"
    } else {
        ""
    };
    Some(format!(", with {}{along}", told.join(" and ")))
}
