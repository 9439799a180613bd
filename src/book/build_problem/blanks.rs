//! How many panels of a part may be blank where the plan does not speak of `blanks`.

use crate::names::Role;
use crate::plan::{Blanks, BlanksAt, Plan};
use crate::rules::Problem;

/// The blank panels of a part with pictures where the plan does not speak of `blanks`: those that other rules ask for.
/// Where all were free, pictures would crowd upon words while panels stand empty behind them. One that is pinned costs
/// what it would cost unpinned, so that to pin it saves nothing. While pictures have no name yet, their pace keeps them
/// from crowding, and panels that nothing is there for may be blank.
pub(super) fn otherwise(plan: &Plan, problem: &Problem) -> Option<Blanks> {
    if problem.unnamed_pictures() > 0 {
        return None;
    }
    let pictures = problem.pictures.iter();
    let mut placed = pictures
        .filter(|picture| picture.queued || picture.panel.is_some())
        .peekable();
    placed.peek()?;
    let last = plan.rules.ends_with == Some(Role::Blank);
    let count = placed.filter(|picture| picture.blank_before).count() + usize::from(last);
    Some(Blanks {
        count: u16::try_from(count).unwrap_or(u16::MAX),
        at: BlanksAt::Anywhere,
    })
}
