//! Chinese and Japanese: signs that are set solid, each in a square of its own.
//!
//! Brackets, commas and stops fill one half of their square and leave the other white. That half is left out where it
//! would open a hole: at a line's start and end, and where such signs follow each other (JLREQ 3.1.4 to 3.1.6, 3.1.9;
//! CLREQ 3.1.6, both W3C). It is left out only where the face's own outline leaves it white, so that the centred stops
//! of traditional Chinese keep theirs. Between a letter of these scripts and one of another, or a digit, stands a
//! quarter of an em (JLREQ 3.2.6). In justified lines every gap between squares gives a little, and what is white
//! within them may be taken in by half (JLREQ 3.8). Classes of signs are those of JLREQ: no property of Unicode parts
//! signs so.

mod down;
mod gaps;
mod ruby;

use std::ops::Range;
use std::sync::Arc;

use super::shaped::{SetWord, ShapedLine};
use crate::names::Length;
use crate::text::paragraph::is_unspaced;
use crate::typeface::{ShapedWord, Shaper};

pub(super) use down::{notes as notes_down, script_faults};
pub(super) use ruby::notes;
pub use ruby::reading_rise;

/// What a piece of a line is shaped as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PieceKind {
    /// A word or a part of one.
    Word,
    /// A sign that is set solid.
    Solid,
    /// Words with their reading above them, by its number in the line.
    Ruby(usize),
}

impl PieceKind {
    /// Whether it is set solid.
    pub(super) fn is_solid(self) -> bool {
        self != PieceKind::Word
    }
}

/// Whether a sign is set solid.
pub(super) fn is_solid(c: char) -> bool {
    is_unspaced(c)
}

/// Brackets and quotation marks that open, white at the left (JLREQ, class cl-01).
fn opens(c: char) -> bool {
    matches!(
        c,
        '（' | '〔'
            | '［'
            | '｛'
            | '〈'
            | '《'
            | '「'
            | '『'
            | '【'
            | '〖'
            | '〘'
            | '〚'
            | '｟'
            | '〝'
    )
}

/// The quotation marks of simplified Chinese, which lines that run down have upright and as wide as brackets (CLREQ 3.1.6).
fn opens_down(c: char) -> bool {
    matches!(c, '“' | '‘')
}

fn closes_down(c: char) -> bool {
    matches!(c, '”' | '’')
}

/// Brackets and quotation marks that close, white at the right (JLREQ, class cl-02).
fn closes(c: char) -> bool {
    matches!(
        c,
        '）' | '〕'
            | '］'
            | '｝'
            | '〉'
            | '》'
            | '」'
            | '』'
            | '】'
            | '〗'
            | '〙'
            | '〛'
            | '｠'
            | '〟'
            | '〞'
    )
}

/// Commas and full stops, white at the right (JLREQ, classes cl-06 and cl-07).
fn pauses(c: char) -> bool {
    matches!(c, '、' | '，' | '。' | '．')
}

/// A letter or ideograph of these scripts.
fn is_letter(c: char) -> bool {
    is_solid(c) && c.is_alphanumeric()
}

/// A letter or digit of another script.
fn is_foreign(c: char) -> bool {
    !is_solid(c) && c.is_alphanumeric()
}

/// The white halves of a sign's square.
#[derive(Clone, Copy, Default)]
struct White {
    left: bool,
    right: bool,
}

impl ShapedLine {
    /// Takes off the white of solid signs that is not wanted, and adds the room between scripts, in words that are set
    /// as a line by themselves; readings do not hang over its ends.
    pub(super) fn fit_solid(&self, shaper: &Shaper<'_>, words: &mut [SetWord]) {
        let last = words.len().saturating_sub(1);
        for (index, word) in words.iter_mut().enumerate() {
            let edge = (index == 0, index == last);
            match word.kind {
                PieceKind::Solid => {
                    let room = self.room(word, &word.shaped, edge.0, edge.1);
                    if room != (0, 0) {
                        word.shaped = Arc::new(with_room(&word.shaped, room, word.voice.size));
                    }
                }
                PieceKind::Ruby(number) if edge.0 || edge.1 => {
                    let how = (word.voice, word.context);
                    word.shaped = Arc::new(self.with_reading(shaper, how, number, edge));
                }
                PieceKind::Ruby(_) | PieceKind::Word => {}
            }
        }
    }

    /// The width of a solid sign, or of words with their reading, where a line begins with it, or ends.
    pub(super) fn solid_width(
        &self,
        shaper: &Shaper<'_>,
        word: &SetWord,
        begins: bool,
        ends: bool,
    ) -> Length {
        let (text, context) = (word.text.clone(), word.context);
        if let PieceKind::Ruby(number) = word.kind {
            let how = (word.voice, context);
            let shaped = self.with_reading(shaper, how, number, (begins, ends));
            return shaped.width;
        }
        let plain = shaper.word_of(&self.text, text, word.voice, context);
        let room = self.room(word, &plain, begins, ends);
        with_room(&plain, room, word.voice.size).width
    }

    /// Whether a piece counts as a word where none are parted by spaces: solid signs do, but not what closes or pauses.
    pub(super) fn counts(&self, word: &SetWord) -> bool {
        let first = self.text[word.text.clone()].chars().next();
        word.kind.is_solid() && first.is_some_and(|c| !self.closes(c) && !pauses(c))
    }

    /// Whether a sign opens a bracket or quotation in this line.
    fn opens(&self, c: char) -> bool {
        opens(c) || self.lines_run.is_down() && opens_down(c)
    }

    /// Whether a sign closes a bracket or quotation in this line.
    fn closes(&self, c: char) -> bool {
        closes(c) || self.lines_run.is_down() && closes_down(c)
    }

    /// What a solid sign has more or less at its left and right than its square, in units of its face.
    fn room(&self, word: &SetWord, plain: &ShapedWord, begins: bool, ends: bool) -> (i32, i32) {
        let (Some(segment), Some(own)) = (
            plain.segments.first(),
            self.text[word.text.clone()].chars().next(),
        ) else {
            return (0, 0);
        };
        let em = segment.face.metrics().units_per_em;
        let before = self.sign_before(word.text.start).filter(|_| !begins);
        let behind = self.sign_behind(word.text.end).filter(|_| !ends);
        if is_letter(own) {
            let quarter = |other: Option<char>, at: usize| match other {
                Some(c) if is_foreign(c) && !self.stands_together(at) => em / 4,
                _ => 0,
            };
            let last = word.text.start.saturating_sub(1);
            return (quarter(before, last), quarter(behind, word.text.end));
        }
        let white = white(plain, own);
        let left = white.left && (begins || before.is_some_and(|c| self.opens(c)));
        let closed = |c: char| self.closes(c) || pauses(c) || self.opens(c);
        let right = white.right && (ends || behind.is_some_and(closed));
        (
            if left { -em / 2 } else { 0 },
            if right { -em / 2 } else { 0 },
        )
    }

    /// The sign that stands on the line right before a byte, readings passed over.
    fn sign_before(&self, at: usize) -> Option<char> {
        let above = self.rubies.iter().find(|ruby| ruby.reading.end == at);
        let at = above.map_or(at, |ruby| ruby.base.end);
        self.text[..at].chars().next_back()
    }

    /// The sign right behind a byte.
    fn sign_behind(&self, at: usize) -> Option<char> {
        self.text[at..].chars().next()
    }

    /// Cuts a part of a word into what is shaped together: solid signs one by one.
    pub(super) fn solid_parts(&self, part: Range<usize>) -> Vec<(Range<usize>, PieceKind)> {
        use unicode_segmentation::UnicodeSegmentation;
        let text = &self.text[part.clone()];
        if self.lines_run.is_down() {
            return self.parts_down(part);
        }
        if !text.chars().any(is_solid) {
            return vec![(part, PieceKind::Word)];
        }
        let mut found: Vec<(Range<usize>, PieceKind)> = Vec::new();
        for (at, cluster) in text.grapheme_indices(true) {
            let from = part.start + at;
            let to = from + cluster.len();
            if cluster.chars().next().is_some_and(is_solid) {
                found.push((from..to, PieceKind::Solid));
                continue;
            }
            match found.last_mut() {
                Some((last, PieceKind::Word)) => last.end = to,
                _ => found.push((from..to, PieceKind::Word)),
            }
        }
        found
    }
}

/// Which half of its square a bracket, comma or stop leaves white.
fn white(word: &ShapedWord, sign: char) -> White {
    let [segment] = word.segments.as_slice() else {
        return White::default();
    };
    let [glyph] = segment.glyphs.as_slice() else {
        return White::default();
    };
    let em = segment.face.metrics().units_per_em;
    let opens = opens(sign) || opens_down(sign);
    if glyph.advance != em || !(opens || closes(sign) || closes_down(sign) || pauses(sign)) {
        return White::default();
    }
    let Some((left, right)) = segment.ink(glyph) else {
        return White::default();
    };
    // Strokes may come a hair over the middle.
    let slip = em / 25;
    White {
        left: opens && left >= em / 2 - slip,
        right: !opens && right <= em / 2 + slip,
    }
}

/// A word of one segment with more or less room at its sides, in units of its face.
fn with_room(word: &ShapedWord, (left, right): (i32, i32), size: Length) -> ShapedWord {
    let mut word = word.clone();
    if let Some(segment) = word.segments.first_mut() {
        if let Some(first) = segment.glyphs.first_mut() {
            first.dx += left;
            first.advance += left;
        }
        if let Some(last) = segment.glyphs.last_mut() {
            last.advance += right;
        }
    }
    let width = |segment: &crate::typeface::GlyphSegment| {
        let units = segment.glyphs.iter().map(|glyph| glyph.advance).sum();
        segment.face.scale(units, size)
    };
    word.width = word.segments.iter().map(width).sum();
    word
}
