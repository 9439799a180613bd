//! Which smaller size would fit, and whether narrower margins would do.

use super::again::Stuck;
use super::steps::Step;
use crate::book::plan_file::change::Change;
use crate::division::Problem;
use crate::names::{Length, Role};
use crate::plan::{Margins, Plan, RuleName};

/// Smaller type is not tried: it would not be read.
const SMALLEST: Length = Length::pt(6);
/// The step from size to size.
const TENTH: Length = Length::from_units(Length::pt(1).units() / 10);
/// Of the largest size at which a text could fit, so many thousandths are usual: no panel is wholly full, and few lines
/// break better.
const FULL: i64 = 930;
const COULD: i64 = 1000;
/// How many narrower margins are tried, a millimetre each.
const MARGINS: i64 = 6;
/// Texts with more rows than this are set again at few sizes, and at no narrower margins.
const MOST_ROWS: usize = 2_000;

/// The largest smaller size, in steps of a tenth of a point with the leading in proportion, at which the parts fit;
/// nothing down to 6 pt. Of a long text it is looked for from the size on at which its lines should fit by their count.
pub(super) fn fitting_size(stuck: &Stuck<'_>, problems: &[&Problem]) -> Option<(Step, Length)> {
    let plan = &stuck.prepared.plan;
    let step = |size: Length| {
        Step::Plan(Change::Size {
            size,
            leading: in_proportion(plan, size),
        })
    };
    let fits = |size: Length| stuck.opens(&[step(size)]).is_some();
    let sizes = problems
        .iter()
        .map(|problem| largest_that_could_fit(plan, problem));
    let largest = sizes.collect::<Option<Vec<_>>>()?.into_iter().min()?;
    let mut size = largest.min(plan.text.size - TENTH);
    if printed(problems) || size < SMALLEST {
        return None;
    }
    let long = rows(problems) > MOST_ROWS;
    if long && shrinks_well(problems) {
        let largest = tenths(size + TENTH - Length::from_units(1));
        let first = usual_size(plan, problems).unwrap_or(tenths(size.scaled(FULL, COULD)));
        let first = first.min(largest).max(SMALLEST);
        return around(first, largest, fits).map(|size| (step(size), size));
    }
    if shrinks_well(problems) && !fits(SMALLEST) {
        return None;
    }
    if long {
        let low = between(SMALLEST, size + TENTH, &fits);
        return fits(low).then(|| (step(low), low));
    }
    while size >= SMALLEST {
        if fits(size) {
            return Some((step(size), size));
        }
        size -= TENTH;
    }
    None
}

/// The largest size up to another at which the text fits, where it fits at all smaller ones; nothing where there is none.
/// Each try sets the text anew, so that it goes out from `first` in steps that grow.
fn around(first: Length, largest: Length, fits: impl Fn(Length) -> bool) -> Option<Length> {
    let mut step = TENTH;
    if fits(first) {
        let mut low = first;
        while low < largest {
            let next = (low + step).min(largest);
            if !fits(next) {
                return Some(between(low, next, &fits));
            }
            (low, step) = (next, step * 2);
        }
        return Some(low);
    }
    let mut high = first;
    while high > SMALLEST {
        let next = (high - step).max(SMALLEST);
        if fits(next) {
            return Some(between(next, high, &fits));
        }
        (high, step) = (next, step * 2);
    }
    None
}

/// The largest size at which the text fits, found by halving between one at which it does and one at which it does not.
fn between(mut low: Length, mut high: Length, fits: &impl Fn(Length) -> bool) -> Length {
    while high - low > TENTH {
        let middle = low + TENTH * ((high - low).units() / TENTH.units() / 2).max(1);
        match fits(middle) {
            true => low = middle,
            false => high = middle,
        }
    }
    low
}

/// The size at which words usually fit that take more panels than there are: both the measure and the lines grow with it.
/// Nothing where it is not for want of panels that they do not fit.
fn usual_size(plan: &Plan, problems: &[&Problem]) -> Option<Length> {
    let least = super::least(problems)?;
    let has = problems.first()?.panels.len();
    let share = (has as f64 / least.max(1) as f64).sqrt();
    let tenths = (plan.text.size.as_pt() * share * 10.0).floor() as i64;
    (least > has).then(|| TENTH * tenths)
}

/// A size down to a tenth of a point.
fn tenths(size: Length) -> Length {
    TENTH * (size.units() / TENTH.units())
}

/// Whether what fits at one size surely fits at smaller ones, as far as the rules go.
fn shrinks_well(problems: &[&Problem]) -> bool {
    problems.iter().all(|problem| {
        let rules = &problem.rules;
        let may_be_empty = rules.emptiest.0 == 0 || !rules.is_hard(RuleName::Emptiest);
        may_be_empty && problem.panels.iter().all(|panel| panel.begins.is_none())
    })
}

/// Whether anything is printed: its type is what it is.
fn printed(problems: &[&Problem]) -> bool {
    let mut panels = problems.iter().flat_map(|problem| &problem.panels);
    panels.any(|panel| panel.passed.is_some())
}

fn rows(problems: &[&Problem]) -> usize {
    problems.iter().map(|problem| problem.rows.len()).sum()
}

/// Narrower left and right margins with which fewer lines turn over and the parts fit, and by how much; nothing where
/// none does, or a line of theirs is prose, or all have sides of their own.
pub(super) fn fitting_margins(stuck: &Stuck<'_>, problems: &[&Problem]) -> Option<(Step, Length)> {
    let plan = &stuck.prepared.plan;
    let sides = |of: Margins| (of.left, of.right, of.by_folds);
    let turns = |at: &usize| {
        let part = &stuck.prepared.set.parts[*at];
        let own = plan.parts[part.plan_index].text.margins;
        if sides(own) != sides(plan.text.margins) {
            return false;
        }
        let columns = part.columns.iter().enumerate();
        let mut plain = columns.filter(|(_, column)| column.is_plain());
        plain.any(|(column, _)| {
            let mut rows = part.rows.iter();
            rows.any(|row| row.at[column].stand(0).pieces.len() > 1)
        })
    };
    if printed(problems) || rows(problems) > MOST_ROWS || !stuck.group.iter().any(turns) {
        return None;
    }
    let safety = plan.paper.safety;
    let keeps = safety.fold.max(safety.edge);
    if plan.text.lines_run.is_down() {
        return None;
    }
    let margins = plan.text.margins;
    let narrower = (1..=MARGINS).map(Length::mm).map(|by| {
        let (left, right) = (margins.left - by, margins.right - by);
        let by_folds = margins.by_folds;
        let change = Change::Margins {
            left,
            right,
            by_folds,
        };
        (change, left.min(right), by)
    });
    narrower
        .filter(|(_, least, _)| *least >= keeps)
        .map(|(change, _, by)| (Step::Plan(change), by))
        .find(|(step, _)| stuck.opens(std::slice::from_ref(step)).is_some())
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
    let open = problem.panels.iter();
    let open = open.filter(|panel| panel.role.is_none_or(Role::has_words));
    let areas = open.filter_map(|panel| panel.area);
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
