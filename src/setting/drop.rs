//! The lines that a large initial stands over stay on its panel.

use super::Row;
use crate::names::HalfLines;
use crate::stack::Boxes;
use crate::text::LineKind;

/// Whether a row may stand on another panel than the one above it, although an initial reaches down beside it.
pub(super) fn goes_elsewhere(row: &Row) -> bool {
    row.kind == LineKind::Caption || row.new_panel
}

/// Joins the lines that a large initial stands over, however low they are in any column.
pub(super) fn join(rows: &mut [Row]) {
    let initial = |row: &Row| Some(HalfLines::lines(row.shaped.drop.as_ref()?.lines as usize));
    let mut found = rows.iter().enumerate();
    let Some((first, mut reach)) = found.find_map(|(at, row)| Some((at, initial(row)?))) else {
        return;
    };
    for at in first + 1..rows.len() {
        let heights = rows[at - 1].at.iter().map(|at| at.least_height());
        let height = heights.min().unwrap_or_default();
        let row = &mut rows[at];
        // Where only the space below a line is left beside the initial, a panel that ended there would not count it.
        if reach <= height || goes_elsewhere(row) {
            break;
        }
        row.joined = true;
        (_, reach) = Boxes::plain().beside(reach, (HalfLines::ZERO, height), row.space_above);
    }
}
