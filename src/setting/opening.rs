//! How a part opens: its first words drawn otherwise than the rest.

use std::ops::Range;

use super::opportunities::shortens_name;
use super::part::Setter;
use super::shaped::ShapedLine;
use super::sources::words_of;
use super::{Note, Row, RowNote};
use crate::plan::{Opening, OpeningWords};
use crate::text::LineKind;
use crate::typeface::{FontStyle, Letters};

/// How many words a phrase has at most that opens a part.
const WORDS: usize = 5;

impl Setter<'_> {
    /// Draws the first phrase of the line that opens the part as the plan asks, its large initial aside. Small capitals
    /// that the face does not have are never faked.
    pub(super) fn draw_opening(&self, line: &mut ShapedLine, voice: FontStyle) {
        let Some(drawn) = self.opening_voice(voice) else {
            return;
        };
        let phrase = self.opening_phrase(line);
        if self
            .shaper
            .lacks(&line.text[phrase.clone()], drawn)
            .is_none()
        {
            line.redraw(&phrase, |own| FontStyle {
                letters: drawn.letters,
                tracking: drawn.tracking,
                ..own
            });
        }
    }

    /// How the words of the first phrase are set, where the plan asks for anything.
    fn opening_voice(&self, voice: FontStyle) -> Option<FontStyle> {
        let Opening::Phrase { then, .. } = self.style.opening else {
            return None;
        };
        // Capitals stand a little apart (common practice).
        let (letters, tracking) = match then {
            OpeningWords::AsWritten => return None,
            OpeningWords::SmallCaps => (Letters::SmallCapitals, voice.size / 32),
            OpeningWords::Capitals => (Letters::Capitals, voice.size / 20),
        };
        Some(FontStyle {
            letters,
            tracking,
            ..voice
        })
    }

    /// What is told of a part's first phrase: small capitals that are asked for and that its face does not have.
    pub(super) fn opening_notes(&self, rows: &[Row], columns: usize) -> Vec<RowNote> {
        let is_text = |row: &Row| matches!(row.kind, LineKind::Verse | LineKind::Prose);
        let Some(first) = rows.iter().position(is_text) else {
            return Vec::new();
        };
        let line = &rows[first].shaped;
        let phrase = self.opening_phrase(line);
        let drawn = self.opening_voice(rows[first].voice);
        let lacks = drawn.and_then(|drawn| self.shaper.lacks(&line.text[phrase.clone()], drawn));
        let note = lacks.map(|face| Note {
            word: "no-small-caps",
            what: format!(
                "`opening` asks for small capitals, which {} does not have: the words stay as they are written. \
                 A typeface with the OpenType feature smcp has them, such as Alegreya",
                face.name()
            ),
            place: self.place_in(line, phrase),
        });
        note.into_iter()
            .flat_map(|note| RowNote::everywhere(first, columns, note))
            .collect()
    }

    /// The first phrase of a line, behind its large initial.
    fn opening_phrase(&self, line: &ShapedLine) -> Range<usize> {
        let from = line.drop.as_ref().map_or(0, |drop| drop.text.end);
        from..first_phrase(&line.text, self.language).max(from)
    }
}

/// The byte at which the first phrase of a text ends: behind its first comma, semicolon, colon, full stop, question or
/// exclamation mark, before its first dash, or behind five words. The stop of an initial, or of an abbreviation such as `Dr.`,
/// ends none.
fn first_phrase(text: &str, language: &str) -> usize {
    let words: Vec<Range<usize>> = words_of(text).take(WORDS).collect();
    let most = words.last().map_or(0, |last| last.end);
    let mut begun = false;
    for (at, c) in text[..most].char_indices() {
        let behind = at + c.len_utf8();
        let next = text[behind..].chars().next();
        let within = next.is_some_and(char::is_alphanumeric) && c.is_ascii();
        begun |= c.is_alphanumeric();
        if begun && is_dash(c) {
            return at;
        }
        // A hyphen between spaces is a dash.
        let alone = text[..at].ends_with(' ') && next.is_none_or(|next| next == ' ');
        if begun && c == '-' && alone {
            return at;
        }
        let word = text[..behind].rsplit(' ').next().unwrap_or_default();
        let shortens = c == '.' && next == Some(' ') && shortens_name(word, language);
        if begun && pauses(c) && !within && !shortens {
            let closed = text[behind..].trim_start_matches(closes);
            return text.len() - closed.len();
        }
    }
    most
}

fn is_dash(c: char) -> bool {
    matches!(c, '–' | '—' | '―' | '⸺')
}

/// Marks behind which a phrase ends, in the scripts that have small letters and in those beside them.
fn pauses(c: char) -> bool {
    ",;:.!?…·、，。；：！？،؛؟".contains(c)
}

fn closes(c: char) -> bool {
    "”’»›)]".contains(c)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_phrase_ends_at_a_pause_or_behind_five_words() {
        for (text, phrase) in [
            ("Ten to seven, and then", "Ten to seven,"),
            ("“No,” he said", "“No,”"),
            (
                "No one but the driver knew the road",
                "No one but the driver",
            ),
            ("Snow; snow", "Snow;"),
            ("Snow — and then", "Snow "),
            ("Snow—and then", "Snow"),
            ("Snow - and then", "Snow "),
            ("The 3,000 of us went on", "The 3,000 of us went"),
            ("The half-way house, they say", "The half-way house,"),
            ("— Who is there? he said", "— Who is there?"),
            ("“Dr. Ambrose is dead,” they", "“Dr. Ambrose is dead,”"),
            ("I. M. Ambrose, driver", "I. M. Ambrose,"),
            ("The bus. The snow", "The bus."),
            ("Snow", "Snow"),
            ("", ""),
        ] {
            assert_eq!(&text[..first_phrase(text, "en")], phrase);
        }
    }
}
