//! Whether there are headings of the kinds that the plan speaks of.

use crate::names::{Fault, Faults, Role};
use crate::plan::{HeadingLevel, Plan};
use crate::text::{LineKind, Manuscript};

/// Tells tables about headings where nothing is one, and a place on title panels where no panel is one.
pub(super) fn check(manuscript: &Manuscript, plan: &Plan, faults: &mut Faults) {
    let lines = || manuscript.parts().iter().flat_map(|part| &part.lines);
    let has = |kind: LineKind| lines().any(|line| line.kind == kind);
    let title_panel = plan.panels.iter().any(|pin| pin.role == Some(Role::Title));
    for (level, own) in plan.text.headings.all() {
        let Some(place) = &own.places.table else {
            continue;
        };
        let (there, what, help) = match level {
            HeadingLevel::Title => (
                has(LineKind::Title) || title_panel,
                "a title",
                "begin a title in the manuscript with #, or pin a panel with role = \"title\"",
            ),
            HeadingLevel::Heading => (
                has(LineKind::Heading),
                "a heading",
                "begin a heading in the manuscript with ##",
            ),
            HeadingLevel::Subheading => (
                has(LineKind::Subheading),
                "a lower heading",
                "begin a lower heading in the manuscript with ###",
            ),
        };
        if !there {
            let what = format!("nothing is {what} for {} to speak of", level.table());
            faults.push(Fault::new("no-heading", what).at(place.clone()).help(help));
        }
    }
    let vertical = plan.text.headings.title.places.vertical.as_ref();
    if let (Some(place), false) = (vertical, title_panel) {
        let what = "`vertical` says where the words of a title panel stand, and no panel is one";
        let fault = Fault::new("no-heading", what).at(place.clone());
        faults.push(fault.help("pin a panel with role = \"title\", or leave `vertical` out"));
    }
}
