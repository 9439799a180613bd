//! The words of a layout, one behind the other in the order of reading.

use unicode_segmentation::UnicodeSegmentation;

use super::record::{Panel, Record};
use crate::names::PanelName;
use crate::text::paragraph::is_of_unspaced_script;
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
    let mut text = String::new();
    // Where each line begins in the text, and its number.
    let mut begins = Vec::new();
    let mut end = None;
    for line in &panel.lines {
        if !line.turnover {
            *lines += 1;
        }
        // A word that is divided between two lines is one.
        let glued = line.bytes.is_some_and(|(from, _)| end == Some(from));
        if !glued {
            text.push(' ');
        }
        begins.push((text.len(), *lines));
        text.push_str(&line.text);
        end = line.bytes.map(|(_, to)| to);
    }
    for (at, piece, spaced) in pieces(&text) {
        let shown: String = piece.chars().filter(|c| !is_ignorable(*c)).collect();
        let line = begins.iter().rfind(|(begin, _)| *begin <= at);
        if let Some((_, line)) = line.filter(|_| !shown.is_empty()) {
            words.push(Word {
                text: shown,
                spaced,
                panel: panel.name,
                line: *line,
            });
        }
    }
}

/// A text cut at its spaces; where its script has none, into the smallest words. Each piece with where it begins and
/// whether it stands apart from the one before.
fn pieces(text: &str) -> Vec<(usize, &str, bool)> {
    let mut pieces = Vec::new();
    let mut begin = None;
    let end = (text.len(), ' ');
    for (at, c) in text.char_indices().chain([end]) {
        if !c.is_whitespace() {
            begin.get_or_insert(at);
            continue;
        }
        let Some(begin) = begin.take() else { continue };
        let chunk = &text[begin..at];
        if chunk.contains(is_of_unspaced_script) {
            let words = chunk.split_word_bound_indices();
            pieces.extend(words.map(|(at, word)| (begin + at, word, at == 0)));
        } else {
            pieces.push((begin, chunk, true));
        }
    }
    pieces
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
