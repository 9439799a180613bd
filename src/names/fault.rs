//! What can be wrong with a book, and where.
//!
//! Every station reports [`Fault`]s and gathers as many as it can before it gives up. A fault keeps
//! what was read, what is allowed and what was probably meant; how it is drawn is for the commands.

use std::error::Error;
use std::fmt;
use std::ops::{Deref, DerefMut, Range};
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

/// Its file, line and column: the whole text would hide what else is told.
impl fmt::Debug for Location {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{self}")
    }
}

/// File, line and column, as other programs know to read them.
impl fmt::Display for Location {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}:{}", self.source.name, self.line(), self.column())
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

/// What an author can have the program do about a fault. How that is asked for, who tells the fault must know.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Deed {
    /// Release these panels, which are passed for press; where none is named, those that are concerned.
    Release(Vec<String>),
    /// Choose afresh what stands on each panel.
    ChooseAfresh,
    /// Release all panels that are passed, and choose afresh: the help names the two with an `and` between.
    ReleaseAndChooseAfresh,
    /// Take a larger sheet, such as the one of this name.
    TakeSheet(&'static str),
}

/// One thing that is wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
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
    /// What the program can do about it, which the help names last.
    pub deed: Option<Deed>,
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
            deed: None,
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

    /// Adds what the program can do about it.
    pub fn deed(mut self, deed: Deed) -> Fault {
        self.deed = Some(deed);
        self
    }

    /// Adds how to mend it, which ends with releasing a panel that is passed for press.
    pub(crate) fn or_release(self, help: impl Into<String>, panel: impl fmt::Display) -> Fault {
        let panels = vec![panel.to_string()];
        self.help(help).deed(Deed::Release(panels))
    }
}

/// What is wrong, with its place before it; below, one on each line, what is allowed, probably meant, also
/// concerned, and how to mend it.
impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(place) = &self.place {
            write!(f, "{place}: ")?;
        }
        f.write_str(&self.what)?;
        let more = [
            ("allowed", &self.allowed),
            ("probably", &self.meant),
            ("help", &self.help),
        ];
        for (word, told) in more {
            if let Some(told) = told {
                write!(f, "\n  {word}: {told}")?;
            }
        }
        for (place, words) in &self.also {
            write!(f, "\n  {place}: {words}")?;
        }
        Ok(())
    }
}

impl Error for Fault {}

/// Everything found wrong. Stations gather into one and give it back as an error where there is something in it:
/// an error has at least one fault.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Faults(Vec<Fault>);

impl Faults {
    /// None yet.
    pub(crate) const fn new() -> Faults {
        Faults(Vec::new())
    }

    /// Adds one.
    pub fn push(&mut self, fault: Fault) {
        self.0.push(fault);
    }

    /// Keeps the first `most`.
    pub(crate) fn truncate(&mut self, most: usize) {
        self.0.truncate(most);
    }

    /// Leaves out those that say the same as the one before them.
    pub(crate) fn dedup(&mut self) {
        self.0.dedup();
    }
}

impl Deref for Faults {
    type Target = [Fault];

    fn deref(&self) -> &[Fault] {
        &self.0
    }
}

impl DerefMut for Faults {
    fn deref_mut(&mut self) -> &mut [Fault] {
        &mut self.0
    }
}

impl From<Fault> for Faults {
    fn from(fault: Fault) -> Faults {
        Faults(vec![fault])
    }
}

impl Extend<Fault> for Faults {
    fn extend<I: IntoIterator<Item = Fault>>(&mut self, more: I) {
        self.0.extend(more);
    }
}

impl FromIterator<Fault> for Faults {
    fn from_iter<I: IntoIterator<Item = Fault>>(found: I) -> Faults {
        Faults(found.into_iter().collect())
    }
}

impl IntoIterator for Faults {
    type Item = Fault;
    type IntoIter = std::vec::IntoIter<Fault>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
}

impl<'a> IntoIterator for &'a Faults {
    type Item = &'a Fault;
    type IntoIter = std::slice::Iter<'a, Fault>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}

/// Each as it tells itself, one below the other.
impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (number, fault) in self.0.iter().enumerate() {
            if number > 0 {
                f.write_str("\n")?;
            }
            write!(f, "{fault}")?;
        }
        Ok(())
    }
}

impl Error for Faults {}

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
    fn faults_are_told_whole_and_pass_for_errors() {
        let source = Source::new("concertina.toml", "titel = \"A\"\nlanguage = \"en\"\n");
        let mut faults = Faults::from(
            Fault::new("unknown-key", "there is no key `titel`")
                .at(Location::new(&source, 0..5))
                .allowed("title, language")
                .meant(Some("title"))
                .also(Location::new(&source, 12..20), "beside this one"),
        );
        faults.extend([Fault::new("missing", "`poem.txt` is missing").help("put it there")]);
        let told = "concertina.toml:1:1: there is no key `titel`\n  allowed: title, language\n  probably: title\n  \
                    concertina.toml:2:1: beside this one\n`poem.txt` is missing\n  help: put it there";
        let passed_on = || -> Result<(), Box<dyn Error + Send + Sync>> { Err(faults)? };
        assert_eq!(passed_on().unwrap_err().to_string(), told);
    }

    #[test]
    fn near_words_are_found_and_far_ones_are_not() {
        let known = ["title", "language", "manuscript"];
        assert_eq!(nearest("titel", known), Some("title"));
        assert_eq!(nearest("Langauge", known), Some("language"));
        assert_eq!(nearest("bleed", known), None);
    }
}
