//! Checks margins: those of the text, and those of panels and pictures that go over them.

use super::fault_at;
use super::paper::KnownStrip;
use super::text::CheckedText;
use crate::book::plan_file::written::{Leaves, MarginsWritten, TextLength};
use crate::names::{Faults, Length, Location};
use crate::plan::{Margins, MarginsRequest};
use crate::reading::At;

/// Margins as written, resolved with the size and the leading of their words.
pub fn margins_asked(
    at: Option<&At<MarginsWritten>>,
    (size, leading): (Length, Length),
) -> MarginsRequest {
    let margins = at.map(|at| &at.value);
    let resolve = |side: Option<&At<TextLength>>| side.map(|at| at.value.resolve(size, leading));
    MarginsRequest {
        head: resolve(margins.and_then(|margins| margins.head.as_ref())),
        foot: resolve(margins.and_then(|margins| margins.foot.as_ref())),
        left: resolve(margins.and_then(|margins| margins.left.as_ref())),
        right: resolve(margins.and_then(|margins| margins.right.as_ref())),
        inner: resolve(margins.and_then(|margins| margins.inner.as_ref())),
        outer: resolve(margins.and_then(|margins| margins.outer.as_ref())),
        place: at.map(|at| at.place.clone()),
    }
}

/// What a picture leaves, resolved with the size and the leading of the plan's words.
pub fn leaves_asked(at: Option<&At<Leaves>>, of_type: (Length, Length)) -> MarginsRequest {
    margins_asked(leaves_margins(at).as_ref(), of_type)
}

/// The margins of what a picture leaves, as written.
pub fn leaves_margins(at: Option<&At<Leaves>>) -> Option<At<MarginsWritten>> {
    at.map(|at| At {
        value: at
            .value
            .room()
            .map_or(MarginsWritten::default(), |room| MarginsWritten {
                head: room.head.clone(),
                foot: room.foot.clone(),
                left: room.left.clone(),
                right: room.right.clone(),
                inner: room.inner.clone(),
                outer: room.outer.clone(),
                faulty: room.faulty.clone(),
            }),
        place: at.place.clone(),
    })
}

pub fn check_text(
    at: Option<&At<MarginsWritten>>,
    faulty: bool,
    setting: &mut CheckedText,
    strip: &KnownStrip,
    faults: &mut Faults,
) {
    let asked = margins_asked(at, setting.of_type());
    check_sides(at, "", faults);
    setting.style.margins = asked.over_those_of(setting.style.margins);
    let known = setting.type_known && !faulty && at.is_none_or(|at| at.value.faulty.is_empty());
    let paper = strip.width.as_ref().or(strip.height.as_ref());
    let place = asked.place.or(paper.map(|at| at.place.clone()));
    if let (true, Some(place)) = (known, place) {
        let whose = Whose {
            words: "",
            place: &place,
        };
        setting.margins_fit = check_room(
            setting.style.margins,
            whose,
            strip.narrowest(),
            strip,
            faults,
        );
    }
}

/// Tells margins that name a side of the panel and one of the spread. Whether they do not.
pub fn check_sides(at: Option<&At<MarginsWritten>>, whose: &str, faults: &mut Faults) -> bool {
    let Some(margins) = at.map(|at| &at.value) else {
        return true;
    };
    let named = |name, at: &Option<At<TextLength>>| Some((name, at.as_ref()?.place.clone()));
    let of_panel = named("left", &margins.left).or_else(|| named("right", &margins.right));
    let of_spread = named("inner", &margins.inner).or_else(|| named("outer", &margins.outer));
    let (Some((side, first)), Some((fold, place))) = (of_panel, of_spread) else {
        return true;
    };
    let what = format!("{whose}margins have `{side}` and `{fold}`");
    let fault = fault_at("contradiction", what, &place);
    let fault = fault.also(first, format!("`{side}` here"));
    faults.push(fault.allowed("left and right, or inner (at the fold of a spread) and outer"));
    false
}

/// Tells a part's margins that name one side of the panel where those of the plan's text go by folds: the other side
/// would then lie otherwise on the two panels of a spread. Whether they do not.
pub fn check_same_sides(
    at: &At<MarginsWritten>,
    usual: Margins,
    whose: &str,
    faults: &mut Faults,
) -> bool {
    let (side, other) = match (&at.value.left, &at.value.right) {
        (Some(_), None) => ("left", "right"),
        (None, Some(_)) => ("right", "left"),
        _ => return true,
    };
    if !usual.by_folds {
        return true;
    }
    let what =
        format!("{whose}margins have `{side}` alone, and those of [text] go by inner and outer");
    let fault = fault_at("contradiction", what, &at.place);
    faults.push(fault.help(format!("give `{other}` too, or inner and outer")));
    false
}

/// Whose margins are checked.
#[derive(Clone, Copy)]
pub struct Whose<'a> {
    /// What begins messages about them.
    pub words: &'a str,
    /// Where they are said.
    pub place: &'a Location,
}

/// Tells margins that leave no room on a panel, of which the narrowest is that wide. Whether they leave some.
pub fn check_room(
    margins: Margins,
    Whose {
        words: whose,
        place,
    }: Whose<'_>,
    narrowest: Option<Length>,
    strip: &KnownStrip,
    faults: &mut Faults,
) -> bool {
    let faults_before = faults.len();
    let across = margins.left + margins.right;
    if let Some(width) = narrowest.filter(|width| across >= *width) {
        // Where panels have room but for those at the ends, it is they that are too narrow.
        let others = strip.width.as_ref().map(|at| at.value);
        let at_end = others.is_some_and(|others| across < others);
        let panel = if at_end {
            "a panel at an end"
        } else {
            "a panel"
        };
        let sides = match margins.by_folds {
            true => "inner and outer",
            false => "left and right",
        };
        let what =
            format!("{whose}the {sides} margins take {across} of {panel} that is {width} wide");
        let place = strip
            .ends_place
            .as_ref()
            .filter(|_| at_end)
            .unwrap_or(place);
        faults.push(fault_at("margins", what, place));
    }
    let down = margins.head + margins.foot;
    if let Some(height) = strip.height.as_ref().filter(|height| down >= height.value) {
        let height = height.value;
        let what = format!(
            "{whose}the head and foot margins take {down} of a panel that is {height} high"
        );
        faults.push(fault_at("margins", what, place));
    }
    faults.len() == faults_before
}
