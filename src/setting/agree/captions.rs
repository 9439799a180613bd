//! Whether every caption has its picture.

use super::pictures::pin_of;
use crate::names::{Fault, Faults, nearest};
use crate::plan::{PanelPlan, PartPlan, Plan};
use crate::text::{Manuscript, Part};

/// Tells captions of pictures that their part does not have, or that leave them no room.
pub(super) fn check(
    part: &Part,
    planned: &PartPlan,
    (manuscript, plan): (&Manuscript, &Plan),
    faults: &mut Faults,
) {
    let here = |pin: &&PanelPlan| planned.on.contains(&pin.panel);
    let called = part.pictures.iter().map(|call| call.name.as_str());
    let pinned = plan.panels.iter().filter(here);
    let pinned = pinned.filter_map(|pin| pin.picture.as_deref());
    let known: Vec<&str> = called.chain(pinned).collect();
    for call in &part.captions {
        let name = call.name.as_str();
        let fault = |what: String| {
            Fault::new("caption", what)
                .at(call.place.clone())
                .read(name)
        };
        if !known.contains(&name) {
            let what = format!("the part `{}` has no picture `{name}`", part.name);
            let fault = fault(what);
            let mut calls = manuscript.parts().iter().flat_map(|part| &part.pictures);
            let elsewhere = calls.find(|call| call.name == name);
            faults.push(match elsewhere {
                Some(call) => fault
                    .also(call.place.clone(), "the picture belongs to the words of this part")
                    .help("write its caption there"),
                None => fault
                    .meant(nearest(name, known.iter().copied()))
                    .help(format!(
                        "write [picture: {name}] below the words that it belongs to, or pin it to a panel of \
                         the part"
                    )),
            });
            continue;
        }
        if let Some(pin) = pin_of(plan, name).filter(|pin| !here(pin)) {
            let what = format!(
                "the picture `{name}` is pinned to `{}`, which the part `{}` does not have",
                pin.panel, part.name
            );
            faults.push(fault(what).also(pin.place.clone(), "the pin"));
            continue;
        }
        let picture = plan.picture(name);
        let full = picture.filter(|picture| picture.spans > 1 && picture.leaves.place.is_none());
        if let Some(picture) = full {
            let what = format!("the picture `{name}` leaves no room to its caption");
            let fault = fault(what).also(picture.place.clone(), "the picture");
            faults.push(fault.help("say what it leaves, such as leaves = { head = \"120 mm\" }"));
        }
    }
}
