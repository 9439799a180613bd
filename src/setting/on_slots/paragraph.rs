//! Paragraphs on slots.

use std::sync::Arc;

use super::super::falls::{Along, Fall, FallLine, fall_along};
use super::super::paragraph::{Asked, ProseLine, far_inset, how, place};
use super::super::part::Setter;
use super::super::{Row, Slots};
use super::rows::Filling;
use super::{RowOnSlots, Stand, inset};
use crate::names::Direction;
use crate::names::Length;
use crate::plan::TextStyle;
use crate::typeface::Shaper;

/// A paragraph on slots.
#[derive(Clone, Debug)]
pub struct ParagraphOnSlots {
    /// How it falls into lines: from every break on the first slot, and from its beginning on every slot.
    pub fall: Fall,
    /// How far its first lines stand in, when its beginning comes to each slot.
    pub insets: Vec<Vec<Length>>,
    /// How many of those must stay together on a panel then: they stand beside a large initial.
    pub held: Vec<usize>,
}

impl Setter<'_> {
    /// A paragraph on every slot.
    pub(super) fn paragraph_on_slots(&self, row: &Row, filling: &Filling<'_>) -> RowOnSlots {
        let slots = filling.slots;
        let Some(paragraph) = &row.paragraph else {
            return RowOnSlots {
                stands: Vec::new(),
                paragraph: None,
            };
        };
        let outer = row.indent + far_inset(row);
        let measures: Vec<Length> = slots
            .all()
            .iter()
            .map(|slot| slot.measure - outer)
            .collect();
        let insets = (0..=slots.len()).map(|slot| insets_on(row, slot, filling));
        let insets: Vec<Vec<Length>> = insets.collect();
        let along = Along {
            measures: &measures,
            insets: &insets,
        };
        let fall = fall_along(
            &paragraph.points_at(Length::ZERO, Length::ZERO),
            &along,
            &how(self.style, row),
        );
        let mut stands: Vec<Stand> = Vec::with_capacity(slots.len() + 1);
        for slot in (0..=slots.len()).rev() {
            let stands_here = slot == slots.len() || filling.beside(row, slot).is_some();
            stands.push(match stands.last() {
                Some(behind) if !stands_here => Stand {
                    skip: behind.skip + 1,
                    ..behind.clone()
                },
                _ => Stand {
                    skip: 0,
                    height: fall.lines_on(slot).count(),
                    pieces: Arc::new([]),
                    step: None,
                },
            });
        }
        stands.reverse();
        let held = (0..=slots.len()).map(|slot| lines_beside(row, slot, filling));
        RowOnSlots {
            stands,
            paragraph: Some(ParagraphOnSlots {
                held: held.collect(),
                insets: insets
                    .into_iter()
                    .map(|insets| insets.into_iter().map(|inset| inset + row.indent).collect())
                    .collect(),
                fall,
            }),
        }
    }
}

/// How many lines of a paragraph stand beside a large initial when it begins on a slot.
fn lines_beside(row: &Row, slot: usize, filling: &Filling<'_>) -> usize {
    let within = slot < filling.slots.len();
    let beside = within
        .then(|| filling.beside(row, slot))
        .flatten()
        .flatten();
    beside.map_or(0, |beside| beside.end.saturating_sub(slot))
}

/// How far the first lines of a paragraph stand in from where the others begin, when it begins on a slot.
fn insets_on(row: &Row, slot: usize, filling: &Filling<'_>) -> Vec<Length> {
    let lines = lines_beside(row, slot, filling);
    let beside = match lines {
        0 => None,
        _ => filling.beside(row, slot).flatten(),
    };
    let inset_of = |line: usize| {
        let indent = if line == 0 {
            row.first_indent
        } else {
            Length::ZERO
        };
        let left = filling.slots.get(slot + line).left;
        indent + inset(beside, slot + line, left)
    };
    (0..lines.max(1)).map(inset_of).collect()
}

/// What the lines of a paragraph on slots are placed by.
pub struct AskedOnSlots<'a> {
    /// Shapes the part's words.
    pub shaper: &'a Shaper<'a>,
    /// How the part is set.
    pub style: &'a TextStyle,
    /// Which way it reads.
    pub reads: Direction,
    /// The row.
    pub row: &'a Row,
    /// The paragraph on the slots.
    pub paragraph: &'a ParagraphOnSlots,
    /// The slots.
    pub slots: &'a Slots,
    /// The slot that its first line here stands on.
    pub slot: usize,
}

/// The lines of a paragraph from one break to another, on neighbouring slots.
pub fn lines_on_slots(asked: &AskedOnSlots<'_>, from: usize, to: usize) -> Vec<ProseLine> {
    let Some(paragraph) = &asked.row.paragraph else {
        return Vec::new();
    };
    let fall = &asked.paragraph.fall;
    let lines: Vec<FallLine> = match from {
        0 => fall
            .lines_on(asked.slot)
            .take_while(|line| line.to <= to)
            .collect(),
        _ => fall
            .lines_from(from)
            .take_while(|line| line.to <= to)
            .collect(),
    };
    let none = Vec::new();
    let insets = match from {
        0 => asked.paragraph.insets.get(asked.slot).unwrap_or(&none),
        _ => &none,
    };
    let placed = lines.iter().enumerate().map(|(number, line)| {
        let setting = asked.slots.get(asked.slot + number).setting();
        let here = Asked {
            shaper: asked.shaper,
            style: asked.style,
            reads: asked.reads,
            row: asked.row,
            number: 0,
            setting: &setting,
        };
        let inset = insets.get(number).copied().unwrap_or(asked.row.indent);
        let breaks = (paragraph.breaks[line.from], paragraph.breaks[line.to]);
        let last = line.to + 1 == paragraph.breaks.len();
        place(&here, breaks, inset, last, line.fit)
    });
    placed.collect()
}
