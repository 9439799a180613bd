//! Rows on the slots of a shaped text area, where the measure may change from line to line.
//!
//! A row is set for every slot that it may come to stand on: its pieces to the measures of that slot and of those that
//! follow. What is no prose stays within one box: where the rest of a box is too short for it, or a slot too narrow
//! for one of its words, it goes on to the next slot that is not. A row that can stand nowhere is set beyond the last
//! slot, where no panel has room. Paragraphs flow from slot to slot over the ends of boxes ([`super::falls`]).
//!
//! A large initial stands only where its lines are in one box, and its lines begin beside it from one edge.

mod paragraph;
mod rows;

pub use paragraph::{AskedOnSlots, ParagraphOnSlots, lines_on_slots};
pub(super) use rows::heading_on_slots;

use std::sync::Arc;

use super::areas::{Areas, Slots};
use super::here::narrowed;
use super::{Piece, Row, Setting};
use crate::names::Length;

/// The rows of a part on the slots of a shape.
#[derive(Clone, Debug)]
pub struct RowsOnSlots {
    /// The slots.
    pub slots: Slots,
    /// The rows, as the part has them.
    pub rows: Vec<RowOnSlots>,
}

/// A row on slots.
#[derive(Clone, Debug)]
pub struct RowOnSlots {
    /// How it stands when it comes to each slot, and last when it comes beyond all.
    pub stands: Vec<Stand>,
    /// How it falls into lines, if it is a paragraph.
    pub paragraph: Option<ParagraphOnSlots>,
}

/// How a row stands when it comes to a slot.
#[derive(Clone, Debug)]
pub struct Stand {
    /// How many slots are left empty above it.
    pub skip: usize,
    /// How many slots it takes from there.
    pub height: usize,
    /// Its pieces; baselines in half lines below the first slot that it takes. Of paragraphs and room none.
    pub pieces: Arc<[Piece]>,
    /// How it steps to where the row above ended, if it is to.
    pub step: Option<Step>,
}

/// How far a stepped line may move.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// The edge that the line stands at before it steps.
    pub from: Length,
    /// How far it may be moved on from there.
    pub room: Length,
}

impl RowOnSlots {
    /// How it stands when it comes to a slot.
    pub fn stand(&self, slot: usize) -> &Stand {
        &self.stands[slot.min(self.stands.len() - 1)]
    }

    /// The fewest half lines that it takes.
    pub(super) fn least_height(&self) -> u32 {
        let heights = self.stands.iter().map(|stand| stand.height);
        heights.min().unwrap_or(0) as u32 * 2
    }
}

impl RowsOnSlots {
    /// Turns what was set on mirrored panels back to how it stands.
    pub(super) fn turn_back(&mut self, areas: &Areas) {
        self.slots.mirror(areas);
        for stand in self.rows.iter_mut().flat_map(|row| &mut row.stands) {
            let turned = stand.pieces.iter().map(|piece| Piece {
                x: areas.mirror(piece.x, piece.width),
                ..piece.clone()
            });
            stand.pieces = turned.collect();
            if let Some(step) = &mut stand.step {
                step.from = areas.mirror(step.from, Length::ZERO);
            }
        }
    }

    /// Where the verse line above a row ends, if the row begins a panel and the line stood at the head of one like it;
    /// the piece that it ends with.
    pub fn above(&self, rows: &[Row], row: usize, rightwards: bool) -> Option<Piece> {
        let above = rows[..row]
            .iter()
            .rposition(|above| above.kind.is_verse())?;
        let stand = self.rows[above].stand(0);
        let last = stand.pieces.last()?.clone();
        let Some(step) = stand.step.filter(|_| stand.pieces.len() == 1) else {
            return Some(last);
        };
        let before = self.above(rows, above, rightwards);
        Some(step.moved(last, before.as_ref(), rightwards))
    }
}

impl Step {
    /// The piece, moved on to where the one above ended.
    pub fn moved(self, piece: Piece, above: Option<&Piece>, rightwards: bool) -> Piece {
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

/// The slots that a row is set on.
#[derive(Clone, Copy)]
pub(super) struct OnSlots<'a> {
    slots: &'a Slots,
    /// The first of them.
    at: usize,
    /// The large initial that it stands beside.
    beside: Option<Beside>,
}

/// A large initial beside which lines stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Beside {
    /// The first slot that it does not reach.
    end: usize,
    /// Where lines beside it begin.
    edge: Length,
}

impl OnSlots<'_> {
    /// The setting of the row's line of this number.
    pub(super) fn line(&self, number: usize) -> Setting {
        let slot = self.at + number;
        let setting = self.slots.get(slot).setting();
        narrowed(setting, inset(self.beside, slot, setting.left))
    }

    /// How many lines there are in the box, from the first on; beyond the last slot as many as need be.
    pub(super) fn room(&self) -> usize {
        self.slots.end_of(self.at).saturating_sub(self.at)
    }

    /// How many lines are not set as the last of all.
    pub(super) fn left(&self) -> usize {
        match self.at < self.slots.len() {
            true => self.room().saturating_sub(1),
            false => 1,
        }
    }
}

/// How far a line on a slot stands in beside a large initial.
fn inset(beside: Option<Beside>, slot: usize, left: Length) -> Length {
    match beside {
        Some(beside) if slot < beside.end => beside.edge - left,
        _ => Length::ZERO,
    }
}
