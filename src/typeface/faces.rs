//! Which face has which cluster of a word.

use std::sync::Arc;

use unicode_segmentation::UnicodeSegmentation;

use super::Face;
use super::script::Script;
use super::shaped::{Emphasis, FontStyle};
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
        let mut kinds = self.kinds.borrow_mut();
        let known = kinds
            .entry((voice.family, voice.stress, item.script))
            .or_default();
        if let Some(kind) = known.get(word) {
            return *kind == asked;
        }
        let items = self.itemise(word, voice, item.script, item.reads);
        let kind = match items.as_slice() {
            [one] if one.covered => Some(Arc::as_ptr(one.face) as usize),
            _ => None,
        };
        known.insert(word.to_string(), kind);
        kind == asked
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
