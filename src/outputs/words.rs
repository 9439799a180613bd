//! Words that fit: lines broken to a width, and labels made smaller or shorter.

use crate::layout::{LabelStyle, LaidLine, Stands, label};
use crate::names::{Feature, Length, PanelPoint};
use crate::typeface::{Emphasis, Typeface};

/// How words look.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Look {
    /// The type size in tenths of a point.
    pub tenths: i64,
    pub stress: Emphasis,
    /// 0 black, 1000 white.
    pub grey: u16,
}

impl Look {
    pub const BODY: Look = Look::of(105, Emphasis::Plain, 0);
    pub const LEAD: Look = Look::of(105, Emphasis::Bold, 0);
    pub const HEADING: Look = Look::of(150, Emphasis::Bold, 0);
    pub const SUBHEADING: Look = Look::of(115, Emphasis::Bold, 0);
    pub const SMALL: Look = Look::of(85, Emphasis::Plain, 0);
    pub const SMALL_BOLD: Look = Look::of(85, Emphasis::Bold, 0);
    pub const TINY: Look = Look::of(75, Emphasis::Plain, 150);

    pub const fn of(tenths: i64, stress: Emphasis, grey: u16) -> Look {
        Look {
            tenths,
            stress,
            grey,
        }
    }

    pub const fn at(self, tenths: i64) -> Look {
        Look { tenths, ..self }
    }

    pub fn size(self) -> Length {
        Length::pt(self.tenths) / 10
    }

    /// From baseline to baseline.
    pub fn leading(self) -> Length {
        self.size().scaled(132, 100)
    }
}

/// Sets words that belong to a sheet, not to the book.
pub(super) struct LabelSetter {
    typeface: Typeface,
}

impl LabelSetter {
    /// Figures stand under each other in tables: they are lining and all of one width.
    pub fn new(typeface: &Typeface) -> LabelSetter {
        let mut typeface = typeface.clone();
        let asked = [*b"lnum", *b"tnum"];
        let features = asked.map(|tag| Feature { tag, value: 1 });
        typeface.features.extend(features);
        LabelSetter { typeface }
    }

    /// Words in one line from a point of the page, `y` up.
    pub fn line(&self, words: &str, at: (Length, Length), look: Look) -> LaidLine {
        let style = LabelStyle {
            size: look.size(),
            stress: look.stress,
            grey: look.grey,
            stands: Stands::From,
        };
        label(
            &self.typeface,
            words,
            PanelPoint { x: at.0, y: -at.1 },
            style,
        )
    }

    pub fn wide(&self, words: &str, look: Look) -> Length {
        self.line(words, (Length::ZERO, Length::ZERO), look).width
    }

    /// The largest look from `look` down to `least` tenths of a point in which words fit a width.
    pub fn smaller(&self, words: &str, room: Length, look: Look, least: i64) -> Option<Look> {
        let looks = (0..).map(|step| look.at(look.tenths - step * 5));
        let mut looks = looks.take_while(|look| look.tenths >= least);
        looks.find(|look| self.wide(words, *look) <= room)
    }

    /// Words that fit a width: smaller, else as many of them as have room.
    pub fn fitted(&self, words: &str, room: Length, look: Look, least: i64) -> (String, Look) {
        if let Some(look) = self.smaller(words, room, look, least) {
            return (words.to_string(), look);
        }
        let look = look.at(least);
        let letters: Vec<char> = words.chars().collect();
        let begun = (1..letters.len()).rev().map(|some| {
            let begin: String = letters[..some].iter().collect();
            format!("{}…", begin.trim_end())
        });
        let mut begun = begun.skip_while(|begin| self.wide(begin, look) > room);
        (begun.next().unwrap_or_default(), look)
    }

    /// Lines of words, the first one narrower by `first`.
    pub fn lines(&self, words: &str, room: Length, first: Length, look: Look) -> Vec<String> {
        let mut lines: Vec<String> = Vec::new();
        let mut line = String::new();
        for word in bound(words) {
            for piece in self.pieces(&word, room, look) {
                let begins = line.is_empty();
                let longer = match (begins, piece.follows) {
                    (true, _) | (_, true) => format!("{line}{}", piece.letters),
                    _ => format!("{line} {}", piece.letters),
                };
                let indent = if lines.is_empty() {
                    first
                } else {
                    Length::ZERO
                };
                let fits = self.wide(&longer, look) <= room - indent;
                if fits || begins && indent == Length::ZERO {
                    line = longer;
                } else {
                    lines.push(std::mem::replace(&mut line, piece.letters));
                }
            }
        }
        lines.push(line);
        lines
    }

    /// A word in pieces of which each fits a line: most words are one.
    fn pieces(&self, word: &str, room: Length, look: Look) -> Vec<Piece> {
        let mut pieces = Vec::new();
        let mut rest = word;
        while !rest.is_empty() {
            let mut end = rest.len();
            while self.wide(&rest[..end], look) > room {
                // At least one letter stands on every line.
                match rest[..end].char_indices().next_back() {
                    Some((at, _)) if at > 0 => end = at,
                    _ => break,
                }
            }
            pieces.push(Piece {
                letters: rest[..end].to_string(),
                follows: rest.len() < word.len(),
            });
            rest = &rest[end..];
        }
        pieces
    }
}

/// The words between which a line may break: names keep their numbers, numbers their units.
fn bound(words: &str) -> Vec<String> {
    let mut bound: Vec<String> = Vec::new();
    let numbered = ["front", "back", "sheet", "Sheet", "join", "Join"];
    let units = ["mm", "g", "g/m²", "%", "ppi", "×", "|"];
    let mut before = "";
    for word in words.split_whitespace() {
        let bare = word.trim_end_matches(['.', ',', ';', ':', ')']);
        let begins = |word: &str| word.starts_with(|c: char| c.is_ascii_digit());
        let goes_on = begins(word) && (numbered.contains(&before) || ["×", "|"].contains(&before))
            || begins(before) && units.contains(&bare);
        match bound.last_mut() {
            Some(last) if goes_on => *last += &format!(" {word}"),
            _ => bound.push(word.to_string()),
        }
        before = word;
    }
    bound
}

struct Piece {
    letters: String,
    /// Whether it goes on from the piece before.
    follows: bool,
}

/// How many decimals millimetres need so that all of these are exact, one at least and two at most.
pub(super) fn places(lengths: impl IntoIterator<Item = Length>) -> usize {
    let tenth = Length::mm(1).units() / 10;
    let exact = |length: Length| length.units() % tenth == 0;
    if lengths.into_iter().all(exact) { 1 } else { 2 }
}

/// A length in millimetres with so many decimals, without its unit.
pub(super) fn measured(length: Length, places: usize) -> String {
    format!("{:.places$}", length.as_mm())
}

/// `A`, `B` … `Z`, `AA` …
pub(super) fn letter(at: usize) -> String {
    let sign = char::from(b'A' + (at % 26) as u8);
    match at / 26 {
        0 => sign.to_string(),
        more => format!("{}{sign}", letter(more - 1)),
    }
}
