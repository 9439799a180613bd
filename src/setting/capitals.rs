//! Words wholly of capitals within a text, such as POST or ANNO DOMINI: spaced a little, or as small capitals.

use std::ops::Range;

use super::part::Setter;
use super::shaped::ShapedLine;
use super::sources::words_of;
use super::{Note, Row, RowNote};
use crate::plan::CapitalsStyle;
use crate::text::LineKind;
use crate::typeface::{FontStyle, Letters, tall_runs};

/// How many letters a word has at least that is set so.
const LETTERS: usize = 3;
/// What stands between two capitals, as a part of the size: 5 % (common practice).
const BETWEEN: i64 = 20;
/// The same of small capitals.
const BETWEEN_SMALL: i64 = 32;

impl Setter<'_> {
    /// Draws the words of a line that are wholly of capitals as the plan asks; not those of headings, nor the word that a
    /// large initial begins, nor what is drawn otherwise already. Small capitals that the face does not have are never
    /// faked.
    pub(super) fn draw_capitals(
        &self,
        line: &mut ShapedLine,
        (kind, voice): (&LineKind, FontStyle),
    ) {
        for word in self.capital_words(line, kind) {
            let drawn = self.capitals_voice(voice);
            if self.shaper.lacks(&line.text[word.clone()], drawn).is_none() {
                line.redraw(&word, |own| FontStyle {
                    letters: drawn.letters,
                    between: drawn.between,
                    ..own
                });
            }
        }
    }

    fn capitals_voice(&self, voice: FontStyle) -> FontStyle {
        match self.style.capitals {
            CapitalsStyle::AsWritten => voice,
            CapitalsStyle::Letterspaced => FontStyle {
                between: voice.size / BETWEEN,
                ..voice
            },
            CapitalsStyle::Small => FontStyle {
                letters: Letters::SmallFromCapitals,
                between: voice.size / BETWEEN_SMALL,
                ..voice
            },
        }
    }

    /// The words of a line that the plan asks to be set otherwise for their capitals.
    fn capital_words(&self, line: &ShapedLine, kind: &LineKind) -> Vec<Range<usize>> {
        if self.style.capitals == CapitalsStyle::AsWritten || kind.is_titling() {
            return Vec::new();
        }
        let initial = line.drop.as_ref().map_or(0, |drop| drop.text.end);
        let words = in_capitals(&line.text).into_iter();
        // Of a word in several scripts, only the parts with capitals.
        let parts = words.flat_map(|word| line.one_way(word).collect::<Vec<_>>());
        let parts = parts.filter(|part| line.text[part.clone()].contains(char::is_uppercase));
        let plain = |part: &Range<usize>| {
            let voice = line.voice_at(part.start);
            voice.is_some_and(|voice| voice.letters == Letters::AsWritten)
        };
        parts
            .filter(|part| part.start >= initial)
            .filter(plain)
            .collect()
    }

    /// What is told of words in capitals: small capitals that are asked for and that their face does not have.
    pub(super) fn capitals_notes(&self, rows: &[Row], columns: usize) -> Vec<RowNote> {
        let lacking = rows.iter().enumerate().find_map(|(index, row)| {
            let drawn = self.capitals_voice(row.voice);
            let mut words = self.capital_words(&row.shaped, &row.kind).into_iter();
            words.find_map(|word| {
                let face = self.shaper.lacks(&row.shaped.text[word.clone()], drawn)?;
                Some((index, word, face))
            })
        });
        let Some((index, word, face)) = lacking else {
            return Vec::new();
        };
        let note = Note {
            word: "no-small-caps",
            what: format!(
                "`capitals` asks for small capitals, which {} does not have: such words stay as they are written. \
                 A typeface with the OpenType feature c2sc has them, such as Alegreya",
                face.name()
            ),
            place: self.place_in(&rows[index].shaped, word),
        };
        RowNote::everywhere(index, columns, note).collect()
    }
}

/// The words of a text that are wholly of capitals and have three letters or more; shorter ones that stand beside them, such as
/// in NO THROUGH ROAD; and words of one letter between such words.
fn in_capitals(text: &str) -> Vec<Range<usize>> {
    let words: Vec<Range<usize>> = words_of(text).collect();
    let own = |word: &Range<usize>| &text[word.clone()];
    let is_tall = |word: &Range<usize>| is_long(own(word)) || capitals(own(word)) > 0;
    let alike = words.chunk_by(|one, next| is_tall(one) && is_tall(next));
    let tall = alike.filter(|words| words.iter().any(|word| is_long(own(word))));
    let several = |word: &Range<usize>| is_long(own(word)) || capitals(own(word)) > 1;
    let inner = tall.filter_map(|words| {
        let first = words.iter().position(several)?;
        let last = words.iter().rposition(several)?;
        Some(&words[first..=last])
    });
    inner.flatten().cloned().collect()
}

/// Whether a word has so many capitals in a row, and no small letter beside them.
fn is_long(word: &str) -> bool {
    let mut runs = tall_runs(word).into_iter();
    runs.any(|run| word[run].chars().filter(|c| c.is_uppercase()).count() >= LETTERS)
}

/// How many letters a word has that is wholly of capitals; nought for others.
fn capitals(word: &str) -> usize {
    let letters = || word.chars().filter(|c| c.is_alphabetic());
    match letters().all(char::is_uppercase) {
        true => letters().count(),
        false => 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_of_three_capitals_and_what_stands_beside_them() {
        let found = |text: &'static str| -> Vec<&str> {
            in_capitals(text)
                .into_iter()
                .map(|word| &text[word])
                .collect()
        };
        let list = found("I saw POST, and (NATO)’s U.S.A.");
        assert_eq!(list, ["POST,", "(NATO)’s", "U.S.A."]);
        assert_eq!(found("NO THROUGH ROAD A"), ["NO", "THROUGH", "ROAD"]);
        assert_eq!(found("I AM HERE. A SEA I"), ["AM", "HERE.", "A", "SEA"]);
        assert_eq!(
            found("McDONALD’s iPHONES in XIV, I AM"),
            ["XIV,", "I", "AM"]
        );
        assert_eq!(found("I AM Mr X"), [""; 0]);
    }
}
