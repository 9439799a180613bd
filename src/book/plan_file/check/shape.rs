//! Checks the boxes and masks that words follow.

use super::fault_at;
use super::paper::KnownStrip;
use crate::book::plan_file::written::{BookFile, BoxWritten, TextLength};
use crate::names::{Faults, Length, Location};
use crate::plan::{AreaRequest, BoxRequest, MarginsRequest};
use crate::reading::At;

/// What is written of a shape, for a panel or beside a picture.
pub struct Written<'a> {
    pub boxes: Option<&'a At<Vec<At<BoxWritten>>>>,
    pub mask: Option<&'a At<BookFile>>,
    /// The size and the leading of the words; nothing where they are at fault.
    pub of_type: Option<(Length, Length)>,
}

/// Checks a shape; nothing where none is asked for, or none that is sound. `whose` begins messages.
pub fn check(
    written: &Written<'_>,
    margins: Option<&Location>,
    whose: &str,
    strip: &KnownStrip,
    faults: &mut Faults,
) -> Option<AreaRequest> {
    let place = written.boxes.map(|at| &at.place);
    let place = place.or(written.mask.map(|at| &at.place))?;
    if let (Some(boxes), Some(mask)) = (written.boxes, written.mask) {
        let what = format!("{whose}words follow `boxes` or a `mask`, not both");
        let fault = fault_at("contradiction", what, &mask.place);
        faults.push(fault.also(boxes.place.clone(), "the boxes"));
        return None;
    }
    if let Some(margins) = margins {
        let what = format!("{whose}margins have no say where words follow boxes or a mask");
        let fault = fault_at("contradiction", what, margins);
        faults.push(fault.also(place.clone(), "what they follow"));
        return None;
    }
    if let Some(mask) = written.mask {
        return Some(AreaRequest::Mask {
            file: mask.value.0.clone(),
            place: mask.place.clone(),
        });
    }
    let list = written.boxes?;
    if list.value.is_empty() {
        let what = format!("{whose}`boxes` has no box");
        faults.push(fault_at("empty", what, &list.place));
        return None;
    }
    // Where the type is at fault, lengths in em and lines are not known.
    let of_type = written.of_type?;
    let boxes = list.value.iter().map(|at| resolved(at, of_type));
    // A box that lacks a key is told already.
    let boxes: Vec<BoxRequest> = boxes.collect::<Option<_>>()?;
    let faults_before = faults.len();
    for (index, asked) in boxes.iter().enumerate() {
        check_box(asked, whose, strip, faults);
        let over = boxes[..index].iter().find(|other| asked.overlaps(other));
        if let Some(other) = over {
            let what = format!("{whose}two boxes lie over each other");
            let fault = fault_at("boxes", what, &asked.place);
            faults.push(fault.also(other.place.clone(), "the other one"));
        }
    }
    (faults.len() == faults_before).then_some(AreaRequest::Boxes(boxes))
}

fn resolved(at: &At<BoxWritten>, (size, leading): (Length, Length)) -> Option<BoxRequest> {
    let of = |side: &Option<At<TextLength>>| Some(side.as_ref()?.value.resolve(size, leading));
    Some(BoxRequest {
        left: of(&at.value.x)?,
        top: of(&at.value.y)?,
        width: of(&at.value.width)?,
        height: of(&at.value.height)?,
        place: at.place.clone(),
    })
}

/// Tells a box that has no room or does not lie on the panel.
fn check_box(asked: &BoxRequest, whose: &str, strip: &KnownStrip, faults: &mut Faults) {
    let mut tell = |what: String| {
        let what = format!("{whose}{what}");
        faults.push(fault_at("boxes", what, &asked.place));
    };
    if asked.width <= Length::ZERO || asked.height <= Length::ZERO {
        return tell("a box has no room".to_string());
    }
    let (right, foot) = (asked.left + asked.width, asked.top + asked.height);
    let sides = [
        (right, &strip.width, "to the right", "wide"),
        (foot, &strip.height, "down", "high"),
    ];
    for (reach, panel, way, size) in sides {
        if let Some(panel) = panel.as_ref().filter(|panel| reach > panel.value) {
            let panel = panel.value;
            tell(format!(
                "a box reaches {reach} {way} on a panel that is {panel} {size}"
            ));
        }
    }
}

/// Where margins are asked for beside a shape: at the first that is written.
pub fn margins_beside(asked: &MarginsRequest) -> bool {
    let MarginsRequest {
        head,
        foot,
        left,
        right,
        inner,
        outer,
        place: _,
    } = asked;
    let sides = left.or(*right).or(*inner).or(*outer);
    head.or(*foot).or(sides).is_some()
}
