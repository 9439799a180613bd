//! What changes of whole words at a line's ends, remembered by word: prose asks it of every space.

use std::sync::{Mutex, PoisonError};

use rustc_hash::FxHashMap;

use crate::names::Length;
use crate::setting::shaped::SetWord;
use crate::typeface::{FontStyle, ShapingContext};

/// What changes of a whole word at a line's ends.
#[derive(Clone, Copy, Default)]
pub(super) struct Edges {
    /// How much wider it is with no space behind it.
    pub ends: Length,
    /// How much narrower it is with no space before it.
    pub begins: Length,
}

/// How words are set, and what stands beside them.
#[derive(PartialEq, Eq, Hash)]
struct Beside {
    voice: FontStyle,
    context: ShapingContext,
}

/// The edges of the words met so far.
#[derive(Default)]
pub(super) struct KnownEdges {
    words: Mutex<FxHashMap<Beside, FxHashMap<String, Edges>>>,
}

impl KnownEdges {
    /// The edges of a word. Where letters join what is beside them, they are found anew each time.
    pub(super) fn of(&self, word: &SetWord, text: &str, find: impl Fn() -> Edges) -> Edges {
        if word.context.script.joins() {
            return find();
        }
        let beside = Beside {
            voice: word.voice,
            context: ShapingContext {
                // Where it stands on its line makes no difference.
                run: (0, 0),
                ..word.context
            },
        };
        let words = || self.words.lock().unwrap_or_else(PoisonError::into_inner);
        let known = |words: &FxHashMap<Beside, FxHashMap<String, Edges>>| {
            words.get(&beside)?.get(text).copied()
        };
        if let Some(known) = known(&words()) {
            return known;
        }
        let found = find();
        words()
            .entry(beside)
            .or_default()
            .insert(text.to_string(), found);
        found
    }
}
