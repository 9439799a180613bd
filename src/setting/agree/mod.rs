//! Whether plan and manuscript speak of the same parts and pictures.

mod captions;
mod headings;
mod pairs;
mod pictures;

use crate::names::{Fault, Faults, nearest};
use crate::plan::Plan;
use crate::text::Manuscript;

/// A part of the manuscript and its place in the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct PartPair {
    pub manuscript: usize,
    pub plan: usize,
}

/// Pairs the parts of the manuscript with those of the plan.
///
/// # Errors
/// Every part that only one of them knows, every picture that nothing places or that has no room, every picture
/// that a pin or a rule names and nobody else, every caption without its picture, and paired parts that do not
/// keep step; what is asked of headings that are not there.
pub(super) fn pairs(manuscript: &Manuscript, plan: &Plan) -> Result<Vec<PartPair>, Faults> {
    let mut faults = Faults::new();
    let mut pairs = Vec::new();
    for (index, part) in manuscript.parts().iter().enumerate() {
        match plan
            .parts
            .iter()
            .position(|planned| planned.name == part.name)
        {
            Some(planned) => pairs.push(PartPair {
                manuscript: index,
                plan: planned,
            }),
            None => {
                let known = plan.parts.iter().map(|planned| planned.name.as_str());
                faults.push(
                    Fault::new("part", format!("the part `{}` has no panels", part.name))
                        .at(part.place.clone())
                        .meant(nearest(&part.name, known))
                        .help(format!(
                            "give it some in the plan: [[part]] name = \"{}\", on = [\"front 8\"]",
                            part.name
                        )),
                );
            }
        }
    }
    check_planned_parts(manuscript, plan, &mut faults);
    pictures::check(manuscript, plan, &mut faults);
    headings::check(manuscript, plan, &mut faults);
    for pair in &pairs {
        let (part, planned) = (&manuscript.parts()[pair.manuscript], &plan.parts[pair.plan]);
        pictures::check_room(part, planned, plan, &mut faults);
        captions::check(part, planned, (manuscript, plan), &mut faults);
        pairs::check(part, planned, manuscript, &mut faults);
    }
    if faults.is_empty() {
        Ok(pairs)
    } else {
        Err(faults)
    }
}

fn check_planned_parts(manuscript: &Manuscript, plan: &Plan, faults: &mut Faults) {
    for planned in &plan.parts {
        let known = manuscript.parts().iter().map(|part| part.name.as_str());
        let Some(place) = &planned.place else {
            continue;
        };
        if !known.clone().any(|name| name == planned.name) {
            faults.push(
                Fault::new(
                    "part",
                    format!("the manuscript has no part `{}`", planned.name),
                )
                .at(place.clone())
                .meant(nearest(&planned.name, known))
                .help(format!(
                    "begin it in the manuscript with [part: {}]",
                    planned.name
                )),
            );
        }
    }
}
