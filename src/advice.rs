//! What would fit, where a part does not: how many panels at this size, or which smaller size.

use crate::fault::Fault;
use crate::lines;
use crate::manuscript::Manuscript;
use crate::panels::{self, Limits, Problem};
use crate::plan::{Plan, RuleName};
use crate::strip::Strip;
use crate::typeface::Shelf;
use crate::units::{Length, decimals};
use crate::workbench::{divide, may_give_way};

/// The book that does not fit.
pub(crate) struct Asked<'a> {
    pub manuscript: &'a Manuscript,
    pub plan: &'a Plan,
    pub strip: &'a Strip,
    pub shelf: &'a Shelf,
}

/// Smaller type is not tried: it would not be read.
const SMALLEST: Length = Length::pt(6);

/// The fault that a part does not fit its panels, with the nearest ways out.
pub(crate) fn no_way(asked: &Asked<'_>, part: &str, problem: &Problem) -> Fault {
    let soft: Vec<RuleName> = may_give_way(problem).into_iter().collect();
    let has = problem.panels.len();
    let size = points(asked.plan.text.size);
    let needed = panels::fewest_panels(&[problem], &soft, Limits::default());
    let smaller = fitting_size(asked, part, problem);
    let way = match (needed, smaller) {
        (_, Some((size, leading))) => {
            format!(
                "{} on {} would fit the {}",
                points(size),
                points(leading),
                count(has)
            )
        }
        (Some(_), None) => {
            "smaller type alone would not do: give it more panels, or take words away".to_string()
        }
        (None, None) => obstacle(problem),
    };
    let what = match needed {
        Some(needed) => {
            format!(
                "the part `{part}` needs {needed} panels at {size}, and the plan gives it {has}"
            )
        }
        None => format!(
            "no division of the part `{part}` over its {} keeps every rule",
            count(has)
        ),
    };
    let fault = Fault::new("no-way", what);
    let fault = match asked.plan.part(part).and_then(|part| part.place.clone()) {
        Some(place) => fault.at(place),
        None => fault,
    };
    fault.help(way)
}

fn count(panels: usize) -> String {
    if panels == 1 {
        "1 panel".to_string()
    } else {
        format!("{panels} panels")
    }
}

fn points(length: Length) -> String {
    format!("{} pt", decimals(length.as_pt(), 2))
}

/// What stands in the way where neither panels nor size help.
fn obstacle(problem: &Problem) -> String {
    let callouts = problem
        .pictures
        .iter()
        .filter(|picture| picture.queued)
        .count();
    let pins = problem
        .panels
        .iter()
        .filter(|panel| panel.role.is_some() || panel.begins.is_some());
    format!(
        "the rules and pins stand against each other: look at the {} pinned panels, the {callouts} \
         pictures and `picture-comes`, `[keep together]` and `[new panel]`; `may-give` lets a rule give way",
        pins.count()
    )
}

/// The largest smaller size, in steps of a tenth of a point with the leading in proportion, at which the
/// part fits; nothing down to 6 pt.
fn fitting_size(asked: &Asked<'_>, part: &str, problem: &Problem) -> Option<(Length, Length)> {
    let tenth = Length::pt(1) / 10;
    let largest = largest_that_could_fit(asked, problem)?;
    let mut size = largest.min(asked.plan.text.size - tenth);
    while size >= SMALLEST {
        let leading = in_proportion(asked.plan, size);
        if fits_at(asked, part, size, leading) {
            return Some((size, leading));
        }
        size -= tenth;
    }
    None
}

/// The leading that goes with a size, to a tenth of a point.
fn in_proportion(plan: &Plan, size: Length) -> Length {
    let exact = plan
        .text
        .leading
        .scaled(size.units(), plan.text.size.units());
    let tenth = Length::pt(1).units() / 10;
    Length::from_units((exact.units() + tenth / 2) / tenth * tenth)
}

/// The largest size, to a tenth of a point, at which the words could fit if every line shrank in both directions, a
/// tenth allowed for lines that break better; nothing where not even the smallest size would do.
fn largest_that_could_fit(asked: &Asked<'_>, problem: &Problem) -> Option<Length> {
    let areas = problem.panels.iter().filter_map(|panel| panel.area);
    let capacity: u64 = areas.clone().map(|area| u64::from(area.capacity)).sum();
    let area = areas.max_by_key(|area| area.capacity)?;
    let needed = u64::from(problem.depth(area.setting, 0, problem.rows.len()));
    // Spaces may vanish at the heads of panels.
    let spaces: u64 = problem
        .rows
        .iter()
        .map(|row| u64::from(row.space_above))
        .sum();
    let needed = needed.saturating_sub(spaces).max(1);
    let now = asked.plan.text.size;
    let share = (capacity as f64 * 1.1 / needed as f64).sqrt().min(1.0);
    let tenths = (now.as_pt() * share * 10.0).ceil() as i64;
    let size = Length::pt(1) * tenths / 10;
    (size >= SMALLEST).then_some(size)
}

fn fits_at(asked: &Asked<'_>, part: &str, size: Length, leading: Length) -> bool {
    let mut plan = asked.plan.clone();
    let was = plan.text.size;
    for text in
        std::iter::once(&mut plan.text).chain(plan.parts.iter_mut().map(|part| &mut part.text))
    {
        text.size = text.size.scaled(size.units(), was.units());
        text.leading = leading;
    }
    let Ok(set) = lines::set(asked.manuscript, &plan, asked.strip, asked.shelf) else {
        return false;
    };
    let posed = set.parts.iter().find(|set| set.name == part);
    let posed =
        posed.and_then(|part| panels::pose(asked.manuscript, &plan, asked.strip, &set, part).ok());
    posed.is_some_and(|problem| has_room(&problem) && divide(&problem).is_some())
}

/// Whether the words are no deeper than all text areas together, before any rule is asked.
fn has_room(problem: &Problem) -> bool {
    let of_kind = |panel: &crate::panels::PanelFacts| {
        let shared = panel.shared.iter().flatten();
        panel
            .area
            .iter()
            .chain(shared)
            .map(|area| area.capacity)
            .max()
    };
    let capacity: u64 = problem
        .panels
        .iter()
        .filter_map(of_kind)
        .map(u64::from)
        .sum();
    let spaces: u64 = problem
        .rows
        .iter()
        .map(|row| u64::from(row.space_above))
        .sum();
    let settings = 0..problem.falls.len();
    let depths = settings.map(|setting| u64::from(problem.depth(setting, 0, problem.rows.len())));
    let least = depths.min().unwrap_or(0);
    least.saturating_sub(spaces) <= capacity
}
