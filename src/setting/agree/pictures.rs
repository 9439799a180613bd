//! Whether every picture is placed, and has room.

use crate::names::{Fault, Faults, nearest};
use crate::plan::{PanelPlan, PartPlan, PictureOrder, PictureRequest, Plan, RuleName};
use crate::rules::MOST_IN_ANY_ORDER;
use crate::text::{Manuscript, Part};

/// Tells pictures that nothing places, and pictures that only a pin or a rule names.
pub(in crate::setting) fn check(manuscript: &Manuscript, plan: &Plan, faults: &mut Faults) {
    let calls = manuscript.parts().iter().flat_map(|part| &part.pictures);
    let called: Vec<&str> = calls.map(|call| call.name.as_str()).collect();
    check_placed(&called, plan, faults);
    check_named(
        RuleName::BlankBefore,
        &plan.blank_before,
        &called,
        plan,
        faults,
    );
    check_named(RuleName::Reveal, &plan.reveal, &called, plan, faults);
    check_pins(&called, plan, faults);
}

/// Tells pictures of the plan that no callout and no pin places; `called` is the pictures that callouts name.
fn check_placed(called: &[&str], plan: &Plan, faults: &mut Faults) {
    for picture in &plan.pictures {
        let name = picture.name.as_str();
        if !called.contains(&name) && pin_of(plan, name).is_none() {
            let what = format!("nothing places the picture `{name}`");
            let fault = Fault::new("picture", what)
                .at(picture.place.clone())
                .meant(nearest(name, called.iter().copied()));
            faults.push(fault.help(format!(
                "write [picture: {name}] below its words in the manuscript, or pin it to a \
                 panel with [[panel]] picture = \"{name}\""
            )));
        }
    }
}

/// Tells pictures that only a rule names; and those that shall be seen after words that no callout gives them.
fn check_named(
    rule: RuleName,
    named: &[PictureRequest],
    called: &[&str],
    plan: &Plan,
    faults: &mut Faults,
) {
    let word = rule.word();
    for asked in named {
        let name = asked.name.as_str();
        if called.contains(&name) {
            continue;
        }
        if pin_of(plan, name).is_none() && plan.picture(name).is_none() {
            let planned = plan.pictures.iter().map(|picture| picture.name.as_str());
            let pins = plan.panels.iter().filter_map(|pin| pin.picture.as_deref());
            let known = called.iter().copied().chain(planned).chain(pins);
            let what = format!("`{word}` names a picture `{name}` that nothing else names");
            let fault = Fault::new("picture", what)
                .at(asked.place.clone())
                .read(name)
                .meant(nearest(name, known));
            faults.push(fault.help("write its name as the callout [picture: …] has it"));
        } else if rule == RuleName::Reveal && pin_of(plan, name).is_some() {
            let what = format!("no callout says which words `{name}` follows, as `reveal` asks");
            let fault = Fault::new("picture", what).at(asked.place.clone());
            let help = format!("write [picture: {name}] below its words in the manuscript");
            faults.push(fault.read(name).help(help));
        }
    }
}

/// Tells pictures that only a pin names.
fn check_pins(called: &[&str], plan: &Plan, faults: &mut Faults) {
    for pin in &plan.panels {
        let Some(name) = pin.picture.as_deref() else {
            continue;
        };
        if !called.contains(&name) && plan.picture(name).is_none() {
            let planned = plan.pictures.iter().map(|picture| picture.name.as_str());
            let known = called.iter().copied().chain(planned);
            let what = format!(
                "{} pins a picture `{name}` that nothing else names",
                pin.panel
            );
            let fault = Fault::new("picture", what)
                .at(pin.place.clone())
                .read(name)
                .meant(nearest(name, known));
            faults
                .push(fault.help("name it in [[picture]], or with [picture: …] in the manuscript"));
        }
    }
}

/// The pin of a picture, if it has one.
pub(super) fn pin_of<'a>(plan: &'a Plan, name: &str) -> Option<&'a PanelPlan> {
    let mut pins = plan.panels.iter();
    pins.find(|pin| pin.picture.as_deref() == Some(name))
}

/// Tells a part with more pictures in its queue than can come in any order.
fn too_many_in_any_order(part: &Part, plan: &Plan) -> Option<Fault> {
    let calls = part.pictures.iter();
    let waiting: Vec<_> = calls
        .filter(|call| pin_of(plan, &call.name).is_none())
        .collect();
    let first = waiting.get(MOST_IN_ANY_ORDER)?;
    let what = format!(
        "with `picture-order = \"free\"` a part has no more than {MOST_IN_ANY_ORDER} pictures that are not pinned, \
         and `{}` has {}",
        part.name,
        waiting.len()
    );
    let fault = Fault::new("pictures", what).at(first.place.clone());
    let free = plan.rules.picture_order == PictureOrder::Free;
    free.then(|| fault.help("pin some of them to panels, or leave `picture-order` out"))
}

/// Tells pictures of a part that its panels have no room for.
pub(super) fn check_room(part: &Part, planned: &PartPlan, plan: &Plan, faults: &mut Faults) {
    let names = || part.pictures.iter().map(|call| call.name.as_str());
    let pinned_here = plan
        .panels
        .iter()
        .filter(|pin| planned.on.contains(&pin.panel));
    let pinned = pinned_here.filter_map(|pin| pin.picture.as_deref());
    let only_pinned = pinned
        .clone()
        .filter(|name| !names().any(|other| other == *name));
    let waiting = names().filter(|name| pin_of(plan, name).is_none());
    let called_and_pinned = names().filter(|name| pinned.clone().any(|other| other == *name));
    let here = waiting.clone().chain(called_and_pinned).chain(only_pinned);
    let spans: Vec<usize> = here.map(|name| usize::from(plan.spans(name))).collect();
    let (taken, has) = (spans.iter().sum::<usize>(), planned.on.len());
    if spans.len() > 1 && taken > has {
        let what = format!(
            "the pictures of the part `{}` stand on {taken} panels, and it has {has}",
            part.name
        );
        let place = planned.place.as_ref().unwrap_or(&part.place);
        let fault = Fault::new("pictures", what).at(place.clone());
        faults.push(fault.help(match spans.iter().any(|spans| *spans > 1) {
            true => "give it more panels, or let its pictures span fewer",
            false => "give it more panels",
        }));
        return;
    }
    faults.extend(too_many_in_any_order(part, plan));
    for picture in waiting.filter_map(|name| plan.picture(name)) {
        let starts = |whole| plan.paper.starts(&planned.on, picture.spans, whole);
        if !starts(picture.whole_spread).is_empty() {
            continue;
        }
        let (name, spans) = (&picture.name, picture.spans);
        let wants = match (picture.whole_side, starts(false).is_empty()) {
            (true, true) => "a whole side".to_string(),
            (false, true) => format!("{spans} panels that follow each other on one side"),
            (_, false) if spans == 1 => "a panel that begins a spread".to_string(),
            (_, false) => format!("{spans} panels of which the first begins a spread"),
        };
        let what = format!(
            "the picture `{name}` wants {wants}, and the part `{}` has none",
            part.name
        );
        let fault = Fault::new("spans", what).at(picture.place.clone());
        let on = planned.place.clone();
        faults.push(match on {
            Some(on) => fault.also(on, "the part's panels"),
            None => fault,
        });
    }
}
