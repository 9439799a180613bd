//! How words are set, and what shaping makes of them.

use std::sync::Arc;

use super::{Face, Glyph};
use crate::names::{Direction, Length};
use crate::plan::HeadingLevel;

/// How words are stressed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Emphasis {
    /// The upright.
    #[default]
    Plain,
    /// The italic.
    Italic,
    /// The bold.
    Bold,
}

/// What letters are drawn as. The words stay as they are written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Letters {
    /// What they are.
    #[default]
    AsWritten,
    /// Small letters as small capitals, by the face's own.
    SmallCapitals,
    /// Small letters and capitals as small capitals.
    AllSmallCapitals,
    /// Capitals as small capitals.
    SmallFromCapitals,
    /// All as capitals.
    Capitals,
}

impl Letters {
    /// Whether they are small capitals, be it in part.
    pub fn are_small_capitals(self) -> bool {
        matches!(
            self,
            Letters::SmallCapitals | Letters::AllSmallCapitals | Letters::SmallFromCapitals
        )
    }

    /// Whether a letter is to be a small capital.
    pub(super) fn makes_small(self, letter: char) -> bool {
        // Signs such as ª are small letters without a capital.
        let small = || letter.is_lowercase() && letter.to_uppercase().next() != Some(letter);
        match self {
            Letters::AsWritten | Letters::Capitals => false,
            Letters::SmallCapitals => small(),
            Letters::SmallFromCapitals => letter.is_uppercase(),
            Letters::AllSmallCapitals => small() || letter.is_uppercase(),
        }
    }
}

/// Dots at every sign, which stress it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Dots {
    /// Above it.
    Above,
    /// Below it.
    Below,
}

/// How a stretch of words is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct FontStyle {
    /// The headings whose own family it is; nothing for the family of all words.
    pub family: Option<HeadingLevel>,
    /// Which face of the family.
    pub stress: Emphasis,
    /// What letters are drawn as.
    pub letters: Letters,
    /// The type size.
    pub size: Length,
    /// Space added behind every cluster.
    pub tracking: Length,
    /// Space added between letters none of which is a small one ([`tall_runs`](super::tall_runs)).
    pub between: Length,
    /// Dots at its signs, if it has any.
    pub dots: Option<Dots>,
}

impl FontStyle {
    /// Plain words of that size.
    pub fn plain(size: Length) -> FontStyle {
        FontStyle {
            family: None,
            stress: Emphasis::Plain,
            letters: Letters::AsWritten,
            size,
            tracking: Length::ZERO,
            between: Length::ZERO,
            dots: None,
        }
    }
}

/// Glyphs of one face within a word.
#[derive(Clone, Debug)]
pub struct GlyphSegment {
    /// The face.
    pub face: Arc<Face>,
    /// One past the last byte of the word that the segment holds.
    pub to: usize,
    /// The glyphs along the line, clusters counted from the word's first byte; those of the space before
    /// it, if it was shaped with the word, are in [`ShapedWord::space`].
    pub glyphs: Vec<Glyph>,
    /// Whether they stand upright in a line that runs down.
    pub upright: bool,
    /// Where the glyphs of a reading stand above the word; nothing for the word itself.
    pub above: Option<RubyPosition>,
}

impl GlyphSegment {
    /// From where to where along the line the ink of one of its glyphs reaches, from where its pen stands, in units of its
    /// face; nothing for a glyph without any.
    pub fn ink(&self, glyph: &Glyph) -> Option<(i32, i32)> {
        let (from, to) = match self.upright {
            true => {
                let (foot, top) = self.face.ink_up(glyph.id)?;
                (-top, -foot)
            }
            false => self.face.ink(glyph.id)?,
        };
        Some((from + glyph.dx, to + glyph.dx))
    }
}

/// Where glyphs stand above the words that they are the reading of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RubyPosition {
    /// Their type size.
    pub size: Length,
    /// How far their baseline lies above the word's.
    pub rise: Length,
    /// How far they begin to the left of where the word ends.
    pub back: Length,
}

/// A word, shaped.
#[derive(Clone, Debug)]
pub struct ShapedWord {
    /// The space before it, where the context has one: its glyph and the face it is of. Its advance is
    /// kerned with the word.
    pub space: Option<(Arc<Face>, Glyph)>,
    /// The word's glyphs by face, in the order of its text.
    pub segments: Vec<GlyphSegment>,
    /// Width of the space before it.
    pub space_width: Length,
    /// Width of the word without the space.
    pub width: Length,
    /// The first byte of each cluster that no face has, with its length.
    pub missing: Vec<(usize, usize)>,
    /// Whether the word would be shaped otherwise without the space before it, and without that behind it.
    pub bound: (bool, bool),
}

impl ShapedWord {
    pub(super) fn empty(segments: usize) -> ShapedWord {
        ShapedWord {
            space: None,
            segments: Vec::with_capacity(segments),
            space_width: Length::ZERO,
            width: Length::ZERO,
            missing: Vec::new(),
            bound: (true, true),
        }
    }

    /// The word without the space before it.
    pub fn without_space(&self) -> ShapedWord {
        ShapedWord {
            space: None,
            space_width: Length::ZERO,
            ..self.clone()
        }
    }

    /// The widths of what stands before a byte of it and from there on, in a voice, where the two are shaped apart as they are
    /// together; nothing where that is not so or cannot be told.
    pub fn widths_at(&self, byte: usize, voice: FontStyle) -> Option<(Length, Length)> {
        let [segment] = self.segments.as_slice() else {
            return None;
        };
        let spaced = (voice.tracking, voice.between) != (Length::ZERO, Length::ZERO);
        if spaced || segment.upright || segment.above.is_some() {
            return None;
        }
        let (mut before, mut behind) = (0, 0);
        let mut begins = false;
        for glyph in &segment.glyphs {
            let at = glyph.cluster as usize;
            if at == byte && glyph.bound {
                return None;
            }
            begins |= at == byte;
            match at < byte {
                true => before += glyph.advance,
                false => behind += glyph.advance,
            }
        }
        let width = |units: i32| segment.face.scale(units, voice.size);
        begins.then(|| (width(before), width(behind)))
    }

    /// From where to where its ink reaches at a type size, counted from its left edge; nothing for a word without any.
    /// `reads` is which way it runs.
    pub fn ink(&self, size: Length, reads: Direction) -> Option<(Length, Length)> {
        let mut segments: Vec<&GlyphSegment> = self.segments.iter().collect();
        if reads.is_right_to_left() {
            segments.reverse();
        }
        let mut left = Length::ZERO;
        let mut reaches = Vec::with_capacity(segments.len());
        for segment in segments {
            let scale = |units: i32| segment.face.scale(units, size);
            let mut pen = 0;
            for glyph in &segment.glyphs {
                let at = |units: i32| left + scale(pen + glyph.dx + units);
                reaches.extend(segment.face.ink(glyph.id).map(|ink| (at(ink.0), at(ink.1))));
                pen += glyph.advance;
            }
            left += scale(pen);
        }
        let from = reaches.iter().map(|reach| reach.0).min();
        from.zip(reaches.iter().map(|reach| reach.1).max())
    }
}
