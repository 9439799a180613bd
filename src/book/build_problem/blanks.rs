//! How many panels of a part may be blank where the plan does not speak of `blanks`.

use crate::names::Role;
use crate::plan::{Blanks, BlanksAt, Plan};
use crate::rules::{PanelFacts, PictureFacts};

/// The blank panels of a part with pictures where the plan does not speak of `blanks`: those that it asks for
/// otherwise. Where all were free, pictures would crowd upon words while panels stand empty behind them.
pub(super) fn otherwise(
    plan: &Plan,
    pictures: &[PictureFacts],
    panels: &[PanelFacts],
) -> Option<Blanks> {
    let pinned = |panel: &PanelFacts| panel.role == Some(Role::Blank);
    let mut placed = pictures
        .iter()
        .filter(|picture| picture.queued || picture.panel.is_some())
        .peekable();
    placed.peek()?;
    let before = |picture: &&PictureFacts| {
        let before = picture.panel.and_then(|panel| panel.checked_sub(1));
        picture.blank_before && !before.is_some_and(|before| pinned(&panels[before]))
    };
    let last = plan.rules.ends_with == Some(Role::Blank) && !panels.last().is_some_and(pinned);
    let count = panels.iter().filter(|panel| pinned(panel)).count()
        + placed.filter(before).count()
        + usize::from(last);
    Some(Blanks {
        count: u16::try_from(count).unwrap_or(u16::MAX),
        at: BlanksAt::Anywhere,
    })
}
