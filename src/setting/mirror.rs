//! Parts that read from right to left.
//!
//! They are set on panels seen in a mirror, where a line begins at the left as anywhere else, and what was set is
//! then turned about once: nothing else here need know of two ways to read.

use super::areas::Areas;
use super::{Column, Row, Setting};
use crate::names::Direction;
use crate::plan::{Align, HeadingAlign, TextStyle};

/// How words are set, as seen in a mirror: left and right change places.
pub(super) fn style_seen(style: &TextStyle, reads: Direction) -> TextStyle {
    let mut seen = style.clone();
    if reads.is_right_to_left() {
        seen.align = match style.align {
            Align::Left => Align::Right,
            Align::Right => Align::Left,
            other => other,
        };
        for heading in seen.headings.all_mut() {
            heading.align = heading.align.map(|align| match align {
                HeadingAlign::Left => HeadingAlign::Right,
                HeadingAlign::Right => HeadingAlign::Left,
                other => other,
            });
        }
    }
    seen
}

/// A setting as seen in a mirror that stands within its own measure: what hangs changes sides.
pub(super) fn setting_seen(setting: &Setting, reads: Direction) -> Setting {
    let mut seen = *setting;
    if reads.is_right_to_left() {
        std::mem::swap(&mut seen.hang_left, &mut seen.hang_right);
    }
    seen
}

/// Turns what was set on mirrored panels back to how it stands.
pub(super) fn turn_back(areas: &Areas, rows: &mut [Row], columns: &mut [Column]) {
    columns
        .iter_mut()
        .for_each(|column| column.turn_back(areas));
    let at = rows.iter_mut().flat_map(|row| &mut row.at);
    at.for_each(|at| at.turn_back(areas));
}
