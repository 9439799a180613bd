//! Optical bounds: how much of a letter a face lets stand outside the edge of a text.

use super::shape::ShapeRequest;
use super::shaped::{FontStyle, Letters};
use super::{Glyph, Script, Shaper};
use crate::names::{Direction, Feature, Length};

/// An edge of a text, as it is seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Edge {
    /// Where lines from left to right begin.
    Left,
    /// Where they end.
    Right,
}

impl Edge {
    /// The feature that aligns letters by what they look like at this edge (OpenType's registered features `lfbd` and
    /// `rtbd`, which `opbd` stands for).
    pub(super) fn feature(self) -> Feature {
        let tag = match self {
            Edge::Left => *b"lfbd",
            Edge::Right => *b"rtbd",
        };
        Feature { tag, value: 1 }
    }
}

/// A letter at an edge, in the main face of a stress.
#[derive(PartialEq, Eq, Hash)]
pub(super) struct LetterAtEdge {
    face: usize,
    letter: char,
    letters: Letters,
    edge: Edge,
}

impl Shaper<'_> {
    /// How far a letter from left to right stands out at an edge by the main face's optical bounds; nothing where the
    /// face has none for that edge, or not the letter.
    pub fn optical_bound(
        &self,
        letter: char,
        voice: FontStyle,
        script: Script,
        edge: Edge,
    ) -> Option<Length> {
        let face = self.face_of(voice);
        if !face.bounds.contains(&edge) || face.glyph(letter).is_none() {
            return None;
        }
        let key = LetterAtEdge {
            face: face.id(),
            letter,
            letters: voice.letters,
            edge,
        };
        let units = self.known.bound(key, || {
            let mut features = self.features(voice);
            let plain = self.lone_letter(letter, voice, script, &features);
            features.push(edge.feature());
            let bound = self.lone_letter(letter, voice, script, &features);
            stands_out(&plain, &bound, edge)
        });
        Some(face.scale(units, voice.size))
    }

    fn lone_letter(
        &self,
        letter: char,
        voice: FontStyle,
        script: Script,
        features: &[Feature],
    ) -> Vec<Glyph> {
        let shaper = self.face_of(voice).shaper();
        shaper.shape(&ShapeRequest {
            text: letter.encode_utf8(&mut [0; 4]),
            joined: ("", ""),
            script,
            reads: Direction::LeftToRight,
            language: self.language,
            features,
            upright: false,
        })
    }
}

/// How far a letter stands out that is placed so with its bound: at the left by how far it is drawn to the left, at the
/// right by how much narrower it is.
fn stands_out(plain: &[Glyph], bound: &[Glyph], edge: Edge) -> i32 {
    let advance = |glyphs: &[Glyph]| glyphs.iter().map(|glyph| glyph.advance).sum::<i32>();
    let begins = |glyphs: &[Glyph]| glyphs.first().map_or(0, |glyph| glyph.dx);
    match edge {
        Edge::Left => begins(plain) - begins(bound),
        Edge::Right => advance(plain) - advance(bound),
    }
}
