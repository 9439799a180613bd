//! Random books: stanzas or paragraphs of lines that can be told from each other, however they are corrected.

use std::ops::Range;

use proptest::prelude::*;

/// What a line is known by, whatever becomes of its words.
pub type LineId = usize;

/// A line of verse, or a sentence of a paragraph.
#[derive(Clone, Debug)]
pub struct Line {
    pub id: LineId,
    pub words: Vec<&'static str>,
}

#[derive(Clone, Debug)]
pub struct Book {
    pub prose: bool,
    pub stanzas: Vec<Vec<Line>>,
    /// Behind which stanza each picture is called.
    pub pictures: Vec<usize>,
    pub per_side: usize,
    pub align: &'static str,
    pub vertical: &'static str,
    pub hyphenate: bool,
    pub next: LineId,
}

/// Few words, so that lines have many in common.
pub const WORDS: [&str; 24] = [
    "the",
    "and",
    "of",
    "snow",
    "bus",
    "road",
    "a",
    "was",
    "pass",
    "winter",
    "driver",
    "valley",
    "in",
    "over",
    "wheel",
    "mountain",
    "hut",
    "tunnel",
    "mail",
    "yellow",
    "chains",
    "morning",
    "I",
    "remembered",
];

pub const MARKS: [&str; 6] = ["first.", "second,", "third;", "fourth", "fifth!", "sixth —"];

fn line() -> impl Strategy<Value = Vec<&'static str>> {
    let words = prop::collection::vec(prop::sample::select(&WORDS[..]), 1..9);
    (words, prop::sample::select(&MARKS[..])).prop_map(|(mut words, mark)| {
        words.push(mark);
        words
    })
}

pub fn book() -> impl Strategy<Value = Book> {
    let stanzas = prop::collection::vec(prop::collection::vec(line(), 1..8), 2..9);
    let pictures = prop::collection::vec(any::<prop::sample::Index>(), 0..3);
    let align = prop::sample::select(
        &[
            "left",
            "left",
            "justified",
            "centre",
            "longest-line",
            "usual-longest",
        ][..],
    );
    let vertical = prop::sample::select(&["head", "head", "centre", "foot"][..]);
    (
        stanzas,
        pictures,
        any::<bool>(),
        5usize..8,
        align,
        vertical,
        any::<bool>(),
    )
        .prop_map(
            |(stanzas, pictures, prose, per_side, align, vertical, hyphenate)| {
                let mut next = 0;
                let stanzas: Vec<Vec<Line>> = stanzas
                    .into_iter()
                    .map(|lines| {
                        let lines = lines.into_iter().map(|words| {
                            next += 1;
                            Line { id: next, words }
                        });
                        lines.collect()
                    })
                    .collect();
                let mut pictures: Vec<usize> = pictures
                    .into_iter()
                    .map(|at| at.index(stanzas.len()))
                    .collect();
                pictures.sort_unstable();
                // Prose is no verse: longest lines are verse's own.
                let align = match (prose, align) {
                    (true, "longest-line" | "usual-longest") => "left",
                    (false, "justified") => "right",
                    (_, align) => align,
                };
                Book {
                    prose,
                    stanzas,
                    pictures,
                    per_side,
                    align,
                    vertical,
                    hyphenate,
                    next,
                }
            },
        )
}

impl Book {
    pub fn plan(&self) -> String {
        let set_as = if self.prose { "prose" } else { "verse" };
        format!(
            "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"book.txt\"\n\
             [paper]\npanel-width = \"74 mm\"\npanel-height = \"74 mm\"\npanels-per-side = {}\n\
             [text]\nset-as = \"{set_as}\"\nalign = \"{}\"\nvertical = \"{}\"\nhyphenate = {}\n\
             [rules]\ntext-in-a-row = 6\n",
            self.per_side, self.align, self.vertical, self.hyphenate
        )
    }

    /// The manuscript, and where each line lies in it.
    fn written(&self) -> (String, Vec<(LineId, Range<usize>)>) {
        let (mut text, mut spans) = (String::new(), Vec::new());
        for (at, stanza) in self.stanzas.iter().enumerate() {
            for line in stanza {
                let from = text.len();
                text.push_str(&line.words.join(" "));
                spans.push((line.id, from..text.len()));
                text.push('\n');
            }
            text.push('\n');
            for (number, _) in self
                .pictures
                .iter()
                .enumerate()
                .filter(|(_, after)| **after == at)
            {
                text.push_str(&format!(
                    "[picture: plate {}]\n\n",
                    ["one", "two", "three"][number]
                ));
            }
        }
        (text, spans)
    }

    pub fn manuscript(&self) -> String {
        self.written().0
    }

    pub fn spans(&self) -> Vec<(LineId, Range<usize>)> {
        self.written().1
    }

    /// A new line's name.
    pub fn name(&mut self) -> LineId {
        self.next += 1;
        self.next
    }
}
