//! Rows as they stand in a column.

use std::ops::Range;
use std::sync::Arc;

use super::Row;
use super::areas::Areas;
use super::paragraph::ParagraphAt;
use crate::names::{HalfLines, Length};
use crate::stack::Baselines;

/// A row in a column.
#[derive(Clone, Debug, Default)]
pub struct RowAt {
    /// How it stands when it comes to each slot, and last when it comes beyond all. In a plain column, whose lines are
    /// all alike, that is the only one.
    pub stands: Vec<Stand>,
    /// How it falls into lines, if it is a paragraph.
    pub paragraph: Option<ParagraphAt>,
}

/// How a row stands when it comes to a slot.
#[derive(Clone, Debug, PartialEq)]
pub struct Stand {
    /// What is left empty above it: whole slots.
    pub skip: HalfLines,
    /// Its height, always whole lines. Of a paragraph, that of all its lines when it stands on one panel.
    pub height: HalfLines,
    /// Its pieces; the second and later ones of a line of verse are turned over. Empty for room and for paragraphs.
    pub pieces: Arc<[Piece]>,
    /// How it steps to where the line above ended, if it is to.
    pub step: Option<Step>,
}

/// A piece of a row, on one line of the grid.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Bytes of the row's text.
    pub text: Range<usize>,
    /// Where it begins, from the panel's left edge; what hangs is counted.
    pub x: Length,
    /// Its whole width, hanging marks counted.
    pub width: Length,
    /// Its baseline below the first baseline of the row's own depth.
    pub baseline: HalfLines,
    /// Whether it was turned over.
    pub turnover: bool,
    /// Whether a word had to be broken to make it fit.
    pub broken: bool,
}

/// How far a stepped line may move. It steps when it is placed: where the line above it ends changes nothing about where
/// it fits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// The edge that the line stands at before it steps.
    pub from: Length,
    /// How far it may be moved on from there.
    pub room: Length,
}

/// Where a piece stands across: its text, its left edge and its width.
pub(super) type Across = (Range<usize>, Length, Length);

impl RowAt {
    /// How it stands when it comes to a slot.
    pub fn stand(&self, slot: usize) -> &Stand {
        &self.stands[slot.min(self.stands.len() - 1)]
    }

    /// The least height that it has anywhere.
    pub(super) fn least_height(&self) -> HalfLines {
        let heights = self.stands.iter().map(|stand| stand.height);
        heights.min().unwrap_or_default()
    }

    /// Turns what was set on mirrored panels back to how it stands.
    pub(super) fn turn_back(&mut self, areas: &Areas) {
        for stand in &mut self.stands {
            stand.turn(|x, width| areas.mirror(x, width));
            if let Some(step) = &mut stand.step {
                step.from = areas.mirror(step.from, Length::ZERO);
            }
        }
    }
}

impl Stand {
    /// Room that is left empty, or a paragraph of that height.
    pub(super) fn empty(height: HalfLines) -> Stand {
        Stand {
            skip: HalfLines::ZERO,
            height,
            pieces: Arc::new([]),
            step: None,
        }
    }

    /// A row of one line.
    pub(super) fn one_line(across: Across) -> Stand {
        Stand::of(vec![across], Baselines::of_lines(1))
    }

    /// Pieces on lines of the grid, one below the other.
    pub(super) fn of_lines(across: Vec<Across>) -> Stand {
        let baselines = Baselines::of_lines(across.len());
        Stand::of(across, baselines)
    }

    /// Pieces on these baselines, none turned over.
    pub(super) fn of(across: Vec<Across>, baselines: Baselines) -> Stand {
        let pieces = across.into_iter().zip(baselines.all());
        let pieces = pieces.map(|((text, x, width), baseline)| Piece {
            text,
            x,
            width,
            baseline,
            turnover: false,
            broken: false,
        });
        Stand {
            pieces: pieces.collect(),
            ..Stand::empty(baselines.height())
        }
    }

    /// Pieces on lines of the grid, all but the first turned over; those that `broken` names end in a broken word.
    pub(super) fn turned_over(across: Vec<Across>, broken: &[usize]) -> Stand {
        let stand = Stand::of_lines(across);
        let pieces = stand.pieces.iter().enumerate().map(|(index, piece)| Piece {
            turnover: index > 0,
            broken: broken.contains(&index),
            ..piece.clone()
        });
        Stand {
            pieces: pieces.collect(),
            ..stand
        }
    }

    /// This stand with its lines so far apart, a line or more.
    pub(super) fn apart(self, step: HalfLines) -> Stand {
        let baselines = Baselines::apart(self.pieces.len(), step);
        let pieces = self.pieces.iter().zip(baselines.all());
        let pieces = pieces.map(|(piece, baseline)| Piece {
            baseline,
            ..piece.clone()
        });
        Stand {
            height: baselines.height(),
            pieces: pieces.collect(),
            ..self
        }
    }

    /// Moves every piece to where it is told to stand, by its left edge and its width.
    pub(super) fn turn(&mut self, x: impl Fn(Length, Length) -> Length) {
        let turned = self.pieces.iter().map(|piece| Piece {
            x: x(piece.x, piece.width),
            ..piece.clone()
        });
        self.pieces = turned.collect();
    }

    /// A piece of it as it is placed, the line above having ended with `above`.
    pub fn placed(&self, piece: &Piece, above: Option<&Piece>, rightwards: bool) -> Piece {
        match self.step {
            Some(step) => step.moved(piece.clone(), above, rightwards),
            None => piece.clone(),
        }
    }
}

impl Step {
    /// The piece, moved on to where the one above ended.
    fn moved(self, piece: Piece, above: Option<&Piece>, rightwards: bool) -> Piece {
        let Some(above) = above else { return piece };
        let reached = match rightwards {
            true => above.x + above.width - self.from,
            false => self.from - above.x,
        };
        let by = reached.min(self.room).max(Length::ZERO);
        Piece {
            x: if rightwards {
                piece.x + by
            } else {
                piece.x - by
            },
            ..piece
        }
    }
}

/// The piece that the line of verse above a row ends with, if the row begins a panel and that line stood at the head of
/// one like it.
pub fn above(rows: &[Row], row: usize, column: usize, rightwards: bool) -> Option<Piece> {
    let verse = rows[..row].iter().rev().filter(|row| row.kind.is_verse());
    // Up to the first that does not step itself.
    let mut stands: Vec<&Stand> = Vec::new();
    for stand in verse.map(|row| row.at[column].stand(0)) {
        stands.push(stand);
        if stand.step.is_none() {
            break;
        }
    }
    stands.iter().rev().fold(None, |above, stand| {
        let last = stand.pieces.last()?;
        Some(stand.placed(last, above.as_ref(), rightwards))
    })
}
