//! What is said of blank panels.

use super::list;
use crate::layout::{LaidPanel, Layout};
use crate::names::{PanelName, Role, capitalized};
use crate::plan::{Blanks, BlanksAt, RuleName};

/// What `blanks` asks of a part.
pub(super) fn asked(blanks: Blanks) -> String {
    let at = match blanks.at {
        BlanksAt::Start => " at the start",
        BlanksAt::End => " at the end",
        BlanksAt::Anywhere => "",
    };
    match blanks.count {
        0 => "no panel blank".to_string(),
        1 => format!("one blank panel{at}"),
        count => format!("{count} blank panels{at}"),
    }
}

/// Blank panels where the plan does not speak of `blanks`: runs of them by their ends.
pub(super) fn unasked(layout: &Layout) -> Option<String> {
    let unasked = |panel: &LaidPanel| {
        let mut costs = panel.costs.iter();
        panel.role == Role::Blank
            && !panel.pinned
            && costs.any(|&(rule, _)| rule == RuleName::Blanks)
    };
    let mut runs: Vec<Vec<PanelName>> = Vec::new();
    for pair in layout
        .panels
        .chunk_by(|one, next| unasked(one) && unasked(next) && one.panel.side == next.panel.side)
    {
        if unasked(&pair[0]) {
            runs.push(pair.iter().map(|panel| panel.panel).collect());
        }
    }
    let told: Vec<String> = runs
        .iter()
        .flat_map(|run| match run.as_slice() {
            [first, .., last] if run.len() > 2 => vec![format!("{first} to {last}")],
            few => few.iter().map(PanelName::to_string).collect(),
        })
        .collect();
    let stay = match runs.concat().len() {
        0 => return None,
        1 => "stays",
        _ => "stay",
    };
    Some(format!("{} {stay} blank.", capitalized(&list(&told))))
}
