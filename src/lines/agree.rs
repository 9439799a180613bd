//! Whether plan and manuscript speak of the same parts and pictures.

use crate::fault::{Fault, Faults, nearest};
use crate::manuscript::Manuscript;
use crate::plan::Plan;

/// A part of the manuscript and its place in the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Pair {
    pub manuscript: usize,
    pub plan: usize,
}

/// Pairs the parts of the manuscript with those of the plan.
///
/// # Errors
/// Every part that only one of them knows, every picture that nothing places, every picture that a pin or a
/// rule names and nobody else.
pub(super) fn pairs(manuscript: &Manuscript, plan: &Plan) -> Result<Vec<Pair>, Faults> {
    let mut faults = Vec::new();
    let mut pairs = Vec::new();
    for (index, part) in manuscript.parts().iter().enumerate() {
        match plan
            .parts
            .iter()
            .position(|planned| planned.name == part.name)
        {
            Some(planned) => pairs.push(Pair {
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
    check_pictures(manuscript, plan, &mut faults);
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

fn check_pictures(manuscript: &Manuscript, plan: &Plan, faults: &mut Faults) {
    let called = |name: &str| {
        let mut calls = manuscript.parts().iter().flat_map(|part| &part.pictures);
        calls.any(|call| call.name == name)
    };
    let pinned = |name: &str| {
        plan.panels
            .iter()
            .any(|pin| pin.picture.as_deref() == Some(name))
    };
    let calls = manuscript.parts().iter().flat_map(|part| &part.pictures);
    let names: Vec<&str> = calls.map(|call| call.name.as_str()).collect();
    for picture in &plan.pictures {
        if !called(&picture.name) && !pinned(&picture.name) {
            faults.push(
                Fault::new(
                    "picture",
                    format!("nothing places the picture `{}`", picture.name),
                )
                .at(picture.place.clone())
                .meant(nearest(&picture.name, names.iter().copied()))
                .help(format!(
                    "write [picture: {}] below its words in the manuscript, or pin it to a \
                         panel with [[panel]] picture = \"{}\"",
                    picture.name, picture.name
                )),
            );
        }
    }
    for asked in &plan.blank_before {
        let name = asked.name.as_str();
        if !called(name) && !pinned(name) && plan.picture(name).is_none() {
            let planned = plan.pictures.iter().map(|picture| picture.name.as_str());
            let pins = plan.panels.iter().filter_map(|pin| pin.picture.as_deref());
            let known = names.iter().copied().chain(planned).chain(pins);
            let what = format!("`blank-before` names a picture `{name}` that nothing else names");
            let fault = Fault::new("picture", what)
                .at(asked.place.clone())
                .read(name)
                .meant(nearest(name, known));
            faults.push(fault.help("write its name as the callout [picture: …] has it"));
        }
    }
    for pin in &plan.panels {
        let Some(name) = pin.picture.as_deref() else {
            continue;
        };
        if !called(name) && plan.picture(name).is_none() {
            let planned = plan.pictures.iter().map(|picture| picture.name.as_str());
            let known = names.iter().copied().chain(planned);
            faults.push(
                Fault::new(
                    "picture",
                    format!(
                        "{} pins a picture `{name}` that nothing else names",
                        pin.panel
                    ),
                )
                .at(pin.place.clone())
                .read(name)
                .meant(nearest(name, known))
                .help("name it in [[picture]], or with [picture: …] in the manuscript"),
            );
        }
    }
}
