//! The words of a paragraph, one behind the other as if it were one line.

use crate::names::Length;
use crate::plan::Align;
use crate::setting::line_breaks::Slack;
use crate::setting::shaped::{SetWord, ShapedLine};
use crate::typeface::Shaper;

/// Words longer than this are measured by the glyphs of the whole, not shaped anew for each break in them.
pub(super) const LONG_WORD: usize = 64;

/// A word, or a part of one in its own voice, on the unbroken line.
pub(super) struct PlacedWord<'a> {
    pub(super) word: &'a SetWord,
    pub(super) from: Length,
    pub(super) to: Length,
    /// Word spaces before it, and what they may give.
    pub(super) spaces: u32,
    pub(super) slack: Slack,
    /// Of a long word: the byte of it that each glyph's cluster begins at, and how far along it the glyph ends.
    pub(super) along: Vec<(usize, Length)>,
}

/// Places the words of the unbroken paragraph one behind the other.
pub(super) fn unbroken_line<'a>(
    shaper: &Shaper<'_>,
    line: &ShapedLine,
    set: &'a [SetWord],
    align: Align,
) -> Vec<PlacedWord<'a>> {
    let mut pen = Length::ZERO;
    let mut spaces = 0;
    let mut slack = Slack::default();
    let mut placed = Vec::with_capacity(set.len());
    for (index, word) in set.iter().enumerate() {
        if word.context.space_before {
            pen += word.shaped.space_width + line.extra_space(shaper, word.text.start, word.voice);
            spaces += 1;
        }
        if let Some(before) = index.checked_sub(1).map(|before| &set[before]) {
            // What is set solid has no words; its signs are counted instead, so that none stands alone.
            spaces += u32::from(!word.context.space_before && line.counts(word));
            if align == Align::Justified {
                let gap = line.gap(shaper, before, word);
                slack.stretch += gap.stretch;
                slack.shrink += gap.shrink;
            }
        }
        let from = pen;
        pen += word.shaped.width;
        placed.push(PlacedWord {
            word,
            from,
            to: pen,
            spaces,
            slack,
            along: match word.text.len() > LONG_WORD {
                true => along(word),
                false => Vec::new(),
            },
        });
    }
    placed
}

/// How far along a word each of its glyphs ends, in the order of its text.
fn along(word: &SetWord) -> Vec<(usize, Length)> {
    let mut ends = Vec::new();
    let mut before = Length::ZERO;
    for segment in &word.shaped.segments {
        let mut glyphs: Vec<_> = segment.glyphs.iter().collect();
        glyphs.sort_by_key(|glyph| glyph.cluster);
        let mut units = 0;
        let scaled = |units| segment.face.scale(units, word.voice.size);
        for glyph in glyphs {
            units += glyph.advance;
            ends.push((glyph.cluster as usize, before + scaled(units)));
        }
        before += scaled(units);
    }
    ends
}

impl PlacedWord<'_> {
    /// How far along a long word a byte of it lies, by the glyphs of the whole.
    pub(super) fn along(&self, at: usize) -> Length {
        let offset = at - self.word.text.start;
        let behind = self.along.partition_point(|glyph| glyph.0 < offset);
        let last = behind.checked_sub(1).map(|last| self.along[last].1);
        last.unwrap_or(Length::ZERO)
    }
}
