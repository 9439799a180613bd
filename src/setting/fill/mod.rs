//! Filling a column: what every row falls into when it comes to each slot.
//!
//! In a plain column all lines are alike, so that a row is set there once. In a shaped one it is set for every slot that
//! it may come to: its pieces to the measures of that slot and of those that follow. What is no prose stays within one
//! box: where the rest of a box is too short for it, or a slot too narrow for one of its words, it goes on to the next
//! slot that is not. A row that can stand nowhere is set beyond the last slot, where no panel has room. Paragraphs flow
//! from slot to slot over the ends of boxes ([`super::falls`]).
//!
//! Lines beside a large initial begin from one edge. On slots it stands only where its lines are in one box.

mod rows;

use rayon::prelude::*;

use super::drop::goes_elsewhere;
use super::here::{Beside, LineContext, Others, RowFindings};
use super::part::Setter;
use super::remembered::{At, Memory, RowNumber};
use super::usual::Usual;
use super::{Column, Row, RowAt};
use crate::names::{HalfLines, Length};

/// What the rows of a part are set in.
pub(super) struct Filling<'a> {
    pub column: &'a Column,
    /// What the row that is being set may ask of the others.
    others: Others<'a>,
    /// For each slot, and beyond all: the large initial that a row which comes there stands beside.
    beside: Vec<Option<Beside>>,
}

impl Setter<'_> {
    /// Sets every row in a column; `numbers` tells which of the remembered rows each is like.
    pub(super) fn fill_column(
        &self,
        rows: &[Row],
        column: &Column,
        usual: &Usual,
        (numbers, memory): (&[RowNumber], &mut Memory),
    ) -> Vec<RowAt> {
        let depths = self.depths_to_clear(rows);
        let mut filling = Filling {
            column,
            others: Others::new(Length::ZERO, usual),
            beside: vec![None; column.slots() + 1],
        };
        let mut set = Vec::with_capacity(rows.len());
        let mut ahead = self.set_ahead(rows, column, (usual, &depths), (numbers, memory));
        for (index, (row, number)) in rows.iter().zip(numbers).enumerate() {
            // What a row asks is kept with that row alone.
            filling.others = Others::new(depths[index], usual);
            filling.carry();
            let mut at = match column {
                Column::Plain(_) => {
                    let findings = RowFindings::default();
                    let here = filling.here(0, filling.beside(row, 0).flatten(), &findings);
                    let ahead = ahead.get_mut(index).and_then(Option::take);
                    memory.row_at(*number, &here, || {
                        ahead.unwrap_or_else(|| (self.row_at(row, &filling), At::of(&here)))
                    })
                }
                Column::Shaped(_) => self.row_at(row, &filling),
            };
            filling.go_on(row, rows.get(index + 1), &mut at);
            set.push(at);
        }
        set
    }

    /// Sets the rows that are not remembered on all cores, where no row hangs on the one before; nothing for the others.
    fn set_ahead(
        &self,
        rows: &[Row],
        column: &Column,
        (usual, depths): (&Usual, &[Length]),
        (numbers, memory): (&[RowNumber], &Memory),
    ) -> Vec<Option<(RowAt, At)>> {
        if !column.is_plain() || rows.iter().any(|row| row.shaped.drop.is_some()) {
            return Vec::new();
        }
        let set = |((row, number), depth): ((&Row, &RowNumber), &Length)| {
            let filling = Filling {
                column,
                others: Others::new(*depth, usual),
                beside: vec![None; column.slots() + 1],
            };
            let findings = RowFindings::default();
            let here = filling.here(0, None, &findings);
            let anew = !memory.knows(*number, &here);
            anew.then(|| (self.row_at(row, &filling), At::of(&here)))
        };
        let rows = rows.par_iter().zip(numbers).zip(depths);
        rows.map(set).collect()
    }

    fn row_at(&self, row: &Row, filling: &Filling<'_>) -> RowAt {
        match &row.paragraph {
            Some(paragraph) => self.set_paragraph(row, paragraph, filling),
            None => RowAt {
                stands: self.stands(row, filling),
                paragraph: None,
            },
        }
    }
}

impl Filling<'_> {
    fn here<'a>(
        &'a self,
        slot: usize,
        beside: Option<Beside>,
        findings: &'a RowFindings,
    ) -> LineContext<'a> {
        LineContext {
            column: self.column,
            slot,
            beside,
            findings,
            others: &self.others,
        }
    }

    /// What a row that begins on a slot stands beside: its own large initial or that of a row above. Nothing where its
    /// own cannot stand there.
    pub(super) fn beside(&self, row: &Row, slot: usize) -> Option<Option<Beside>> {
        let Some(drop) = &row.shaped.drop else {
            return Some(self.beside[slot]);
        };
        let within = slot < self.column.slots();
        if !within && !self.column.is_plain() {
            return Some(None);
        }
        let lines = drop.lines as usize;
        let shared = self.column.shared(slot, lines)?;
        let own = Beside {
            reach: HalfLines::lines(lines),
            edge: shared.left + drop.width,
        };
        // On slots a few letters must have room beside it.
        let room = shared.measure - drop.width;
        (!within || room >= row.voice.size * 3).then_some(Some(own))
    }

    /// A row that goes on to a later slot may still be beside the initial there.
    fn carry(&mut self) {
        for slot in 1..self.column.slots() {
            let before = self.beside[slot - 1].and_then(|beside| {
                let left = beside.reach - HalfLines::LINE;
                (left > HalfLines::ZERO).then_some(Beside {
                    reach: left,
                    ..beside
                })
            });
            self.beside[slot] = farther(self.beside[slot], before);
        }
    }

    /// Finds what the next row stands beside. The part's last row takes up what its initial reaches farther down; so does
    /// one above a row that goes to another panel.
    fn go_on(&mut self, row: &Row, next: Option<&Row>, at: &mut RowAt) {
        let boxes = self.column.boxes();
        let next = next.filter(|next| !goes_elsewhere(next));
        let mut beside = vec![None; self.beside.len()];
        // In a plain column one stand is for all.
        for slot in 0..boxes.slots().max(1) {
            let stand = &mut at.stands[slot];
            let first = HalfLines::lines(slot) + stand.skip;
            let Some(own) = self.beside(row, boxes.slot(first)).flatten() else {
                continue;
            };
            let Some(next) = next else {
                stand.height = own.reach.max(stand.height);
                continue;
            };
            let (to, reach) = boxes.beside(own.reach, (first, stand.height), next.space_above);
            if reach > HalfLines::ZERO {
                let to = &mut beside[boxes.slot(to)];
                *to = farther(*to, Some(Beside { reach, ..own }));
            }
        }
        self.beside = beside;
    }
}

/// The initial that reaches farther down.
fn farther(one: Option<Beside>, other: Option<Beside>) -> Option<Beside> {
    let both = one.into_iter().chain(other);
    both.max_by_key(|beside| beside.reach)
}
