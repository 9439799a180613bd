//! The voices of a line's words: how each is set.

use std::ops::Range;
use std::sync::OnceLock;

use super::shaped::{LineWord, ShapedLine};
use crate::text::Style;
use crate::typeface::{Emphasis, FontStyle};

impl ShapedLine {
    /// How the line's main words are set at a byte.
    pub fn voice_at(&self, at: usize) -> Option<FontStyle> {
        let behind = self.voices.partition_point(|(from, _)| *from <= at);
        Some(self.voices.get(behind.checked_sub(1)?)?.1)
    }

    /// Where each voice begins in a word; the first entry begins where the word does.
    pub(super) fn voices_in(&self, word: &LineWord) -> impl Iterator<Item = (usize, FontStyle)> {
        let Range { start, end } = word.text;
        let behind = self.voices.partition_point(|(from, _)| *from <= start);
        let own = self.voices[behind.saturating_sub(1)..].iter();
        let own = own.take_while(move |(from, _)| *from < end);
        own.map(move |&(from, voice)| (from.max(start), voice))
    }

    /// The stretches of the text within words that have one voice, in order.
    pub(super) fn voiced(&self) -> Vec<(Range<usize>, FontStyle)> {
        let mut found = Vec::with_capacity(self.words.len());
        for word in &self.words {
            let ends = self.voices_in(word).skip(1).map(|next| next.0);
            let ends = ends.chain([word.text.end]);
            let own = self.voices_in(word).zip(ends);
            found.extend(own.map(|((from, voice), to)| (from..to, voice)));
        }
        found
    }

    /// Sets the words of a stretch in other voices than they have.
    pub(super) fn redraw(
        &mut self,
        stretch: &Range<usize>,
        change: impl Fn(FontStyle) -> FontStyle,
    ) {
        let mut voices = Vec::with_capacity(self.voices.len() + 2);
        for (own, voice) in self.voiced() {
            let first = stretch.start.clamp(own.start, own.end);
            let last = stretch.end.clamp(own.start, own.end);
            let parts = [
                (own.start..first, voice),
                (first..last, change(voice)),
                (last..own.end, voice),
            ];
            let parts = parts.into_iter().filter(|(part, _)| !part.is_empty());
            voices.extend(parts.map(|(part, voice)| (part.start, voice)));
            voices.dedup_by_key(|(_, voice)| *voice);
        }
        self.voices = voices;
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
