//! The voices of a line's words: how each is set.

use std::ops::Range;
use std::sync::OnceLock;

use super::shaped::ShapedLine;
use crate::text::Style;
use crate::typeface::{Emphasis, FontStyle};

impl ShapedLine {
    /// How the line's main words are set at a byte.
    pub fn voice_at(&self, at: usize) -> Option<FontStyle> {
        let behind = self.words.partition_point(|word| word.text.start <= at);
        let word = &self.words[behind.checked_sub(1)?];
        word.voices
            .iter()
            .rfind(|(from, _)| *from <= at)
            .map(|(_, voice)| *voice)
    }

    /// The stretches of the text within words that have one voice, in order.
    pub(super) fn voiced(&self) -> Vec<(Range<usize>, FontStyle)> {
        let mut found = Vec::with_capacity(self.words.len());
        for word in &self.words {
            let ends = word.voices.iter().skip(1).map(|next| next.0);
            let ends = ends.chain([word.text.end]);
            let own = word.voices.iter().zip(ends);
            found.extend(own.map(|(&(from, voice), to)| (from..to, voice)));
        }
        found
    }

    /// Sets the words of a stretch in other voices than they have.
    pub(super) fn redraw(
        &mut self,
        stretch: &Range<usize>,
        change: impl Fn(FontStyle) -> FontStyle,
    ) {
        for word in &mut self.words {
            let (from, to) = (word.text.start, word.text.end);
            if to <= stretch.start || stretch.end <= from {
                continue;
            }
            let mut voices = Vec::with_capacity(word.voices.len() + 2);
            for (at, &(begins, voice)) in word.voices.iter().enumerate() {
                let ends = word.voices.get(at + 1).map_or(to, |next| next.0);
                let first = stretch.start.clamp(begins, ends);
                let last = stretch.end.clamp(begins, ends);
                let parts = [
                    (begins..first, voice),
                    (first..last, change(voice)),
                    (last..ends, voice),
                ];
                let parts = parts.into_iter().filter(|(part, _)| !part.is_empty());
                voices.extend(parts.map(|(part, voice)| (part.start, voice)));
            }
            voices.dedup_by_key(|(_, voice)| *voice);
            word.voices = voices;
        }
        self.whole = OnceLock::new();
    }
}

/// The stress that emphasis and strong emphasis give to words that stand in `base`: emphasis within
/// italic is upright again.
pub(super) fn stressed(base: Emphasis, style: Style) -> Emphasis {
    match (style.strong, style.emphasis, base) {
        (true, ..) => Emphasis::Bold,
        (false, true, Emphasis::Italic) => Emphasis::Plain,
        (false, true, _) => Emphasis::Italic,
        (false, false, base) => base,
    }
}
