//! What can be wrong with a book, and where.
//!
//! Every station reports [`Fault`]s and gathers as many as it can before it gives up. A fault keeps
//! what was read, what is allowed and what was probably meant; how it is drawn is for the commands.

use std::fmt;
use std::ops::Range;
use std::sync::Arc;

/// A text file that faults can point into.
#[derive(Debug, PartialEq, Eq)]
pub struct Source {
    /// The name an author knows the file by, relative to the book where it lies inside.
    pub name: String,
    /// The whole text, byte for byte.
    pub text: String,
}

impl Source {
    /// A shared source.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Arc<Source> {
        Arc::new(Source {
            name: name.into(),
            text: text.into(),
        })
    }
}

/// A stretch of a source: bytes `[start, end)`.
#[derive(Clone, PartialEq, Eq)]
pub struct Location {
    /// The file.
    pub source: Arc<Source>,
    /// Byte range within the file's text; it lies on character borders.
    pub span: Range<usize>,
}

/// In one line, a place says nothing of where it is: what is said alike prints alike, wherever it is said, and a
/// fingerprint of it holds after lines have moved. Over several lines it says where.
impl fmt::Debug for Location {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match f.alternate() {
            true => write!(f, "{}:{}:{}", self.source.name, self.line(), self.column()),
            false => f.write_str("…"),
        }
    }
}

impl Location {
    /// A place in `source`. The span is drawn in to the text's end and to character borders.
    pub fn new(source: &Arc<Source>, span: Range<usize>) -> Location {
        let text = &source.text;
        let border = |mut at: usize| {
            at = at.min(text.len());
            while !text.is_char_boundary(at) {
                at -= 1;
            }
            at
        };
        let start = border(span.start);
        let end = border(span.end).max(start);
        Location {
            source: Arc::clone(source),
            span: start..end,
        }
    }

    /// One-based line number.
    pub fn line(&self) -> usize {
        1 + self.source.text[..self.span.start].matches('\n').count()
    }

    /// One-based column, counted in characters; a byte-order mark is not counted.
    pub fn column(&self) -> usize {
        let before = &self.source.text[..self.span.start];
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        let line = before[line_start..].trim_start_matches('\u{feff}');
        1 + line.chars().count()
    }
}

/// One thing that is wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// A short fixed word for programs: `unknown-key`, `no-face`.
    pub word: &'static str,
    /// The sentence for people.
    pub what: String,
    /// Where, when it is in a text file.
    pub place: Option<Location>,
    /// What was read there.
    pub read: Option<String>,
    /// What is allowed there.
    pub allowed: Option<String>,
    /// What was probably meant.
    pub meant: Option<String>,
    /// Other places that belong to it, each with a few words.
    pub also: Vec<(Location, String)>,
    /// How to mend it.
    pub help: Option<String>,
}

impl Fault {
    /// A fault of kind `word`, told in a sentence.
    pub fn new(word: &'static str, what: impl Into<String>) -> Fault {
        Fault {
            word,
            what: what.into(),
            place: None,
            read: None,
            allowed: None,
            meant: None,
            also: Vec::new(),
            help: None,
        }
    }

    /// Adds where it is.
    pub fn at(mut self, place: Location) -> Fault {
        self.place = Some(place);
        self
    }

    /// Adds what was read.
    pub fn read(mut self, read: impl Into<String>) -> Fault {
        self.read = Some(read.into());
        self
    }

    /// Adds what is allowed.
    pub fn allowed(mut self, allowed: impl Into<String>) -> Fault {
        self.allowed = Some(allowed.into());
        self
    }

    /// Adds the likely meaning, if there is one.
    pub fn meant(mut self, meant: Option<impl Into<String>>) -> Fault {
        self.meant = meant.map(Into::into);
        self
    }

    /// Adds another place with a few words.
    pub fn also(mut self, place: Location, words: impl Into<String>) -> Fault {
        self.also.push((place, words.into()));
        self
    }

    /// Adds how to mend it.
    pub fn help(mut self, help: impl Into<String>) -> Fault {
        self.help = Some(help.into());
        self
    }
}

/// Everything found wrong; never empty where it is an error.
pub type Faults = Vec<Fault>;

/// The word of `known` most like `read`, if any is near enough to be meant (Damerau–Levenshtein
/// distance at most a third of the longer word, and at least one letter in common).
pub fn nearest<'a>(read: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let read = read.to_lowercase();
    known
        .into_iter()
        .map(|word| {
            (
                strsim::damerau_levenshtein(&read, &word.to_lowercase()),
                word,
            )
        })
        .filter(|(distance, word)| {
            let longer = read.chars().count().max(word.chars().count());
            *distance <= (longer / 3).max(1) && *distance < longer
        })
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, word)| word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_and_columns_are_one_based_and_count_characters() {
        let source = Source::new("a.txt", "\u{feff}één\nzwei drei");
        let place = Location::new(&source, 14..18);
        assert_eq!(&source.text[place.span.clone()], "drei");
        assert_eq!((place.line(), place.column()), (2, 6));
        assert_eq!(Location::new(&source, 3..5).column(), 1);
    }

    #[test]
    fn near_words_are_found_and_far_ones_are_not() {
        let known = ["title", "language", "manuscript"];
        assert_eq!(nearest("titel", known), Some("title"));
        assert_eq!(nearest("Langauge", known), Some("language"));
        assert_eq!(nearest("bleed", known), None);
    }
}
