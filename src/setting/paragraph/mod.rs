//! Paragraphs of prose: where they may be broken, and how they fall into lines in each column.
//!
//! A paragraph is measured once, in [`measure`]; in each column the best division of its rest is then found
//! from every place a panel may begin ([`super::falls`]). Only lines that come to stand on a panel are placed
//! exactly, in [`place`].

mod again;
mod breaks;
mod edges;
mod hang;
mod measure;
mod place;
mod unbroken;

pub use again::{inset_of, line_between, lines_in};
pub(super) use breaks::Divider;
pub use hang::MOST_OF_LETTER;
pub use place::{Poor, ProseContext, ProseLine, lines};

use std::sync::Arc;

use super::fill::Filling;
use super::here::Beside;
use super::line_breaks::{
    How, Justified, LineBreaks, Point, Ragged, SlotMeasures, best_breaks_along,
};
use super::opportunities::is_unspaced;
use super::part::Setter;
use super::{Row, RowAt, Stand};
use crate::names::{HalfLines, Length};
use crate::plan::{Align, TextStyle};
use crate::text::LineKind;

/// What a divided word costs in ragged lines: as much as a line that is 1.4 ems short. Chosen by the table of
/// `tests/outside/prose`: with a good deal fewer hyphens than a browser makes, lines lack little more.
const HYPHEN: i32 = 140 * 140;
/// The article's π for a divided word in justified lines: a little less than for one whose spaces are twice as wide. Chosen
/// by the table of `tests/outside/prose/optimum`: with less, there are more hyphens and hardly fewer wide spaces.
const HYPHEN_JUSTIFIED: i32 = 700;
/// What it costs there besides to leave no more than two letters before the hyphen or behind it.
const STUB: i32 = 80 * 80;
/// The article's π for the same.
const STUB_JUSTIFIED: i32 = 100;
/// What a break within a word at its own hyphen or slash costs there.
const OWN_HYPHEN: i32 = 100 * 100;
/// The article's π for the same.
const OWN_HYPHEN_JUSTIFIED: i32 = 50;
/// What a short word left at a line's end costs in ragged lines: next to nothing.
const SHORT_WORD: i32 = 25 * 25;
/// The article's π for the same.
const SHORT_WORD_JUSTIFIED: i32 = 2;
/// What a break costs that breaks a word nothing else can be done with; more than any other way could.
const EMERGENCY: i32 = 1_000_000_000;
/// What it costs to divide such a word by a hyphen where words are not to be divided.
const WIDE_WORD: i32 = EMERGENCY / 10;
/// The article's π for the same.
const WIDE_WORD_JUSTIFIED: i32 = 900_000;

/// Where a paragraph may be broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ParagraphBreak {
    /// Where a line's words end, in bytes of the row's text.
    pub end: usize,
    /// Where the next line's words begin.
    pub next: usize,
    /// What is parted there.
    pub parts: Parts,
}

/// What a break parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Parts {
    /// Words with a space between them, and at the paragraph's beginning and end nothing.
    Words,
    /// Words with none between them.
    WordsWithoutSpace,
    /// A word behind a sign of its own, such as a hyphen.
    Word,
    /// A word, by a hyphen that is added.
    WordByHyphen,
    /// Parts of a word that is wider than the measure, with a hyphen between, where words are not to be divided.
    WideWordByHyphen,
    /// A word that is wider than the measure, wherever it must be.
    WordByForce,
}

impl Parts {
    /// Whether a hyphen is added.
    pub fn adds_hyphen(self) -> bool {
        matches!(self, Parts::WordByHyphen | Parts::WideWordByHyphen)
    }

    /// Whether a panel may end there: a word is never divided between panels, unless nothing else can be done.
    pub fn may_end_panel(self) -> bool {
        matches!(
            self,
            Parts::Words | Parts::WordsWithoutSpace | Parts::WordByForce
        )
    }
}

/// A paragraph's breaks, and how far along it they lie.
#[derive(Clone, Debug)]
pub struct Paragraph {
    /// The breaks; the first is the beginning, the last the end.
    pub breaks: Vec<ParagraphBreak>,
    /// The breaks as the division into lines sees them, what hangs not yet taken off.
    points: Vec<Point>,
    /// What may hang out at each: before a line that begins there, and behind one that ends there.
    hangs: Vec<(Length, Length)>,
}

/// A paragraph in one column.
#[derive(Clone, Debug)]
pub struct ParagraphAt {
    /// How it falls into lines: from every break on the first slot, and from its beginning on every slot.
    pub fall: Arc<LineBreaks>,
    /// How its beginning stands on each slot, and last beyond all; see [`RowAt::stands`].
    begins: Vec<ParagraphStart>,
}

/// How the beginning of a paragraph stands on a slot.
#[derive(Clone, Debug)]
pub struct ParagraphStart {
    /// How far its first lines stand in.
    pub insets: Vec<Length>,
    /// How many of those must stay together on a panel: they stand beside a large initial.
    pub held: usize,
}

impl ParagraphAt {
    /// How its beginning stands on a slot.
    pub fn begins(&self, slot: usize) -> &ParagraphStart {
        &self.begins[slot.min(self.begins.len() - 1)]
    }
}

impl Paragraph {
    /// The breaks before which a panel may begin, by their number, the end left out.
    pub fn places(&self) -> impl Iterator<Item = usize> + '_ {
        let last = self.breaks.len() - 1;
        let may = |at: &usize| *at == 0 || self.breaks[*at].parts.may_end_panel();
        (0..last).filter(may)
    }

    /// The breaks as the division into lines sees them, at a setting where so much may hang out on the left and on the
    /// right: what hangs there is taken off.
    pub fn points_at(&self, hang_left: Length, hang_right: Length) -> Vec<Point> {
        let points = self.points.iter().zip(&self.hangs);
        let hung = points.map(|(point, hang)| Point {
            start: point.start + hang.0.min(hang_left),
            end: point.end - hang.1.min(hang_right),
            ..*point
        });
        hung.collect()
    }
}

impl Setter<'_> {
    /// A paragraph in a column.
    pub(super) fn set_paragraph(
        &self,
        row: &Row,
        paragraph: &Paragraph,
        filling: &Filling<'_>,
    ) -> RowAt {
        let column = filling.column;
        let count = column.slots();
        let outer = row.indent + far_inset(row);
        let settings = column.settings();
        let measures: Vec<Length> = settings.map(|setting| setting.measure - outer).collect();
        let beside = |slot: usize| filling.beside(row, slot).flatten();
        let insets = (0..=count).map(|slot| insets(row, slot, beside(slot), filling));
        let insets: Vec<Vec<Length>> = insets.collect();
        let along = SlotMeasures {
            measures: &measures,
            insets: &insets,
        };
        let hang = column.line(0);
        let fall = best_breaks_along(
            &paragraph.points_at(hang.hang_left, hang.hang_right),
            &along,
            &how(self.style, row),
        );
        let mut stands: Vec<Stand> = Vec::with_capacity(count + 1);
        for slot in (0..=count).rev() {
            let stands_here = slot == count || filling.beside(row, slot).is_some();
            stands.push(match stands.last() {
                Some(behind) if !stands_here => Stand {
                    skip: behind.skip + HalfLines::LINE,
                    ..behind.clone()
                },
                _ => Stand::empty(HalfLines::lines(fall.lines_on(slot).count())),
            });
        }
        stands.reverse();
        let begins = insets
            .into_iter()
            .enumerate()
            .map(|(slot, insets)| ParagraphStart {
                insets: insets.into_iter().map(|inset| inset + row.indent).collect(),
                held: beside(slot).map_or(0, Beside::lines),
            });
        let begins = begins.collect();
        RowAt {
            stands,
            paragraph: Some(ParagraphAt {
                fall: Arc::new(fall),
                begins,
            }),
        }
    }
}

/// How far every line of a row stands in from the far edge: an epigraph does so on both sides.
pub(super) fn far_inset(row: &Row) -> Length {
    match row.kind {
        LineKind::ProseEpigraph => row.indent,
        _ => Length::ZERO,
    }
}

/// How far the first lines of a paragraph stand in from where the others begin, when it begins on a slot: the first by
/// the paragraph's indent, those beside a large initial to its edge.
fn insets(row: &Row, slot: usize, beside: Option<Beside>, filling: &Filling<'_>) -> Vec<Length> {
    let lines = beside.map_or(0, Beside::lines);
    let inset = |line: usize| {
        let indent = if line == 0 {
            row.first_indent
        } else {
            Length::ZERO
        };
        let edge = beside.filter(|_| line < lines).map(|beside| beside.edge);
        let left = filling.column.line(slot + line).left;
        indent + edge.map_or(Length::ZERO, |edge| edge - left)
    };
    (0..lines.max(1)).map(inset).collect()
}

/// A length in hundredths of an em, rounded down.
fn hundredths(length: Length, em: Length) -> u32 {
    let hundredths = length.units().max(0) * 100 / em.units().max(1);
    u32::try_from(hundredths).unwrap_or(u32::MAX)
}

/// How a row's lines are set: a last line shorter than the indent of the next paragraph is what a gap is told by.
pub(super) fn how(style: &TextStyle, row: &Row) -> How {
    match style.align {
        Align::Justified => How::Justified(Justified {
            least_last: style.paragraph_indent,
            // The white of brackets and stops may go, and no words run together for that.
            cramped: match row.shaped.text.contains(is_unspaced) {
                true => 0,
                false => Justified::default().cramped,
            },
            ..Justified::default()
        }),
        _ => How::Ragged(Ragged {
            least_last: hundredths(style.paragraph_indent, row.voice.size),
            ..Ragged::of(row.voice.size)
        }),
    }
}
