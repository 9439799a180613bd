//! Checks parts that go side by side with another, panel by panel.

use std::collections::BTreeMap;

use super::fault_at;
use crate::book::plan_file::written::PartWritten;
use crate::names::{Faults, LinesRun, Location, PanelName, nearest};
use crate::plan::{Pairing, Pairs, Paper, PartPlan};
use crate::reading::{At, Name};

/// How many panels that lie wrong are told.
const TOLD: usize = 3;

/// Checks what the parts say of pairs, and enters it. `written` are the parts as written, in the same order; how
/// their panels lie is checked where the paper is known.
pub fn check(
    written: &[At<PartWritten>],
    parts: &mut [PartPlan],
    paper: Option<&Paper>,
    faults: &mut Faults,
) {
    let mut paired: BTreeMap<String, &Location> = BTreeMap::new();
    for (index, at) in written.iter().enumerate() {
        let Some(with) = &at.value.pairs_with else {
            if let Some(pairing) = &at.value.pairing {
                let what = "`pairing` says how a part lies to another, and `pairs-with` names none";
                let fault = fault_at("contradiction", what.to_string(), &pairing.place);
                faults.push(fault.help("add the other part: pairs-with = \"body\""));
            }
            continue;
        };
        let Some(other) = other_part(index, with, parts, faults) else {
            continue;
        };
        let own = &parts[index].name;
        let both = [own, &with.value.0];
        let twice = both.into_iter().find_map(|part| {
            let first = paired.get(part)?;
            Some((part, *first))
        });
        if let Some((part, first)) = twice {
            let what = format!("the part `{part}` is in a pair already");
            let fault = fault_at("twice", what, &with.place);
            faults.push(fault.also(first.clone(), "paired here first"));
            continue;
        }
        paired.extend(both.map(|part| (part.clone(), &with.place)));
        let pairs = Pairs {
            with: with.value.0.clone(),
            pairing: at.value.pairing(),
            place: with.place.clone(),
        };
        if let Some(paper) = paper {
            check_panels(&pairs, &parts[index], &parts[other], paper, faults);
        }
        parts[index].pairs = Some(pairs);
    }
}

/// Which part another goes side by side with; told where there is none of that name, or it is the same.
fn other_part(
    index: usize,
    with: &At<Name>,
    parts: &[PartPlan],
    faults: &mut Faults,
) -> Option<usize> {
    let name = with.value.0.as_str();
    let known: Vec<&str> = parts.iter().map(|part| part.name.as_str()).collect();
    let Some(other) = known.iter().position(|known| *known == name) else {
        let others = known.iter().copied().enumerate();
        let others = others
            .filter(|(at, _)| *at != index)
            .map(|(_, other)| other);
        let what = format!("there is no part `{name}`");
        let fault = fault_at("part", what, &with.place);
        let meant = nearest(name, others.clone());
        faults.push(match others.collect::<Vec<_>>().join(", ") {
            none if none.is_empty() => fault.help("describe it in a [[part]] of its own"),
            others => fault.meant(meant).allowed(others),
        });
        return None;
    };
    if other == index {
        let what = format!("the part `{name}` cannot go side by side with itself");
        faults.push(fault_at("contradiction", what, &with.place));
        return None;
    }
    Some(other)
}

/// Tells parts whose panels do not lie as the pair asks.
fn check_panels(
    pairs: &Pairs,
    part: &PartPlan,
    other: &PartPlan,
    paper: &Paper,
    faults: &mut Faults,
) {
    let fault = |what: String| {
        let fault = fault_at("pairs", what, &pairs.place);
        match &other.place {
            Some(place) => fault.also(place.clone(), "the other part"),
            None => fault,
        }
    };
    if part.text.lines_run != other.text.lines_run {
        let [down, across] = match part.text.lines_run {
            LinesRun::Down => [part, other],
            LinesRun::Across => [other, part],
        };
        let what = format!(
            "`{}`, whose lines run down, and `{}`, whose lines run across, cannot go side by side: one is read towards \
             the left and the other downwards, so that no line stands beside its own",
            down.name, across.name
        );
        faults.push(fault(what).help("let both run alike, or leave the pair out"));
        return;
    }
    let (count, others) = (part.on.len(), other.on.len());
    if count != others {
        let what = format!(
            "parts that are paired have as many panels: `{}` has {count}, and `{}` has {others}",
            part.name, other.name
        );
        faults.push(fault(what));
        return;
    }
    let partner = |panel| partner(panel, pairs.pairing, paper);
    let wrong: Vec<(PanelName, PanelName)> = std::iter::zip(&part.on, &other.on)
        .map(|(own, other)| (*own, *other))
        .filter(|(own, other)| partner(*other) != Some(*own))
        .collect();
    let Some(&(own, first)) = wrong.first() else {
        return;
    };
    let how = match pairs.pairing {
        Pairing::Facing => "face",
        Pairing::Behind => "lie behind",
    };
    let what = format!(
        "`{own}` of `{}` does not {how} `{first}` of `{}`",
        part.name, other.name
    );
    let wanted = |(_, other): &(PanelName, PanelName)| match (partner(*other), pairs.pairing) {
        (Some(panel), Pairing::Facing) => format!("{panel} facing {other}"),
        (Some(panel), Pairing::Behind) => format!("{panel} behind {other}"),
        (None, Pairing::Facing) => format!("nothing faces {other}"),
        (None, Pairing::Behind) => format!("what lies behind {other} is not printed"),
    };
    let told: Vec<String> = wrong.iter().take(TOLD).map(wanted).collect();
    let more = if wrong.len() > TOLD { ", …" } else { "" };
    faults.push(fault(what).allowed(format!("{}{more}", told.join(", "))));
}

/// The panel that belongs beside another.
fn partner(panel: PanelName, pairing: Pairing, paper: &Paper) -> Option<PanelName> {
    match pairing {
        Pairing::Behind => {
            let behind = paper.behind(panel);
            behind.filter(|behind| paper.panels.contains(*behind))
        }
        Pairing::Facing => {
            let leafing = paper.leafing();
            let spread = leafing.into_iter().find(|spread| spread.contains(&panel))?;
            spread.into_iter().find(|other| *other != panel)
        }
    }
}
