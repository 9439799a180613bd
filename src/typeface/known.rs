//! What has been shaped in a typeface, kept for all that shape words in it: a book's distinct words are shaped once.

use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use rustc_hash::FxHashMap;

use super::bounds::LetterAtEdge;
use super::faces::{FaceKind, SoleFace};
use super::shaped::ShapedWord;
use super::shaper::WordKey;

/// The most words that are kept in one language; a book of so many different ones is begun anew.
const WORDS: usize = 200_000;

/// What is known of the words of a typeface, by language. Clones know the same.
#[derive(Clone, Default)]
pub struct KnownWords(Arc<Mutex<ByLanguage>>);

type ByLanguage = Vec<(String, Arc<Known>)>;

impl std::fmt::Debug for KnownWords {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("KnownWords")
    }
}

impl KnownWords {
    /// What is known of words of a language.
    pub(super) fn of(&self, language: &str) -> Arc<Known> {
        let mut languages = lock(&self.0);
        if let Some((_, known)) = languages.iter().find(|(own, _)| own == language) {
            return Arc::clone(known);
        }
        let known = Arc::new(Known::default());
        languages.push((language.to_string(), Arc::clone(&known)));
        known
    }
}

/// What is known of the words of one language.
#[derive(Default)]
pub(super) struct Known {
    words: Mutex<FxHashMap<WordKey, Arc<ShapedWord>>>,
    kinds: Mutex<FxHashMap<FaceKind, FxHashMap<String, SoleFace>>>,
    /// How far letters stand out at the edges, in units of their faces.
    bounds: Mutex<FxHashMap<LetterAtEdge, i32>>,
}

impl Known {
    /// A word that was shaped before.
    pub fn word(&self, key: &WordKey) -> Option<Arc<ShapedWord>> {
        lock(&self.words).get(key).map(Arc::clone)
    }

    /// Keeps a word that was shaped.
    pub fn keep_word(&self, key: WordKey, word: &Arc<ShapedWord>) {
        let mut words = lock(&self.words);
        if words.len() >= WORDS {
            words.clear();
        }
        words.insert(key, Arc::clone(word));
    }

    /// The one face that has all of a word, where that was asked before.
    pub fn face(&self, kind: FaceKind, word: &str) -> Option<SoleFace> {
        let kinds = lock(&self.kinds);
        kinds.get(&kind)?.get(word).copied()
    }

    /// Keeps which face has all of a word.
    pub fn keep_face(&self, kind: FaceKind, word: &str, face: SoleFace) {
        let mut kinds = lock(&self.kinds);
        let words = kinds.entry(kind).or_default();
        if words.len() >= WORDS {
            words.clear();
        }
        words.insert(word.to_string(), face);
    }

    /// How far a letter stands out at an edge, found once.
    pub fn bound(&self, letter: LetterAtEdge, find: impl FnOnce() -> i32) -> i32 {
        if let Some(known) = lock(&self.bounds).get(&letter) {
            return *known;
        }
        let found = find();
        lock(&self.bounds).insert(letter, found);
        found
    }
}

/// Locks what no panic can leave half done.
pub(super) fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
