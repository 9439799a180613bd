//! What stands in the way where a part cannot be divided, and the nearest ways out.

mod sizes;
mod ways;
mod words;

pub(crate) use ways::rises;
pub(crate) use words::asked_by;

use crate::book::{PreparedBook, may_give_way};
use crate::division::{Conflict, Cost, Demand, Limits, Way, conflict, fewest_panels};
use crate::names::{Fault, Length};
use crate::plan::RuleName;
use crate::typeface::FontLibrary;

/// What a hundredth of the type size is worth when ways out are put in order, in the coin of the rules: the squared
/// hundredths ÷ 10 that fullness costs too.
fn of_size(was: Length, now: Length) -> Cost {
    let lost = ((was - now).as_pt() / was.as_pt() * 100.0).round() as Cost;
    lost * lost / 10
}

/// What each panel more is worth: what a panel too many in a row costs.
const OF_PANEL: Cost = 100;
/// What each millimetre of narrower margins is worth.
const OF_MARGIN: Cost = 10;
/// The most ways that are told.
const MOST_WAYS: usize = 5;

/// The fault that a part, or two that are paired, cannot be divided, with the nearest ways out, the nearest first.
pub(crate) fn no_way(prepared: &PreparedBook, fonts: &FontLibrary, group: &[usize]) -> Fault {
    let problems = prepared.problems_of(group);
    let soft: Vec<RuleName> = may_give_way(&problems).into_iter().collect();
    let limits = Limits::default();
    let against = conflict(&problems, &soft, limits);
    let needed = fewest_panels(&problems, &soft, limits);
    let mut ways = ways_out(prepared, fonts, group, against.as_ref());
    if let Some(needed) = needed {
        ways.push(more_panels(prepared, problems[0].panels.len(), needed));
    }
    ways.sort();
    ways.truncate(MOST_WAYS);
    let what = what(prepared, group, against.as_ref(), needed);
    let mut fault = Fault::new("no-way", what);
    let mut places = places(prepared, group, against.as_ref()).into_iter();
    if let Some((place, _)) = places.next() {
        fault = fault.at(place);
    }
    for (place, told) in places {
        fault = fault.also(place, told);
    }
    fault.help(told(&ways))
}

/// The ways out that the author could take at once, each with what it is worth: fewer demands, smaller type, narrower
/// margins.
fn ways_out(
    prepared: &PreparedBook,
    fonts: &FontLibrary,
    group: &[usize],
    against: Option<&Conflict>,
) -> Vec<(Cost, String)> {
    let mut ways: Vec<(Cost, String)> = Vec::new();
    if let Some(against) = against {
        // Who need not give up more has no use for a way that does, nor for the same way in another order.
        let holds = |way: &Way, other: &Way| {
            let mut demands = other.demands.iter();
            demands.all(|demand| way.demands.contains(demand))
        };
        let spare = |at: usize, way: &Way, (before, other): (usize, &Way)| {
            let fewer = other.demands.len() < way.demands.len();
            let same = other.demands.len() == way.demands.len() && before < at;
            (fewer || same) && holds(way, other)
        };
        let all = || against.ways.iter().enumerate();
        let least = all().filter(|(at, way)| !all().any(|other| spare(*at, way, other)));
        let least = least.map(|(_, way)| way);
        ways.extend(least.map(|way| (way.cost(), ways::way_out(prepared, group, way))));
    }
    if let Some((fitting, leading)) = sizes::fitting_size(prepared, fonts, group) {
        let has = prepared.problems[group[0]].panels.len();
        let told = format!(
            "{} on {} would fit the {}",
            fitting.in_points(),
            leading.in_points(),
            count(has)
        );
        ways.push((of_size(prepared.plan.text.size, fitting), told));
    }
    if let Some(by) = sizes::fitting_margins(prepared, fonts, group) {
        let told =
            format!("left and right margins {by} narrower would do: fewer lines would turn over");
        ways.push((OF_MARGIN * by.as_mm().round() as Cost, told));
    }
    ways
}

/// The way out of more panels, with what it is worth.
fn more_panels(prepared: &PreparedBook, has: usize, needed: usize) -> (Cost, String) {
    let told = format!(
        "{} would do at {}",
        would_do(prepared, needed),
        prepared.plan.text.size.in_points()
    );
    (OF_PANEL * (needed - has) as Cost, told)
}

/// The ways out, as they are told.
fn told(ways: &[(Cost, String)]) -> String {
    match ways {
        [] => "neither more panels nor smaller type alone would do: take words or pins away"
            .to_string(),
        [(_, only)] => only.clone(),
        many => {
            let told = many.iter().enumerate();
            let lines: Vec<String> = told
                .map(|(at, (_, way))| format!("    {}. {way}", at + 1))
                .collect();
            format!("the nearest ways out:\n{}", lines.join("\n"))
        }
    }
}

/// What is wrong: which demands cannot all be met, or that the words need more room.
fn what(
    prepared: &PreparedBook,
    group: &[usize],
    against: Option<&Conflict>,
    needed: Option<usize>,
) -> String {
    let names: Vec<String> = group
        .iter()
        .map(|&at| format!("`{}`", prepared.set.parts[at].name))
        .collect();
    let part = match names.as_slice() {
        [one] => format!("the part {one}"),
        many => format!("the parts {}", many.join(" and ")),
    };
    let has = prepared.problems[group[0]].panels.len();
    let room_alone = |found: &&Conflict| found.demands != [Demand::Rule(RuleName::Fullest)];
    match (against.filter(room_alone), needed) {
        (Some(found), _) => {
            let told: Vec<String> = found
                .demands
                .iter()
                .map(|demand| asked_by(prepared, group, demand))
                .collect();
            match told.as_slice() {
                [one] => format!("{part} cannot be divided over its {}: {one}", count(has)),
                many => format!(
                    "{part} cannot be divided over its {} so that all of this holds: {}",
                    count(has),
                    many.join("; ")
                ),
            }
        }
        (None, Some(needed)) => format!(
            "{part} {} {needed} panels at {}, and the plan gives {} {has}",
            if group.len() == 1 { "needs" } else { "need" },
            prepared.plan.text.size.in_points(),
            if group.len() == 1 { "it" } else { "each" },
        ),
        (None, None) => format!(
            "no division of {part} over its {} keeps every rule",
            count(has)
        ),
    }
}

/// Where in the plan to look: the pins that stand in the way, else the part.
fn places(
    prepared: &PreparedBook,
    group: &[usize],
    against: Option<&Conflict>,
) -> Vec<(crate::names::Location, String)> {
    let demands = against.iter().flat_map(|found| &found.demands);
    let pins = demands.filter_map(|demand| {
        let panel = words::pinned_panel(prepared, group, demand)?;
        let pin = prepared.plan.pin(panel)?;
        Some((pin.place.clone(), asked_by(prepared, group, demand)))
    });
    let mut places: Vec<_> = pins.collect();
    if places.is_empty() {
        let part = prepared.set.parts[group[0]].plan_index;
        places.extend(
            prepared.plan.parts[part]
                .place
                .clone()
                .map(|place| (place, String::new())),
        );
    }
    places
}

/// How many panels would do: on each side, where the body has both whole.
fn would_do(prepared: &PreparedBook, needed: usize) -> String {
    let whole_strip = prepared.plan.parts.iter().all(|part| part.place.is_none());
    match whole_strip && prepared.strip.sides().len() == 2 {
        true => format!("{} a side", count(needed.div_ceil(2))),
        false => count(needed),
    }
}

pub(crate) fn count(panels: usize) -> String {
    if panels == 1 {
        "1 panel".to_string()
    } else {
        format!("{panels} panels")
    }
}
