//! What changes of whole words at a line's ends, remembered by word: prose asks it of every space.

use std::cell::RefCell;

use rustc_hash::FxHashMap;

use crate::names::Length;
use crate::setting::shaped::SetWord;
use crate::typeface::{FontStyle, ShapingContext};

/// What changes of a whole word at a line's ends.
#[derive(Clone, Copy)]
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
    words: RefCell<FxHashMap<Beside, FxHashMap<String, Edges>>>,
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
        let mut words = self.words.borrow_mut();
        let known = words.entry(beside).or_default();
        if let Some(known) = known.get(text) {
            return *known;
        }
        let found = find();
        known.insert(text.to_string(), found);
        found
    }
}
