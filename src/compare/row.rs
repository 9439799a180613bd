//! The words of a layout, one behind the other in the order of reading.

use unicode_script::{Script, UnicodeScript};
use unicode_segmentation::UnicodeSegmentation;

use super::record::{Panel, Record};
use crate::plan::PanelName;
use crate::typeface::is_ignorable;

/// A word in its place.
pub(super) struct Word {
    pub text: String,
    /// Whether a space stands before it.
    pub spaced: bool,
    pub panel: PanelName,
    /// Its line, counted through the book; a line that turns over is one.
    pub line: usize,
}

/// Whether two panels have the same words, spaces and line ends aside.
pub(super) fn same(old: &Panel, new: &Panel) -> bool {
    let texts = |panel: &Panel| {
        let mut words = Vec::new();
        add_panel(panel, &mut 0, &mut words);
        words.into_iter().map(|word| word.text).collect::<Vec<_>>()
    };
    texts(old) == texts(new)
}

/// All words of a book, in the order of reading.
pub(super) fn row(record: &Record) -> Vec<Word> {
    let (mut words, mut lines) = (Vec::new(), 0);
    for panel in &record.panels {
        add_panel(panel, &mut lines, &mut words);
    }
    words
}

fn add_panel(panel: &Panel, lines: &mut usize, words: &mut Vec<Word>) {
    let first = words.len();
    let mut end = None;
    for line in &panel.lines {
        if !line.turnover {
            *lines += 1;
        }
        // A word that is divided between two lines is one.
        let mut glued = line.bytes.is_some_and(|(from, _)| end == Some(from));
        for (text, spaced) in pieces(&line.text) {
            match words[first..].last_mut() {
                Some(last) if glued && !solid(text) => last.text.push_str(text),
                _ => words.push(Word {
                    text: text.to_string(),
                    spaced: spaced && !glued,
                    panel: panel.name,
                    line: *lines,
                }),
            }
            glued = false;
        }
        end = line.bytes.map(|(_, to)| to);
    }
    for word in &mut words[first..] {
        word.text.retain(|c| !is_ignorable(c));
    }
}

/// A text cut at its spaces; where its script has none, into the smallest words. Each piece with whether it stands
/// apart from the one before.
fn pieces(text: &str) -> Vec<(&str, bool)> {
    let apart = text.split_whitespace().flat_map(|chunk| {
        let parts = match solid(chunk) {
            true => chunk.split_word_bounds().collect(),
            false => vec![chunk],
        };
        let parts = parts.into_iter().enumerate();
        parts.map(|(index, part)| (part, index == 0))
    });
    apart.collect()
}

/// Whether a text is of a script that puts no spaces between words.
fn solid(text: &str) -> bool {
    use Script::{Bopomofo, Han, Hiragana, Katakana, Khmer, Lao, Myanmar, Thai};
    let solid = [Bopomofo, Han, Hiragana, Katakana, Khmer, Lao, Myanmar, Thai];
    text.chars().any(|c| solid.contains(&c.script()))
}

/// Words as a text.
pub(super) fn joined(words: &[Word], places: &[usize]) -> String {
    let mut text = String::new();
    for word in places.iter().map(|at| &words[*at]) {
        if word.spaced && !text.is_empty() {
            text.push(' ');
        }
        text.push_str(&word.text);
    }
    text
}
