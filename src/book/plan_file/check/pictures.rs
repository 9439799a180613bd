//! Checks the pictures that the plan names.

use std::collections::BTreeMap;

use super::margins::{check_sides, leaves_asked, leaves_margins};
use super::paper::{KnownStrip, on_paper};
use super::rules::check_own;
use super::text::CheckedText;
use super::{check_over, fault_at, shape};
use crate::book::plan_file::written::{PictureWritten, Spans};
use crate::names::{Faults, Length, Location};
use crate::plan::{AreaRequest, ArtRequest, PanelPlan, PicturePlan};
use crate::reading::At;

/// Checks the pictures, in the plan's order.
pub fn check(
    written: Option<&At<Vec<At<PictureWritten>>>>,
    setting: &CheckedText,
    strip: &KnownStrip,
    faults: &mut Faults,
) -> Vec<PicturePlan> {
    let mut names: BTreeMap<&str, &Location> = BTreeMap::new();
    let mut pictures = Vec::new();
    for at in written.into_iter().flat_map(|list| &list.value) {
        let Some(name) = &at.value.name else {
            continue;
        };
        if let Some(first) = names.get(name.value.0.as_str()) {
            let what = format!("two pictures are called `{}`", name.value.0);
            let fault = fault_at("twice", what, &name.place);
            faults.push(fault.also((*first).clone(), "the first one"));
            continue;
        }
        names.insert(&name.value.0, &name.place);
        pictures.push(check_picture(at, &name.value.0, setting, strip, faults));
    }
    pictures
}

/// Checks one picture.
fn check_picture(
    at: &At<PictureWritten>,
    name: &str,
    setting: &CheckedText,
    strip: &KnownStrip,
    faults: &mut Faults,
) -> PicturePlan {
    let picture = &at.value;
    let beside = leaves_asked(picture.leaves.as_ref(), setting.of_type());
    let whose = format!("beside the picture `{name}`, ");
    let margins = leaves_margins(picture.leaves.as_ref());
    check_sides(margins.as_ref(), &whose, faults);
    let others = setting.margins_fit.then_some(setting.style.margins);
    check_over(&beside, &whose, others, strip, faults);
    let (spans, whole_side) = spans(picture, name, strip, faults);
    let leaves = picture.leaves.as_ref();
    let leaves = leaves.and_then(|leaves| leaves.value.room());
    let written = shape::Written {
        boxes: leaves.and_then(|leaves| leaves.boxes.as_ref()),
        mask: leaves.and_then(|leaves| leaves.mask.as_ref()),
        of_type: setting.type_known.then_some(setting.of_type()),
    };
    let margins = beside.place.as_ref();
    let margins = margins.filter(|_| shape::margins_beside(&beside));
    PicturePlan {
        name: name.to_string(),
        spans,
        whole_side,
        whole_spread: picture.whole_spread().0,
        heavy: picture.heavy().0,
        shape: shape::check(&written, margins, &whose, strip, faults),
        leaves: beside,
        comes: picture
            .picture_comes
            .as_ref()
            .and_then(|window| check_own(window, faults)),
        with: picture
            .picture_with
            .as_ref()
            .and_then(|with| with.value.asked),
        runs_over: runs_over(picture, strip, faults),
        art: picture.art.as_ref().map(|file| ArtRequest {
            file: file.value.0.clone(),
            place: file.place.clone(),
        }),
        place: at.place.clone(),
    }
}

/// Over how many panels a picture goes, and whether that is said to be a whole side; told where no side has so many.
fn spans(
    picture: &PictureWritten,
    name: &str,
    strip: &KnownStrip,
    faults: &mut Faults,
) -> (u16, bool) {
    let (asked, whole_side) = match picture.spans() {
        Spans::Panels(panels) => (panels, false),
        Spans::Side => (strip.panels.map_or(1, |panels| panels.per_side), true),
    };
    if let (Some(panels), Some(at)) = (strip.panels, &picture.spans)
        && asked > panels.per_side
    {
        let count = panels.per_side;
        let what = format!("no side has the {asked} panels that `{name}` spans");
        let fault = fault_at("wrong-panel", what, &at.place);
        faults.push(fault.allowed(format!("1 to {count}, or \"side\" for all {count}")));
        return (1, whole_side);
    }
    (asked, whole_side)
}

/// Tells panels with boxes or a mask on which a picture is pinned that leaves all of its panel.
pub fn check_whole(pictures: &[PicturePlan], panels: &[PanelPlan], faults: &mut Faults) {
    for pin in panels {
        let named = |picture: &&PicturePlan| pin.picture.as_ref() == Some(&picture.name);
        let Some(picture) = pictures.iter().find(named) else {
            continue;
        };
        let whole = picture.shape.is_none() && !shape::margins_beside(&picture.leaves);
        let leaves = picture.leaves.place.as_ref().filter(|_| whole);
        let (Some(leaves), Some(shape)) = (leaves, &pin.shape) else {
            continue;
        };
        let place = match shape {
            AreaRequest::Boxes(boxes) => boxes.first().map(|first| &first.place),
            AreaRequest::Mask { place, .. } => Some(place),
        };
        let what = format!(
            "on `{}` words follow boxes or a mask, and the picture `{}` leaves them all of its panel",
            pin.panel, picture.name
        );
        let fault = fault_at("contradiction", what, place.unwrap_or(leaves));
        faults.push(fault.also(leaves.clone(), "what the picture leaves"));
    }
}

/// How far a scan runs over folds; told where that is farther than the bleed goes.
fn runs_over(picture: &PictureWritten, strip: &KnownStrip, faults: &mut Faults) -> Length {
    let asked = on_paper(picture.runs_over());
    let bleed = strip.paper.map(|paper| paper.bleed);
    if let (Some(at), Some(bleed)) = (&picture.runs_over, bleed)
        && asked > bleed
    {
        let what = format!("`runs-over` must be at most the bleed, which is {bleed}");
        faults.push(fault_at("out-of-range", what, &at.place));
        return bleed;
    }
    if let (Some(at), None) = (&picture.runs_over, &picture.art)
        && asked > Length::ZERO
        && !picture.faulty.contains(&"art")
    {
        let what = "`runs-over` needs a scan that can run over: give its `art` too".to_string();
        faults.push(fault_at("missing-key", what, &at.place));
    }
    asked
}
