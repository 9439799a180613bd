//! Checks the sheets of paper that the strip is made of, and how they are joined and printed.

use super::making::within;
use super::paper::KnownStrip;
use super::{fault_at, value};
use crate::book::plan_file::written::{PaperLength, SheetsWritten};
use crate::names::{Faults, JoinKind, Length};
use crate::plan::{IntentPlan, SheetsPlan};
use crate::reading::At;

/// Checks the sheets.
pub fn check(
    written: Option<&At<SheetsWritten>>,
    strip: &KnownStrip,
    faults: &mut Faults,
) -> SheetsPlan {
    let Some(at) = written else {
        return SheetsPlan::default();
    };
    let sheets = &at.value;
    let (least, most) = (Length::mm(50), Length::mm(50_000));
    let mut plan = SheetsPlan {
        place: Some(at.place.clone()),
        size: value(&sheets.size),
        longest: within(&sheets.longest_sheet, "longest-sheet", least, most, faults),
        grain: value(&sheets.grain),
        join: sheets.join(),
        tab_asked: sheets.tab.is_some(),
        ..SheetsPlan::default()
    };
    check_grain(sheets, faults);
    set_margins(sheets, &mut plan, faults);
    check_tab(sheets, &plan, strip, faults);
    plan.intent = intent(sheets, faults);
    plan
}

/// Tells a grain that lies along no side, since no sheet is named.
fn check_grain(sheets: &SheetsWritten, faults: &mut Faults) {
    if let (Some(at), None) = (&sheets.grain, &sheets.size)
        && !sheets.faulty.contains(&"size")
    {
        let what = "`grain` lies along a side of the sheet: give its `size` too".to_string();
        faults.push(fault_at("missing-key", what, &at.place));
    }
}

/// Enters what of a sheet lies under its neighbour or carries nothing, where that is said and within bounds.
fn set_margins(sheets: &SheetsWritten, plan: &mut SheetsPlan, faults: &mut Faults) {
    let mut set = |at: &Option<At<PaperLength>>, key, least, most, to: &mut Length| {
        if let Some(length) = within(at, key, Length::mm(least), Length::mm(most), faults) {
            *to = length;
        }
    };
    set(&sheets.tab, "tab", 3, 1000, &mut plan.tab);
    set(&sheets.under_run, "under-run", 0, 10, &mut plan.under_run);
    set(&sheets.gripper, "gripper", 0, 50, &mut plan.gripper);
    set(&sheets.spare, "spare", 0, 50, &mut plan.spare);
}

/// Tells a tab that takes a whole panel, and one that is no wider than the art that runs under it.
fn check_tab(sheets: &SheetsWritten, plan: &SheetsPlan, strip: &KnownStrip, faults: &mut Faults) {
    if let (Some(at), Some(narrowest)) = (&sheets.tab, strip.narrowest())
        && plan.tab >= narrowest
    {
        let (what, help) = match plan.join {
            JoinKind::Hinge => ("tissue", "half of it lies on either side of the fold"),
            _ => (
                "tab",
                "to paste a whole panel behind another, write join = \"doubled\"",
            ),
        };
        let what = format!("a {what} of {} leaves nothing of a panel", plan.tab);
        let fault = fault_at("out-of-range", what, &at.place);
        let usual = SheetsPlan::default().tab;
        let fault = fault.allowed(format!("less than {narrowest}; {usual} is usual"));
        faults.push(fault.help(help));
    }
    if let Some(at) = &sheets.under_run
        && plan.under_run >= plan.tab
    {
        let what = format!("`under-run` must be less than the tab of {}", plan.tab);
        faults.push(fault_at("out-of-range", what, &at.place));
    }
}

/// What PDF/X-4 asks for; a condition without its profile is told.
fn intent(sheets: &SheetsWritten, faults: &mut Faults) -> Option<IntentPlan> {
    let condition = value(&sheets.condition).map(|words| words.0);
    if let (Some(at), None) = (&sheets.condition, &sheets.intent)
        && !sheets.faulty.contains(&"intent")
    {
        let what =
            "`condition` names what the profile of `intent` is for: give that too".to_string();
        faults.push(fault_at("missing-key", what, &at.place));
    }
    sheets.intent.as_ref().map(|at| IntentPlan {
        profile: at.value.0.clone(),
        condition,
        place: at.place.clone(),
    })
}
