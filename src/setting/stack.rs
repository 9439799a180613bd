//! Pieces of a row on lines of the grid.

use std::ops::Range;

use super::part::LINE;
use super::{Piece, RowAt};
use crate::names::Length;

pub(super) fn one_line(text: Range<usize>, x: Length, width: Length) -> RowAt {
    stack(vec![(text, x, width)], false)
}

/// Pieces on lines of the grid, one below the other.
pub(super) fn stack(placed: Vec<(Range<usize>, Length, Length)>, turnovers: bool) -> RowAt {
    let height = placed.len() as u32 * LINE;
    let pieces = placed
        .into_iter()
        .enumerate()
        .map(|(index, (text, x, width))| Piece {
            text,
            x,
            width,
            baseline: index as u32 * LINE,
            turnover: turnovers && index > 0,
            broken: false,
        });
    RowAt {
        height,
        pieces: pieces.collect(),
        paragraph: None,
    }
}
