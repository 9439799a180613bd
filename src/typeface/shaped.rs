//! How words are set, and what shaping makes of them.

use std::sync::Arc;

use super::{Face, Glyph};
use crate::names::Length;

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

/// How a stretch of words is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct FontStyle {
    /// Which face of the family.
    pub stress: Emphasis,
    /// Whether lower case becomes small capitals.
    pub small_caps: bool,
    /// The type size.
    pub size: Length,
    /// Space added behind every cluster.
    pub tracking: Length,
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
