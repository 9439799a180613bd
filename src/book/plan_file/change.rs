//! The plan with something changed, as if the author had changed it in her file.

use std::sync::Arc;

use super::older::Older;
use super::vary::{Growth, Variation, entered, lengthen, longest_end, points, scale_parts, varied};
use super::written::{
    Leaves, LengthFor, MarginsWritten, PanelWritten, PictureWritten, RulesWritten, TextLength,
    TextWritten, Written,
};
use super::{PanelName, Plan, Side, check};
use crate::names::{Faults, Length, Location, Measure, Source, decimals};
use crate::plan::RuleName;
use crate::reading::{At, Name, Whole};

/// One thing that an author may change in her plan.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// The `size` and the `leading` of `[text]`; the leading of parts without a size of their own goes along.
    Size {
        /// The size.
        size: Length,
        /// The leading.
        leading: Length,
    },
    /// The left and the right one of its `margins`, or the inner and the outer.
    Margins {
        /// The left one, or the inner.
        left: Length,
        /// The right one, or the outer.
        right: Length,
        /// Whether they are the inner and the outer.
        by_folds: bool,
    },
    /// `panels-per-side`. Where parts say which panels they are on, the longest stretch of some parts grows on each
    /// side that has one; what lies behind it, stretches and pins alike, moves along.
    Panels {
        /// How many.
        per_side: u16,
        /// The parts that grow.
        parts: Vec<String>,
    },
    /// A rule may give way: it is taken out of `must`, and put into `may-give` where it is hard unless said.
    GivesWay(RuleName),
    /// A panel's `role` is left out.
    Role(PanelName),
    /// A panel's `picture` is left out.
    Picture(PanelName),
    /// A panel's `begins` is left out.
    Begins(PanelName),
    /// A picture's `leaves` says that its whole panel may be written on.
    LeavesAll(String),
    /// A picture's `spans` is left out.
    Spans(String),
    /// A picture's `whole-spread` is left out.
    WholeSpread(String),
    /// Something holds again that held before where the plan does not say.
    Older(Older),
    /// A part's `pairs-with` is left out, and `pairing` with it.
    Pairs(String),
}

/// The plan with a variation, and then with changes.
///
/// # Errors
/// Everything that is then wrong with it.
pub fn changed(
    source: &Arc<Source>,
    variation: Variation,
    changes: &[Change],
) -> Result<Plan, Faults> {
    let mut document = varied(source, variation);
    let here = Location::new(source, 0..0);
    for change in changes {
        change.enter(&mut document.written, &here);
    }
    check::from_document(document)
}

impl Change {
    pub(super) fn enter(&self, written: &mut Written, here: &Location) {
        match self {
            Change::Size { size, leading } => {
                let text = &mut entered(&mut written.text, here).value;
                let was = text.size().resolve(Length::ZERO, Length::ZERO);
                text.size = at(points(*size), here);
                text.leading = at(points(*leading), here);
                scale_parts(written, was, *size);
            }
            Change::Margins {
                left,
                right,
                by_folds,
            } => set_margins(written, (*left, *right), *by_folds, here),
            Change::Panels { per_side, parts } => set_panels(written, *per_side, parts),
            Change::GivesWay(rule) => give_way(written, *rule, here),
            Change::Role(panel) => change_pin(written, *panel, |pin| pin.role = None),
            Change::Picture(panel) => change_pin(written, *panel, |pin| pin.picture = None),
            Change::Begins(panel) => change_pin(written, *panel, |pin| pin.begins = None),
            Change::LeavesAll(name) => leave_all(written, name, here),
            Change::Spans(name) => change_picture(written, name, |picture| picture.spans = None),
            Change::WholeSpread(name) => {
                change_picture(written, name, |picture| picture.whole_spread = None);
            }
            Change::Older(older) => older.enter(written, here),
            Change::Pairs(name) => {
                let parts = written.part.iter_mut().flat_map(|list| &mut list.value);
                let named = |part: &&mut At<_>| is_called(&part.value, name);
                for part in parts.filter(named) {
                    (part.value.pairs_with, part.value.pairing) = (None, None);
                }
            }
        }
    }
}

fn is_called(part: &super::written::PartWritten, name: &str) -> bool {
    part.name.as_ref().is_some_and(|at| at.value.0 == name)
}

fn at<T>(value: Option<T>, here: &Location) -> Option<At<T>> {
    value.map(|value| At {
        value,
        place: here.clone(),
    })
}

fn set_margins(
    written: &mut Written,
    (left, right): (Length, Length),
    by_folds: bool,
    here: &Location,
) {
    let text: &mut TextWritten = &mut entered(&mut written.text, here).value;
    let margins: &mut MarginsWritten = &mut entered(&mut text.margins, here).value;
    let millimetres = |length: Length| -> Option<TextLength> {
        let text = format!("{} mm", decimals(length.as_mm(), 2));
        Measure::read(&text).ok().map(LengthFor::new)
    };
    let (left, right) = (at(millimetres(left), here), at(millimetres(right), here));
    match by_folds {
        true => (margins.inner, margins.outer) = (left, right),
        false => (margins.left, margins.right) = (left, right),
    }
}

fn set_panels(written: &mut Written, per_side: u16, parts: &[String]) {
    let Some(count) = written
        .paper
        .as_mut()
        .and_then(|paper| paper.value.panels_per_side.as_mut())
    else {
        return;
    };
    let was: u16 = count.value.get(0);
    if let Some(now) = Whole::new(i64::from(per_side)) {
        count.value = now;
    }
    if written.part.is_none() {
        return;
    }
    for side in [Side::Front, Side::Back] {
        let grows = longest_end(written, side, was, |name| {
            parts.iter().any(|part| part == name)
        });
        let Some(grows) = grows else { continue };
        let growth = Growth {
            side,
            was,
            now: per_side,
            grows,
            in_place: true,
        };
        lengthen(written, growth);
    }
}

fn give_way(written: &mut Written, rule: RuleName, here: &Location) {
    let rules: &mut RulesWritten = &mut entered(&mut written.rules, here).value;
    let weights = &mut rules.weights;
    let mut musts = false;
    if let Some(must) = &mut weights.must {
        musts = must.value.iter().any(|at| at.value == rule);
        must.value.retain(|at| at.value != rule);
    }
    // Whole stanzas give way by themselves where nothing else helps, unless they must hold.
    if rule.hard_by_default() && !(musts && rule == RuleName::Undivided) {
        let may_give = &mut entered(&mut weights.may_give, here).value;
        may_give.push(At {
            value: rule,
            place: here.clone(),
        });
    }
}

fn change_pin(written: &mut Written, panel: PanelName, change: impl Fn(&mut PanelWritten)) {
    let pins = written.panel.iter_mut().flat_map(|list| &mut list.value);
    let of_panel = |pin: &&mut At<PanelWritten>| {
        let on = pin.value.panel.as_ref();
        on.is_some_and(|at| at.value == panel)
    };
    pins.filter(of_panel).for_each(|pin| change(&mut pin.value));
}

fn change_picture(written: &mut Written, name: &str, change: impl Fn(&mut PictureWritten)) {
    let pictures = written.picture.iter_mut().flat_map(|list| &mut list.value);
    let named = |picture: &&mut At<PictureWritten>| {
        let called = picture.value.name.as_ref();
        called.is_some_and(|at| at.value.0 == name)
    };
    pictures
        .filter(named)
        .for_each(|picture| change(&mut picture.value));
}

fn leave_all(written: &mut Written, name: &str, here: &Location) {
    let pictures = &mut entered(&mut written.picture, here).value;
    let named = |picture: &&mut At<PictureWritten>| {
        let called = picture.value.name.as_ref();
        called.is_some_and(|at| at.value.0 == name)
    };
    let leaves = at(Some(Leaves::All), here);
    match pictures.iter_mut().find(named) {
        Some(picture) => picture.value.leaves = leaves,
        None => pictures.extend(at(
            Some(PictureWritten {
                name: at(Some(Name(name.to_string())), here),
                leaves,
                ..PictureWritten::default()
            }),
            here,
        )),
    }
}
