//! What stands around a word on its line, as far as its face looks.

use std::ops::Range;

use super::order::Level;
use super::posture::Posture;
use super::script::Script;

/// The surroundings of a word on its line: many faces kern with the space, and some look at the words
/// behind it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct ShapingContext {
    /// A space stands before the word; it is shaped with it.
    pub space_before: bool,
    /// The space before runs another way than the word, so that it is shaped by itself.
    pub space_apart: bool,
    /// A space that runs the same way stands behind the word.
    pub space_behind: bool,
    /// The bytes of the line's text, from and to, that are shaped together with the word, in its voice and script and running
    /// the same way, the spaces at their ends included: other words only where their face looks past the space between.
    pub run: (usize, usize),
    /// The word's embedding level.
    pub level: Level,
    /// The word's script.
    pub script: Script,
    /// How it stands in its line.
    pub posture: Posture,
}

/// A word with as much of its line as is shaped with it.
pub(super) struct WordSurroundings {
    /// The text, tabs made spaces. It begins with at most one space and ends with at most one.
    pub text: String,
    /// The word's bytes in it.
    pub word: Range<usize>,
}

impl WordSurroundings {
    /// Cuts a word with its surroundings out of a line.
    pub(super) fn new(line: &str, word: Range<usize>, context: ShapingContext) -> WordSurroundings {
        let mut text = String::with_capacity(word.len() + 2);
        if context.space_before && !context.space_apart {
            let from = context.run.0.min(word.start);
            text.push_str(before(&line[from..word.start]));
        }
        let start = text.len();
        text.push_str(&line[word.clone()]);
        let end = text.len();
        if context.space_behind {
            let to = context.run.1.clamp(word.end, line.len());
            text.push_str(behind(&line[word.end..to]));
        }
        if text.contains('\t') {
            text = text.replace('\t', " ");
        }
        WordSurroundings {
            text,
            word: start..end,
        }
    }
}

/// What the letters of a word, or of a part of one, join: the characters right before it and right behind it, as many as a shaper
/// looks at.
pub(super) fn joined<'t>(line: &'t str, word: &Range<usize>) -> (&'t str, &'t str) {
    const FARTHEST: usize = 5;
    let before = &line[..word.start];
    let end = before
        .char_indices()
        .rev()
        .take_while(|(_, c)| !is_space(*c));
    let from = end.take(FARTHEST).last().map_or(before.len(), |(at, _)| at);
    let behind = &line[word.end..];
    let start = behind.char_indices().take_while(|(_, c)| !is_space(*c));
    let last = start.take(FARTHEST).last();
    let to = last.map_or(0, |(at, c)| at + c.len_utf8());
    (&before[from..], &behind[..to])
}

fn is_space(c: char) -> bool {
    c == ' ' || c == '\t'
}

/// The end of what stands before a word: a space at least.
fn before(text: &str) -> &str {
    let words = text.trim_end_matches(is_space);
    let first = words.len() - words.trim_start_matches(is_space).len();
    if first == words.len() {
        return " ";
    }
    &text[first.saturating_sub(1)..]
}

/// The beginning of what stands behind a word: a space at least.
fn behind(text: &str) -> &str {
    let spaces = text.len() - text.trim_start_matches(is_space).len();
    let words = &text[spaces..];
    let last = words.trim_end_matches(is_space).len();
    if last == 0 {
        return " ";
    }
    &text[..(spaces + last + 1).min(text.len())]
}

/// The words at the end of `before` that `alike` takes, from the last one on, with the spaces around them;
/// at least the space that it ends with.
pub(super) fn nearest_before(before: &str, alike: impl Fn(&str) -> bool) -> &str {
    let mut from = before.len().saturating_sub(1);
    let mut words = before.trim_end();
    while !words.is_empty() {
        let first = words.rfind(' ').map_or(0, |space| space + 1);
        if !alike(&words[first..]) {
            break;
        }
        from = first.saturating_sub(1);
        words = words[..first].trim_end();
    }
    &before[from..]
}

/// The words at the beginning of `behind` that `alike` takes, up to the last of them, with the spaces around them; at
/// least the space that it begins with.
pub(super) fn nearest_behind(behind: &str, alike: impl Fn(&str) -> bool) -> &str {
    let mut to = behind.len().min(1);
    loop {
        let start = behind.len() - behind[to..].trim_start().len();
        let words = &behind[start..];
        let last = words.find(' ').unwrap_or(words.len());
        if last == 0 || !alike(&words[..last]) {
            break;
        }
        to = start + last;
        if to == behind.len() {
            break;
        }
    }
    if to > 1 && to < behind.len() {
        to += 1;
    }
    &behind[..to]
}

#[cfg(test)]
mod tests {
    use super::*;

    const LINE: &str = "  un siglo  XVI. y\tmás";

    fn around(run: (usize, usize)) -> (String, String, String) {
        let start = LINE.find("XVI.").unwrap();
        let context = ShapingContext {
            space_before: true,
            space_behind: true,
            run,
            ..ShapingContext::default()
        };
        let WordSurroundings { text, word } =
            WordSurroundings::new(LINE, start..start + 4, context);
        let parts = [&text[..word.start], &text[word.clone()], &text[word.end..]];
        let [before, word, behind] = parts.map(str::to_string);
        (before, word, behind)
    }

    #[test]
    fn a_word_takes_along_what_is_shaped_with_it() {
        let parts = |before: &str, behind: &str| {
            (before.to_string(), "XVI.".to_string(), behind.to_string())
        };
        let start = LINE.find("XVI.").unwrap();
        assert_eq!(around((start - 1, start + 5)), parts(" ", " "));
        assert_eq!(around((1, LINE.len())), parts(" un siglo  ", " y más"));
    }

    #[test]
    fn a_word_by_itself_takes_nothing() {
        let WordSurroundings { text, word } =
            WordSurroundings::new("XVI.", 0..4, ShapingContext::default());
        assert_eq!((text.as_str(), word), ("XVI.", 0..4));
    }

    #[test]
    fn a_part_of_a_word_sees_what_it_joins() {
        assert_eq!(joined("ab cdefghij kl", &(9..10)), ("defgh", "j"));
        assert_eq!(joined("ab cdefghij kl", &(0..2)), ("", ""));
        assert_eq!(joined("abcdefghij", &(2..4)), ("ab", "efghi"));
    }

    #[test]
    fn words_unlike_it_end_what_it_looks_at() {
        let latin = |word: &str| word.is_ascii();
        assert_eq!(nearest_before(" a да b  c ", latin), " b  c ");
        assert_eq!(nearest_before(" a b да ", latin), " ");
        assert_eq!(nearest_before("a b ", latin), "a b ");
        assert_eq!(nearest_before("", latin), "");
        assert_eq!(nearest_behind(" a  b да c ", latin), " a  b ");
        assert_eq!(nearest_behind(" да b", latin), " ");
        assert_eq!(nearest_behind(" a b", latin), " a b");
        assert_eq!(nearest_behind(" a b ", latin), " a b ");
        assert_eq!(nearest_behind(" ", latin), " ");
        assert_eq!(nearest_behind("", latin), "");
    }
}
