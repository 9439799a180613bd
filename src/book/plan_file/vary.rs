//! The plan as it would be with another type size or another number of panels.

use std::sync::Arc;

use super::written::{Leading, LengthFor, PartWritten, Stretch, Written};
use super::{PanelName, Plan, Side, check};
use crate::names::{Faults, Length, Location, Measure, Source};
use crate::reading::{self, At, TomlDocument, Whole};

/// What would be another.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Variation {
    /// The type size of `[text]`; the leading, where the plan gives one, goes with it in proportion, to a tenth of a point,
    /// and so does that of parts without a size of their own.
    pub size: Option<Length>,
    /// How many panels a side has. On each side the longest stretch of any part grows or shrinks; what lies behind
    /// it, stretches and pins alike, moves along.
    pub panels: Option<u16>,
}

impl Variation {
    /// What is otherwise, in words: "at 10.5 pt, on 9 panels a side".
    pub fn name(&self) -> String {
        let points = |size: Length| format!("at {}", size.in_points());
        let panels = |panels: u16| format!("on {panels} panels a side");
        let told: Vec<String> = [self.size.map(points), self.panels.map(panels)]
            .into_iter()
            .flatten()
            .collect();
        match told.is_empty() {
            true => "as the plan is".to_string(),
            false => told.join(", "),
        }
    }
}

/// The plan with a variation, as if the author had written it so.
///
/// # Errors
/// Everything that is then wrong with it.
pub fn vary(source: &Arc<Source>, variation: Variation) -> Result<Plan, Faults> {
    check::from_document(varied(source, variation))
}

/// The plan as it would be written with a variation.
pub(in crate::book) fn varied(source: &Arc<Source>, variation: Variation) -> TomlDocument<Written> {
    let mut document = reading::read::<Written>(source);
    let here = Location::new(source, 0..0);
    if let Some(size) = variation.size {
        set_size(&mut document.written, size, &here);
    }
    if let Some(panels) = variation.panels {
        set_panels(&mut document.written, panels);
    }
    document
}

/// A table of the plan, which is put in where it is not there.
pub(super) fn entered<'a, T: Default>(
    table: &'a mut Option<At<T>>,
    here: &Location,
) -> &'a mut At<T> {
    table.get_or_insert_with(|| At {
        value: T::default(),
        place: here.clone(),
    })
}

/// A length as it would be written in points.
pub(super) fn points<U>(length: Length) -> Option<LengthFor<U>> {
    Measure::read(&length.in_points()).ok().map(LengthFor::new)
}

fn set_size(written: &mut Written, size: Length, here: &Location) {
    let text = entered(&mut written.text, here);
    let was = text.value.size().resolve(Length::ZERO, Length::ZERO);
    if let Some(leading) = &mut text.value.leading {
        leading.value = in_proportion(leading.value, was, size);
    }
    if let Some(value) = points(size) {
        text.value.size = Some(At {
            value,
            place: here.clone(),
        });
    }
    scale_parts(written, was, size);
}

/// The leading that goes with a size as another went with the size that was, to a tenth of a point.
fn in_proportion(leading: Leading, was: Length, size: Length) -> Leading {
    let exact = leading
        .resolve(was, was)
        .scaled(size.units(), was.units().max(1));
    let tenth = Length::pt(1).units() / 10;
    let rounded = Length::from_units((exact.units() + tenth / 2) / tenth * tenth);
    points(rounded).unwrap_or(leading)
}

/// Lets the leadings of parts go with the size of the text, where that is theirs.
pub(super) fn scale_parts(written: &mut Written, was: Length, size: Length) {
    for part in parts(written).filter(|part| part.size.is_none()) {
        if let Some(leading) = &mut part.leading {
            leading.value = in_proportion(leading.value, was, size);
        }
    }
}

fn set_panels(written: &mut Written, panels: u16) {
    let Some(paper) = &mut written.paper else {
        return;
    };
    let Some(count) = &mut paper.value.panels_per_side else {
        return;
    };
    let was: u16 = count.value.get(0);
    let Some(now) = Whole::new(i64::from(panels)) else {
        return;
    };
    count.value = now;
    // They have no say in what panels carry, and may name panels that are then not there.
    written.crossover = None;
    for side in [Side::Front, Side::Back] {
        let grows = longest_end(written, side, was, |_| true).unwrap_or(was);
        let growth = Growth {
            side,
            was,
            now: panels,
            grows,
            in_place: false,
        };
        lengthen(written, growth);
    }
}

/// How a side grows, or shrinks.
#[derive(Clone, Copy)]
pub(super) struct Growth {
    pub side: Side,
    /// How many panels it had.
    pub was: u16,
    /// How many it has.
    pub now: u16,
    /// The last panel of the stretch that grows.
    pub grows: u16,
    /// Whether new panels follow that one; else it moves along as what lies behind it does, and they come before it.
    pub in_place: bool,
}

/// Makes a stretch longer, or shorter; what lies behind it moves along.
pub(super) fn lengthen(written: &mut Written, growth: Growth) {
    let moved =
        |panel: PanelName, from: u16| match panel.side == growth.side && panel.number >= from {
            true => PanelName {
                number: (panel.number + growth.now)
                    .saturating_sub(growth.was)
                    .max(1),
                ..panel
            },
            false => panel,
        };
    for part in parts(written) {
        for stretch in part.on.iter_mut().flat_map(|list| &mut list.value) {
            let grows = growth.in_place && stretch.value.last.number == growth.grows;
            let alone = stretch.value.first == stretch.value.last && !grows;
            stretch.value.last = moved(stretch.value.last, growth.grows);
            if alone || stretch.value.first.number > growth.grows {
                stretch.value.first = moved(stretch.value.first, growth.grows);
            }
        }
    }
    for pin in written.panel.iter_mut().flat_map(|list| &mut list.value) {
        if let Some(panel) = &mut pin.value.panel {
            panel.value = moved(panel.value, growth.grows + u16::from(growth.in_place));
        }
    }
}

/// Where the longest stretch of a side ends that one of some parts has; of one that runs on over the turn, what lies on
/// that side.
pub(super) fn longest_end(
    written: &mut Written,
    side: Side,
    was: u16,
    of: impl Fn(&str) -> bool,
) -> Option<u16> {
    let named = |part: &&mut PartWritten| part.name.as_ref().is_some_and(|at| of(&at.value.0));
    let parts = parts(written).filter(named);
    let stretches = parts.flat_map(|part| part.on.iter().flat_map(|list| &list.value));
    let on_side = stretches.filter_map(|at| {
        let Stretch { first, last } = at.value;
        match (first.side == side, last.side == side) {
            (true, true) => Some((first.number, last.number)),
            (true, false) => Some((first.number, was)),
            (false, true) => Some((1, last.number)),
            (false, false) => None,
        }
    });
    on_side
        .max_by_key(|(first, last)| last.saturating_sub(*first))
        .map(|(_, last)| last)
}

fn parts(written: &mut Written) -> impl Iterator<Item = &mut PartWritten> {
    let parts = written.part.iter_mut().flat_map(|list| &mut list.value);
    parts.map(|at| &mut at.value)
}
