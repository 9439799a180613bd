//! What stands in the way where a part cannot be divided, and the nearest ways out.

mod again;
mod comes_to;
mod panels;
mod sizes;
mod steps;
mod ways;
mod words;

pub(crate) use again::PlanText;
pub(crate) use comes_to::rises;
pub(crate) use words::asked_by;

use crate::book::{PreparedBook, may_give_way};
use crate::division::{Conflict, Demand, Limits, Problem, conflict, least_panels};
use crate::names::{Fault, Location};
use crate::plan::RuleName;
use crate::setting::Remembered;
use crate::typeface::FontLibrary;
use again::Stuck;

/// The fault that a part, or two that are paired, cannot be divided, with the nearest ways out, the nearest first.
pub(crate) fn no_way(
    prepared: &PreparedBook,
    text: PlanText<'_>,
    (fonts, remembered): (&FontLibrary, &Remembered),
    group: &[usize],
) -> Fault {
    let stuck = Stuck::new(prepared, group, text, (fonts, remembered));
    let problems = stuck.problems();
    let problems: Vec<&Problem> = problems.iter().collect();
    let soft: Vec<RuleName> = may_give_way(&problems).into_iter().collect();
    let against = conflict(&problems, &soft, Limits::default());
    let ways = ways::ways_out(&stuck, &problems, against.as_ref());
    let mut fault = Fault::new("no-way", what(prepared, group, &problems, against.as_ref()));
    let mut places = places(prepared, group, against.as_ref()).into_iter();
    if let Some((place, _)) = places.next() {
        fault = fault.at(place);
    }
    for (place, told) in places {
        fault = fault.also(place, told);
    }
    fault.help(match ways.as_slice() {
        [] => "no single change that would help was found: take words or pins away".to_string(),
        [only] => only.clone(),
        many => {
            let told = many.iter().enumerate();
            let lines: Vec<String> = told
                .map(|(at, way)| format!("    {}. {way}", at + 1))
                .collect();
            format!("the nearest ways out:\n{}", lines.join("\n"))
        }
    })
}

/// What is wrong: which demands cannot all be met, or that the words need more room.
fn what(
    prepared: &PreparedBook,
    group: &[usize],
    problems: &[&Problem],
    against: Option<&Conflict>,
) -> String {
    let names: Vec<String> = group
        .iter()
        .map(|&at| format!("`{}`", prepared.set.parts[at].name))
        .collect();
    let part = match names.as_slice() {
        [one] => format!("the part {one}"),
        many => format!("the parts {}", many.join(" and ")),
    };
    let (does, whose) = match group.len() {
        1 => ("does", "its"),
        _ => ("do", "their"),
    };
    let has = count(prepared.problems[group[0]].panels.len());
    let no_room = || {
        let size = prepared.plan.text.size.in_points();
        let told = format!("{part} {does} not fit on {whose} {has} at {size}");
        match least(problems) {
            Some(least) if least > problems[0].panels.len() => {
                format!("{told}: {whose} words take at least {least}")
            }
            _ => told,
        }
    };
    let Some(found) = against else {
        return format!("{}, whatever gives way", no_room());
    };
    if found.demands == [Demand::Rule(RuleName::Fullest)] {
        return no_room();
    }
    let told: Vec<String> = found
        .demands
        .iter()
        .map(|demand| asked_by(prepared, group, demand))
        .collect();
    match told.as_slice() {
        [one] => format!("{part} cannot be divided over {whose} {has}: {one}"),
        many => format!(
            "{part} cannot be divided over {whose} {has} so that all of this holds: {}",
            many.join("; ")
        ),
    }
}

/// So many panels that the words of no part fit on fewer.
fn least(problems: &[&Problem]) -> Option<usize> {
    let least = problems.iter().map(|problem| least_panels(problem));
    least.collect::<Option<Vec<_>>>()?.into_iter().max()
}

/// Where in the plan to look: the pins that stand in the way, else the part.
fn places(
    prepared: &PreparedBook,
    group: &[usize],
    against: Option<&Conflict>,
) -> Vec<(Location, String)> {
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

pub(crate) fn count(panels: usize) -> String {
    if panels == 1 {
        "1 panel".to_string()
    } else {
        format!("{panels} panels")
    }
}
