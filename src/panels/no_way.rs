//! When nothing fits: how many panels would be needed.

use super::problem::Problem;
use super::search::{Limits, divide};
use crate::plan::RuleName;

/// A part that cannot be divided over its panels.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoWay {
    /// The part.
    pub part: String,
    /// How many panels it has.
    pub panels: usize,
    /// With how many a division would keep the rules; nothing where more panels do not help.
    pub needed: Option<usize>,
    /// Rows that fit no panel, each with the half lines it takes and the most that fit.
    pub too_tall: Option<(usize, u32, u32)>,
}

/// How many places × panels are searched exactly before an estimate is given.
const EXACT: usize = 400_000;

/// The fewest panels with which the part can be divided, more ordinary panels following those it has.
/// Nothing where that does not help.
pub fn fewest_panels(problem: &Problem, soft: &[RuleName], limits: Limits) -> Option<usize> {
    let extra = problem
        .panels
        .iter()
        .rev()
        .find(|panel| panel.role.is_none() && panel.picture.is_none());
    let extra = extra.or(problem.panels.last())?.clone();
    let at_least = least_panels(problem)?;
    let has = problem.panels.len();
    let with = |panels: usize| {
        let mut wider = problem.clone();
        let mut plain = extra.clone();
        (plain.role, plain.picture, plain.begins) = (None, None, None);
        wider.panels.resize(panels.max(has), plain);
        wider
    };
    let first = at_least.max(has + 1);
    if first.saturating_mul(problem.rows.len()) > EXACT {
        return Some(first);
    }
    (first..first + 24).find(|&panels| divide(&with(panels), soft, limits).is_some())
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
        let ends = problem.ends(roomiest.setting, from);
        let end = ends
            .take_while(|(_, used)| u64::from(*used) <= most)
            .last()
            .map(|(to, _)| to);
        from = end?;
        panels += 1;
    }
    Some(panels)
}
