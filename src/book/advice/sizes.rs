//! Which smaller size would fit, and whether narrower margins would do.

use std::sync::Arc;

use crate::book::{PreparedBook, divide};
use crate::division::{PanelFacts, Problem};
use crate::names::Length;
use crate::plan::Plan;
use crate::typeface::FontLibrary;

/// Smaller type is not tried: it would not be read.
const SMALLEST: Length = Length::pt(6);
/// How many narrower margins are tried, a millimetre each.
const MARGINS: i64 = 6;
/// Texts with more rows than this are not set again only to look for turnovers.
const MOST_ROWS: usize = 2_000;

/// The largest smaller size, in steps of a tenth of a point with the leading in proportion, at which some parts
/// fit; nothing down to 6 pt.
pub(super) fn fitting_size(
    prepared: &PreparedBook,
    fonts: &FontLibrary,
    group: &[usize],
) -> Option<(Length, Length)> {
    let tenth = Length::pt(1) / 10;
    let sizes = group
        .iter()
        .map(|&at| largest_that_could_fit(&prepared.plan, &prepared.problems[at]));
    let largest = sizes.collect::<Option<Vec<_>>>()?.into_iter().min()?;
    let mut size = largest.min(prepared.plan.text.size - tenth);
    while size >= SMALLEST {
        let leading = in_proportion(&prepared.plan, size);
        if fits(
            prepared,
            fonts,
            group,
            at_size(&prepared.plan, size, leading),
        ) {
            return Some((size, leading));
        }
        size -= tenth;
    }
    None
}

/// By how much narrower the left and right margins would have to be for fewer lines to turn over and the parts to
/// fit; nothing where none does, or a line of theirs is prose.
pub(super) fn fitting_margins(
    prepared: &PreparedBook,
    fonts: &FontLibrary,
    group: &[usize],
) -> Option<Length> {
    let turns = |at: &usize| {
        let part = &prepared.set.parts[*at];
        let columns = part.columns.iter().enumerate();
        let mut plain = columns.filter(|(_, column)| column.is_plain());
        plain.any(|(column, _)| {
            let mut rows = part.rows.iter();
            rows.any(|row| row.at[column].stand(0).pieces.len() > 1)
        })
    };
    let rows: usize = group
        .iter()
        .map(|&at| prepared.problems[at].rows.len())
        .sum();
    if rows > MOST_ROWS || !group.iter().any(turns) {
        return None;
    }
    let safety = prepared.plan.paper.safety;
    let keeps = safety.fold.max(safety.edge);
    let margins = prepared.plan.text.margins;
    (1..=MARGINS).map(Length::mm).find(|&by| {
        let (left, right) = (margins.left - by, margins.right - by);
        left >= keeps && right >= keeps && {
            let mut plan = (*prepared.plan).clone();
            plan.text.margins.left = left;
            plan.text.margins.right = right;
            for part in &mut plan.parts {
                part.text.margins.left = left;
                part.text.margins.right = right;
            }
            fits(prepared, fonts, group, plan)
        }
    })
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
fn largest_that_could_fit(plan: &Plan, problem: &Problem) -> Option<Length> {
    let areas = problem.panels.iter().filter_map(|panel| panel.area);
    let capacity: u64 = areas.clone().map(|area| u64::from(area.capacity)).sum();
    let area = areas.max_by_key(|area| area.capacity)?;
    let needed = u64::from(problem.depth(area.column, 0, problem.rows.len()));
    // Spaces may vanish at the heads of panels.
    let needed = needed.saturating_sub(problem.stack.all_space()).max(1);
    let now = plan.text.size;
    let share = (capacity as f64 * 1.1 / needed as f64).sqrt().min(1.0);
    let tenths = (now.as_pt() * share * 10.0).ceil() as i64;
    let size = Length::pt(1) * tenths / 10;
    (size >= SMALLEST).then_some(size)
}

fn at_size(plan: &Plan, size: Length, leading: Length) -> Plan {
    let mut plan = plan.clone();
    let was = plan.text.size;
    for text in
        std::iter::once(&mut plan.text).chain(plan.parts.iter_mut().map(|part| &mut part.text))
    {
        text.size = text.size.scaled(size.units(), was.units());
        text.leading = leading;
    }
    plan
}

/// Whether some parts fit under another plan.
fn fits(prepared: &PreparedBook, fonts: &FontLibrary, group: &[usize], plan: Plan) -> bool {
    let Ok(set) = crate::setting::set(&prepared.manuscript, &plan, &prepared.strip, fonts) else {
        return false;
    };
    let manuscript = Arc::clone(&prepared.manuscript);
    let strip = prepared.strip.clone();
    let prepared = PreparedBook::new(manuscript, Arc::new(plan), strip, Arc::new(set));
    prepared.is_ok_and(|prepared| {
        let problems = prepared.problems_of(group);
        problems.iter().all(|problem| has_room(problem)) && divide(&problems).is_some()
    })
}

/// Whether the words are no deeper than all text areas together, before any rule is asked.
fn has_room(problem: &Problem) -> bool {
    let of_kind = |panel: &PanelFacts| {
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
    let columns = 0..problem.stack.columns.len();
    let depths = columns.map(|column| u64::from(problem.depth(column, 0, problem.rows.len())));
    let least = depths.min().unwrap_or(0);
    least.saturating_sub(problem.stack.all_space()) <= capacity
}
