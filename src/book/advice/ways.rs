//! The ways out, in the order in which they are told. Each has been tried as the author would go it.

use super::again::Stuck;
use super::comes_to::{comes_to, paid};
use super::panels;
use super::sizes;
use super::steps::Step;
use crate::division::{Conflict, Cost, Demand, Problem};
use crate::names::Length;

/// What each panel more is worth when ways out are put in order, in the coin of the rules: what a panel too many in a
/// row costs.
const OF_PANEL: Cost = 100;
/// What each millimetre of narrower margins is worth.
const OF_MARGIN: Cost = 10;
/// What it is worth to leave out what she fixed herself.
const OF_PIN: Cost = 100;
/// What it is worth to print a panel again.
const OF_PRINT: Cost = 1_000;
/// The most ways that are told, unless more are enough by themselves.
const MOST_WAYS: usize = 5;
/// The most sets of demands that are tried for them.
const MOST_TRIED: usize = 8;

/// Of several things to do, what they come to is told only in a line no longer than this, in characters.
const LONG: usize = 120;

/// A way out.
struct WayOut {
    /// How many things there are to do.
    steps: usize,
    /// How large they are.
    size: Cost,
    told: String,
    /// What gives way; nothing where there is only to be more room.
    demands: Vec<Demand>,
}

/// The ways out as they are told, the smallest step first. Smaller type, narrower margins and more panels are among
/// them wherever they help, and so is everything that is enough by itself and not yet named.
pub(super) fn ways_out(
    stuck: &Stuck<'_>,
    problems: &[&Problem],
    against: Option<&Conflict>,
) -> Vec<String> {
    let with_room = [
        smaller_type(stuck, problems),
        narrower_margins(stuck, problems),
        more_panels(stuck, problems),
    ];
    let mut ways: Vec<WayOut> = with_room.into_iter().flatten().collect();
    let room = MOST_WAYS.saturating_sub(ways.len());
    let (unnamed, named) = given_up(problems, against);
    let unnamed = unnamed.iter().filter_map(|set| giving_up(stuck, set));
    ways.extend(unnamed);
    let named = named.iter().take(MOST_TRIED);
    let mut named: Vec<WayOut> = named.filter_map(|set| giving_up(stuck, set)).collect();
    // A caption may turn out to be enough by itself that was told to be one of two.
    let enough: Vec<Demand> = ways
        .iter()
        .chain(&named)
        .filter(|way| way.demands.len() == 1)
        .map(|way| way.demands[0])
        .collect();
    named.retain(|way| {
        let mut demands = way.demands.iter();
        way.demands.len() == 1 || !demands.any(|demand| enough.contains(demand))
    });
    in_order(&mut named);
    named.truncate(room);
    ways.extend(named);
    in_order(&mut ways);
    ways.into_iter().map(|way| way.told).collect()
}

/// The sets of demands that may be given up: each that is enough by itself and not among those that are told to stand
/// against each other, then all others. Of captions it is not known before it is tried: without its callout, a line is
/// set as any other.
fn given_up(
    problems: &[&Problem],
    against: Option<&Conflict>,
) -> (Vec<Vec<Demand>>, Vec<Vec<Demand>>) {
    let ways = against.iter().flat_map(|against| &against.ways);
    let ways = ways.cloned();
    let all = Demand::all(problems, &[]).into_iter();
    let captions = all.filter(|demand| matches!(demand, Demand::Caption { .. }));
    let mut sets: Vec<Vec<Demand>> = captions.map(|demand| vec![demand]).collect();
    for way in ways {
        if !sets.contains(&way) {
            sets.push(way);
        }
    }
    let named = |demand: &Demand| against.is_some_and(|told| told.demands.contains(demand));
    sets.into_iter()
        .partition(|set| set.len() == 1 && !named(&set[0]))
}

fn in_order(ways: &mut [WayOut]) {
    ways.sort_by(|one, other| {
        let key = |way: &WayOut| (way.steps, way.size);
        (key(one), &one.told).cmp(&(key(other), &other.told))
    });
}

fn smaller_type(stuck: &Stuck<'_>, problems: &[&Problem]) -> Option<WayOut> {
    let (step, size) = sizes::fitting_size(stuck, problems)?;
    let was = stuck.prepared.plan.text.size;
    Some(WayOut {
        steps: 1,
        size: of_size(was, size),
        told: step.told(stuck.prepared),
        demands: Vec::new(),
    })
}

/// What smaller type is worth: the squared hundredths ÷ 10 that fullness costs too.
fn of_size(was: Length, now: Length) -> Cost {
    let lost = ((was - now).as_pt() / was.as_pt() * 100.0).round() as Cost;
    lost * lost / 10
}

fn narrower_margins(stuck: &Stuck<'_>, problems: &[&Problem]) -> Option<WayOut> {
    let (step, by) = sizes::fitting_margins(stuck, problems)?;
    Some(WayOut {
        steps: 1,
        size: OF_MARGIN * by.as_mm().round() as Cost,
        told: format!("{}: fewer lines would turn over", step.told(stuck.prepared)),
        demands: Vec::new(),
    })
}

fn more_panels(stuck: &Stuck<'_>, problems: &[&Problem]) -> Option<WayOut> {
    let found = panels::enough(stuck, problems)?;
    let told = found.step.told(stuck.prepared);
    Some(WayOut {
        steps: 1,
        size: OF_PANEL * found.more as Cost,
        told: format!("{told}{}", found.told.unwrap_or_default()),
        demands: Vec::new(),
    })
}

/// The way out by giving up some demands; nothing where they are not the author's, or it does not help after all.
fn giving_up(stuck: &Stuck<'_>, demands: &[Demand]) -> Option<WayOut> {
    let of = |demand| Step::of(stuck.prepared, stuck.group, demand);
    let steps: Vec<Step> = demands.iter().map(of).collect::<Option<_>>()?;
    let freed = stuck.divided(&steps)?;
    let told = Step::all_told(&steps, stuck.prepared);
    let comes = demands.iter().filter_map(|demand| {
        let name = picture_of(stuck, demand);
        comes_to(&freed, stuck.group, demand, name)
    });
    let comes: Vec<String> = comes.collect();
    let whole = match comes.is_empty() {
        true => told.clone(),
        false => format!("{told}: {}", comes.join("; ")),
    };
    let size = demands.iter().map(|demand| match demand {
        Demand::Rule(name) => paid(&freed.parts, *name),
        Demand::Passed { .. } => OF_PRINT,
        _ => OF_PIN,
    });
    Some(WayOut {
        steps: steps.len(),
        size: size.sum(),
        demands: demands.to_vec(),
        told: match demands.len() > 1 && whole.chars().count() > LONG {
            true => told,
            false => whole,
        },
    })
}

/// The name of the picture that a demand speaks of.
fn picture_of<'a>(stuck: &'a Stuck<'_>, demand: &Demand) -> Option<&'a str> {
    let (part, picture) = match *demand {
        Demand::Picture { part, picture }
        | Demand::Spans { part, picture }
        | Demand::WholeSpread { part, picture } => (part, picture),
        _ => return None,
    };
    let problem = &stuck.prepared.problems[stuck.group[part]];
    Some(problem.pictures[picture].name.as_str())
}
