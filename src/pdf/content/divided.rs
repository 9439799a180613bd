//! Words that are divided between lines: their halves are marked together, to be read as one word.

use std::ops::Range;

use crate::layout::{LaidGlyph, LaidLine};

/// Whether two lines are marked together, as the lines of one paragraph are.
pub(in crate::pdf) fn are_one(one: &LaidLine, next: &LaidLine) -> bool {
    one.kind.is_prose() && one.part == next.part && one.row == next.row
}

/// The words of lines that are marked together.
pub(in crate::pdf) fn joined(lines: &[LaidLine]) -> String {
    let mut text = String::new();
    let mut glued = true;
    for line in lines {
        if !glued {
            text.push(' ');
        }
        text.push_str(&line.text);
        glued = line.glued;
    }
    text
}

/// What words some glyphs that follow each other belong to.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::pdf) enum WordStretch<'w> {
    /// Whole words.
    Plain,
    /// A divided word, as it reads.
    Divided(&'w str),
}

/// Where divided words stand in one line.
pub(in crate::pdf) struct DividedWords {
    /// The line begins with the rest of a divided word: up to this byte of its text.
    head: usize,
    /// The line ends with the beginning of a divided word: from this byte on.
    tail: usize,
    goes_on: bool,
    /// The divided word that the line ends with, whole.
    word: String,
}

/// Where divided words stand in each line of a paragraph.
pub(in crate::pdf) fn stretches(lines: &[LaidLine]) -> Vec<DividedWords> {
    let divides = |line: &LaidLine| line.kind.is_prose() && line.added.is_some();
    let mut found: Vec<DividedWords> = Vec::with_capacity(lines.len());
    for (index, line) in lines.iter().enumerate() {
        let text = &line.text;
        let is_rest = index > 0 && divides(&lines[index - 1]);
        let goes_on = divides(line) && index + 1 < lines.len();
        let head = if is_rest {
            text.find(' ').unwrap_or(text.len())
        } else {
            0
        };
        let tail = if goes_on {
            text.rfind(' ').map_or(0, |at| at + 1)
        } else {
            text.len()
        };
        found.push(DividedWords {
            head,
            tail,
            goes_on,
            word: if goes_on {
                word_from(&lines[index..], tail)
            } else {
                String::new()
            },
        });
    }
    found
}

/// The word that the first line ends with from byte `tail` on, and the next lines go on with.
fn word_from(lines: &[LaidLine], tail: usize) -> String {
    let mut word = String::new();
    for (index, line) in lines.iter().enumerate() {
        let text = if index == 0 {
            &line.text[tail..]
        } else {
            &line.text
        };
        match text.find(' ').filter(|_| index > 0) {
            Some(end) => {
                word.push_str(&text[..end]);
                break;
            }
            None => word.push_str(text),
        }
        if line.added.is_none() {
            break;
        }
    }
    word
}

impl DividedWords {
    /// Whether the line's last word goes on in the next line.
    pub(in crate::pdf) fn goes_on(&self) -> bool {
        self.goes_on
    }

    /// Cuts glyphs of the line, in the order of its text, where divided words end and begin.
    pub(in crate::pdf) fn cut<'g>(
        &self,
        glyphs: impl Iterator<Item = &'g LaidGlyph>,
    ) -> Vec<(WordStretch<'_>, Range<usize>)> {
        let mut cut: Vec<(WordStretch<'_>, Range<usize>)> = Vec::new();
        let mut now = WordStretch::Plain;
        for (index, glyph) in glyphs.enumerate() {
            if !glyph.text.is_empty() || glyph.added.is_some() || index == 0 {
                now = self.at(glyph.text.start);
            }
            match cut.last_mut() {
                Some((stretch, glyphs)) if *stretch == now => glyphs.end = index + 1,
                _ => cut.push((now.clone(), index..index + 1)),
            }
        }
        cut
    }

    fn at(&self, byte: usize) -> WordStretch<'_> {
        if byte < self.head || byte >= self.tail && self.goes_on {
            WordStretch::Divided(&self.word)
        } else {
            WordStretch::Plain
        }
    }
}
