//! Which face has which cluster of a word.

use std::sync::Arc;

use unicode_segmentation::UnicodeSegmentation;

use super::Face;
use super::around::ShapingContext;
use super::script::Script;
use super::shaped::{Emphasis, FontStyle, Letters};
use super::shaper::Shaper;
use crate::names::Direction;
use crate::plan::HeadingLevel;

/// The address of the one face that has all of a word; nothing where it takes several, or no face has some character.
pub(super) type SoleFace = Option<usize>;

/// Which faces are tried for words, and in which script.
pub(super) type FaceKind = (Option<HeadingLevel>, Emphasis, Script);

/// A stretch of a word that one face sets.
pub(super) struct FaceSpan<'t> {
    pub face: &'t Arc<Face>,
    pub script: Script,
    pub reads: Direction,
    pub from: usize,
    pub to: usize,
    pub covered: bool,
}

impl Shaper<'_> {
    /// Whether one face has all of a word of the same script, and it is the face of an item.
    pub(super) fn is_alike(&self, word: &str, item: &FaceSpan<'_>, voice: FontStyle) -> bool {
        let asked = Some(Arc::as_ptr(item.face) as usize);
        let kind = (voice.family, voice.stress, item.script);
        if let Some(face) = self.known.face(kind, word) {
            return face == asked;
        }
        let items = self.itemise(word, voice, item.script, item.reads);
        let face = match items.as_slice() {
            [one] if one.covered => Some(Arc::as_ptr(one.face) as usize),
            _ => None,
        };
        self.known.keep_face(kind, word, face);
        face == asked
    }

    /// Cuts a word of one script where the face changes. Never within a grapheme cluster, and where letters
    /// join only if no face has them all.
    pub(super) fn itemise(
        &self,
        word: &str,
        voice: FontStyle,
        script: Script,
        reads: Direction,
    ) -> Vec<FaceSpan<'_>> {
        let mut items: Vec<FaceSpan<'_>> = Vec::new();
        let item = |face, from, to, covered| FaceSpan {
            face,
            script,
            reads,
            from,
            to,
            covered,
        };
        if script.joins() {
            let all = |face: &&Arc<Face>| word.graphemes(true).all(|cluster| face.covers(cluster));
            if let Some(face) = self.faces(voice).find(all) {
                return vec![item(face, 0, word.len(), true)];
            }
        }
        for (from, cluster) in word.grapheme_indices(true) {
            let found = self.faces(voice).find(|face| face.covers(cluster));
            let covered = found.is_some();
            let face = found.unwrap_or_else(|| self.face_of(voice));
            let to = from + cluster.len();
            match items.last_mut() {
                Some(last) if Arc::ptr_eq(last.face, face) && last.covered == covered => {
                    last.to = to;
                }
                _ => items.push(item(face, from, to, covered)),
            }
        }
        items
    }

    /// The face of the first letter of a text that has no small capital, where a voice asks for one; nothing where all are
    /// drawn as the voice asks.
    pub fn lacks(&self, text: &str, voice: FontStyle) -> Option<Arc<Face>> {
        let plain = FontStyle {
            letters: Letters::AsWritten,
            ..voice
        };
        let mut clusters = text.graphemes(true);
        clusters.find_map(|cluster| {
            let letter = cluster.chars().next()?;
            if !voice.letters.makes_small(letter) {
                return None;
            }
            let first = |voice| {
                let context = ShapingContext::default();
                let shaped = self.word(cluster, voice, context, Script::LATIN);
                let segment = shaped.segments.first()?;
                Some((Arc::clone(&segment.face), segment.glyphs.first()?.id))
            };
            let (asked, usual) = first(voice).zip(first(plain))?;
            (asked == usual).then_some(usual.0)
        })
    }

    /// The face of the first letter of a text that has the same face in a voice as in that voice with another stress;
    /// nothing where readers tell all of it apart.
    pub fn same_face(&self, text: &str, voice: FontStyle, other: Emphasis) -> Option<Arc<Face>> {
        let other = FontStyle {
            stress: other,
            ..voice
        };
        let clusters = text.graphemes(true);
        let mut letters = clusters.filter(|cluster| cluster.starts_with(char::is_alphanumeric));
        letters.find_map(|cluster| {
            let face = |voice| self.faces(voice).find(|face| face.covers(cluster));
            let (one, other) = face(voice).zip(face(other))?;
            Arc::ptr_eq(one, other).then(|| Arc::clone(one))
        })
    }

    /// The faces for a voice in the order in which they are tried.
    fn faces(&self, voice: FontStyle) -> impl Iterator<Item = &Arc<Face>> {
        let stress = voice.stress;
        let main = &self.typeface.main;
        let own = self.typeface.family(voice.family);
        // What a heading's own family lacks is first looked for in that of all words.
        let others = (!std::ptr::eq(own, main)).then_some(main);
        let others = others.into_iter().chain(&self.typeface.fallback);
        let others = others.flat_map(move |family| [family.face(stress), &family.regular]);
        [own.face(stress), &own.regular].into_iter().chain(others)
    }
}
