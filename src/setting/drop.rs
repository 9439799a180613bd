//! The lines that a large initial stands over stay on its panel.

use super::Row;
use super::on_slots::RowsOnSlots;
use super::part::{LINE, Setter};
use crate::text::LineKind;

impl Setter<'_> {
    /// The lines that a large initial stands over stay on its panel.
    pub(super) fn join_drop(&self, rows: &mut [Row], shaped: &[RowsOnSlots]) {
        let Some(first) = rows.iter().position(|row| row.shaped.drop.is_some()) else {
            return;
        };
        let lines = rows[first]
            .shaped
            .drop
            .as_ref()
            .map_or(0, |drop| drop.lines)
            * LINE;
        let least = |row: &Row, index: usize| {
            let on_slots = shaped
                .iter()
                .map(|shaped| shaped.rows[index].least_height());
            let heights = row.at.iter().map(|at| at.height).chain(on_slots);
            heights.min().unwrap_or(0)
        };
        let mut covered = least(&rows[first], first);
        for (index, row) in rows.iter_mut().enumerate().skip(first + 1) {
            covered += row.space_above;
            if covered >= lines || row.kind == LineKind::Caption {
                break;
            }
            row.joined = true;
            covered += least(row, index);
        }
        self.lengthen_short_drop(rows, first, lines);
    }

    /// Where a part ends before its large initial does, its last row takes up the lines that are missing.
    pub(super) fn lengthen_short_drop(&self, rows: &mut [Row], first: usize, lines: u32) {
        let settings = rows[first].at.len();
        for setting in 0..settings {
            let mut covered = 0;
            for (index, row) in rows.iter().enumerate().skip(first) {
                covered += row.at[setting].height + if index > first { row.space_above } else { 0 };
            }
            if covered < lines {
                let last = rows.len() - 1;
                rows[last].at[setting].height += lines - covered;
            }
        }
    }
}
