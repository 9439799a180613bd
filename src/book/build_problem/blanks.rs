//! How many panels of a part may be blank where the plan does not speak of `blanks`.

use crate::names::Role;
use crate::plan::{BlankBetween, Blanks, BlanksAt, Plan};
use crate::rules::{PanelFacts, PictureFacts, RowFacts};

/// The blank panels of a part with pictures where the plan does not speak of `blanks`: those that other rules ask for.
/// Where all were free, pictures would crowd upon words while panels stand empty behind them. One that is pinned costs
/// what it would cost unpinned, so that to pin it saves nothing.
pub(super) fn otherwise(
    plan: &Plan,
    pictures: &[PictureFacts],
    rows: &[RowFacts],
    panels: &[PanelFacts],
) -> Option<Blanks> {
    let mut placed = pictures
        .iter()
        .filter(|picture| picture.queued || picture.panel.is_some())
        .peekable();
    placed.peek()?;
    let end = usize::from(plan.rules.ends_with == Some(Role::Blank));
    let spread = |pair: &&[PanelFacts]| pair[0].spread == pair[1].spread;
    let last = match plan.rules.last_spread {
        Some(Role::Blank) => 1 + panels.windows(2).rev().take_while(spread).count(),
        _ => end,
    };
    let sections = rows
        .windows(2)
        .filter(|pair| pair[0].section != pair[1].section);
    let between = match plan.rules.blank_between {
        Some(BlankBetween::Sections) => sections.count(),
        None => 0,
    };
    let before = placed.filter(|picture| picture.blank_before).count();
    let count = before + between + last;
    Some(Blanks {
        count: u16::try_from(count).unwrap_or(u16::MAX),
        at: BlanksAt::Anywhere,
    })
}
