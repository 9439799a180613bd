//! How words are set, and what shaping makes of them.

use std::sync::Arc;

use super::{Face, Glyph};
use crate::names::Length;
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
    /// All as capitals.
    Capitals,
}

impl Letters {
    /// Whether they are small capitals, be it in part.
    pub fn are_small_capitals(self) -> bool {
        matches!(self, Letters::SmallCapitals | Letters::AllSmallCapitals)
    }
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
    /// The glyphs from left to right, clusters counted from the word's first byte; those of the space before
    /// it, if it was shaped with the word, are in [`ShapedWord::space`].
    pub glyphs: Vec<Glyph>,
    /// Where the glyphs of a reading stand above the word; nothing for the word itself.
    pub above: Option<RubyPosition>,
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
}

impl ShapedWord {
    pub(super) fn empty(segments: usize) -> ShapedWord {
        ShapedWord {
            space: None,
            segments: Vec::with_capacity(segments),
            space_width: Length::ZERO,
            width: Length::ZERO,
            missing: Vec::new(),
        }
    }
}
