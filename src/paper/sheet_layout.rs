//! How a sheet is laid under the strip, and what is said where it has no room for it.

use super::{GrainAdvice, Strip};
use crate::names::{Fault, Grain, JoinKind, Length};
use crate::plan::SheetsPlan;

/// How a sheet is laid under the strip. A length is missing where nothing limits that side.
pub(super) struct SheetLayout {
    /// How long it is along the strip.
    pub along: Option<Length>,
    /// How long it is across the strip.
    pub across: Option<Length>,
    pub grain: GrainAdvice,
}

/// Lays the plan's sheet under a strip, with so much room for marks on each side.
///
/// # Errors
/// A [`Fault`] of the word `sheet` where the sheet is too low for the strip.
pub(super) fn lay_sheet(
    strip: &Strip,
    plan: &SheetsPlan,
    marks: Length,
) -> Result<SheetLayout, Fault> {
    let Some(size) = &plan.size else {
        return Ok(SheetLayout {
            along: None,
            across: None,
            grain: GrainAdvice::CutAcross,
        });
    };
    let needed = strip.paper().panel_height + (marks + plan.gripper) * 2;
    let along_long = (size.long, size.short, Grain::Short);
    let along_short = (size.short, size.long, Grain::Long);
    let ways = match plan.grain {
        Some(Grain::Long) => vec![along_short],
        Some(Grain::Short) => vec![along_long],
        None => vec![along_long, along_short],
    };
    let found = ways.into_iter().find(|way| way.1 >= needed);
    let Some((along, across, grain)) = found else {
        let name = size.name.clone().unwrap_or_else(|| "the sheet".to_string());
        let what = format!(
            "{name} of {} × {} is too low for the strip",
            size.long.without_unit(),
            size.short
        );
        let fault = Fault::new("sheet", what).allowed(format!(
            "at least {needed} across: {} of panel, and above and below it {marks} for bleed and marks and {} that the \
             press cannot print",
            strip.paper().panel_height,
            plan.gripper
        ));
        return Err(placed(fault, plan));
    };
    Ok(SheetLayout {
        along: Some(along),
        across: Some(across),
        grain: match plan.grain {
            Some(_) => GrainAdvice::Laid,
            None => GrainAdvice::AskFor(grain),
        },
    })
}

/// The fault of a sheet that has room for too little of the strip.
pub(super) fn too_short(strip: &Strip, plan: &SheetsPlan, room: Length) -> Fault {
    let width = strip.paper().panel_width;
    let what = format!(
        "a sheet has room for {} of the strip: not for two panels of {width}, or not with their joins",
        room.max(Length::ZERO)
    );
    let mut fault = Fault::new("sheet", what);
    if plan.grain == Some(Grain::Long) {
        fault = fault.help(
            "the grain must run from head to tail, so with a long-grain sheet the strip lies along its short side: ask \
             for short-grain paper",
        );
    } else if plan.join == JoinKind::Doubled {
        fault = fault.help("a doubled join takes the room of a whole panel: a tab takes less");
    } else if let Some(size) = plan.size.as_ref().filter(|_| plan.grain.is_none()) {
        fault = fault.help(format!(
            "a side of {} is too low for the strip with its marks, so it lies along that side: take a larger sheet, or lower \
             panels",
            size.short
        ));
    } else {
        fault = fault.help("take a longer sheet, or narrower panels");
    }
    placed(fault, plan)
}

fn placed(fault: Fault, plan: &SheetsPlan) -> Fault {
    match &plan.place {
        Some(place) => fault.at(place.clone()),
        None => fault,
    }
}
