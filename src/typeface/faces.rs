//! Which face has which cluster of a word.

use std::sync::Arc;

use unicode_segmentation::UnicodeSegmentation;

use super::Face;
use super::script::Script;
use super::shaped::Emphasis;
use super::shaper::Shaper;
use crate::names::Direction;

/// The address of the one face that has all of a word; nothing where it takes several, or no face has some character.
pub(super) type SoleFace = Option<usize>;

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
    pub(super) fn is_alike(&self, word: &str, item: &FaceSpan<'_>, stress: Emphasis) -> bool {
        let asked = Some(Arc::as_ptr(item.face) as usize);
        let mut kinds = self.kinds.borrow_mut();
        let known = kinds.entry((stress, item.script)).or_default();
        if let Some(kind) = known.get(word) {
            return *kind == asked;
        }
        let items = self.itemise(word, stress, item.script, item.reads);
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
        stress: Emphasis,
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
            if let Some(face) = self.faces(stress).find(all) {
                return vec![item(face, 0, word.len(), true)];
            }
        }
        for (from, cluster) in word.grapheme_indices(true) {
            let found = self.faces(stress).find(|face| face.covers(cluster));
            let covered = found.is_some();
            let face = found.unwrap_or_else(|| self.face(stress));
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

    /// The faces for a stress in the order in which they are tried.
    fn faces(&self, stress: Emphasis) -> impl Iterator<Item = &Arc<Face>> {
        let families = self.typeface.fallback.iter();
        let others = families.flat_map(move |family| [family.face(stress), &family.regular]);
        let main: [&Arc<Face>; 2] = [self.face(stress), &self.typeface.main.regular];
        main.into_iter().chain(others)
    }
}
