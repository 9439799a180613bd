//! What hangs outside the edges of prose.
//!
//! Opening quotation marks hang out to the left, closing ones, full stops and commas to the right, each by the
//! whole of its advance, and hyphens by three quarters of theirs (common practice: a hyphen is long, and would
//! leave the line short). Marks that stand together hang together. Of a letter with no mark beside it hangs what its
//! face says (optical bounds, the features `lfbd` and `rtbd` of OpenType), or else, of letters with little ink at their
//! sides, a few hundredths of its advance (common practice; the figures are chosen by eye). Nothing hangs farther than
//! the setting leaves room for.

use std::ops::Range;

use unicode_segmentation::UnicodeSegmentation;

use crate::names::{Direction, Length};
use crate::plan::{Align, Hang, TextStyle};
use crate::setting::shaped::ShapedLine;
use crate::setting::verse::{hangs_right, is_opening_quote};
use crate::typeface::{Edge, Shaper};

/// No letter hangs by more than this part of its advance.
pub const MOST_OF_LETTER: i64 = 8;

/// Letters that hang a little, with their thousandths of an advance; those of one shape in three scripts.
const LETTERS: [(&str, i64); 5] = [
    ("AАΑΛЛ", 40),
    ("TТΤ", 70),
    ("VУ", 60),
    ("W", 40),
    ("YΥ", 70),
];

/// Measures what hangs.
pub(super) struct Hanging<'a> {
    pub shaper: &'a Shaper<'a>,
    pub line: &'a ShapedLine,
    hang: Hang,
}

impl<'a> Hanging<'a> {
    pub(super) fn new(
        shaper: &'a Shaper<'a>,
        line: &'a ShapedLine,
        style: &TextStyle,
        reads: Direction,
    ) -> Hanging<'a> {
        // Nothing hangs of centred lines, nor of lines that run down, whose signs have white of their own, nor of lines that
        // run another way than their part, which begin where others end.
        let hang = match style.align {
            _ if style.lines_run.is_down() || line.reads() != reads => Hang::None,
            Align::Centre => Hang::None,
            _ => style.prose_hang,
        };
        Hanging { shaper, line, hang }
    }

    /// What hangs before a line that begins at a byte.
    pub(super) fn before(&self, from: usize) -> Length {
        let words = &self.line.text[from..];
        let marks = words.len() - words.trim_start_matches(is_opening_quote).len();
        if self.hang == Hang::None || marks == words.len() || !self.is_at_edge(from) {
            return Length::ZERO;
        }
        if marks == 0 {
            let letter = words.graphemes(true).next().unwrap_or_default();
            let beside_initial = self.line.drop.is_some() && from == self.line.start();
            return match beside_initial {
                true => Length::ZERO,
                false => self.letter(from..from + letter.len(), Edge::Left),
            };
        }
        self.width(from..from + marks)
    }

    /// What hangs behind a line that ends at a byte, an added hyphen aside.
    pub(super) fn behind(&self, to: usize) -> Length {
        let words = &self.line.text[..to];
        let marks = words.len() - words.trim_end_matches(hangs_right).len();
        let last = words.chars().next_back().map_or(0, char::len_utf8);
        if self.hang != Hang::All || marks == words.len() || !self.is_at_edge(to - last) {
            return Length::ZERO;
        }
        if marks == 0 {
            let letter = words.graphemes(true).next_back().unwrap_or_default();
            return self.letter(to - letter.len()..to, Edge::Right);
        }
        let width = self.width(to - marks..to);
        if words.ends_with(['-', '‐']) {
            of_hyphen(width)
        } else {
            width
        }
    }

    /// Whether what begins or ends a line stands at its edge: not where it runs another way than the line.
    fn is_at_edge(&self, byte: usize) -> bool {
        self.line.levels.at(byte) == self.line.base_level()
    }

    /// What hangs of an added hyphen this wide.
    pub(super) fn hyphen(&self, width: Length) -> Length {
        if self.hang == Hang::All {
            of_hyphen(width)
        } else {
            Length::ZERO
        }
    }

    /// What hangs of a letter at an edge, in lines from left to right.
    fn letter(&self, at: Range<usize>, edge: Edge) -> Length {
        let mut signs = self.line.text[at.clone()].chars();
        let (Some(letter), None) = (signs.next(), signs.next()) else {
            return Length::ZERO;
        };
        let Some(voice) = self.line.voice_at(at.start) else {
            return Length::ZERO;
        };
        let context = self.line.context_at(at.start);
        let is_rightwards =
            !self.line.reads().is_right_to_left() && !context.level.reads().is_right_to_left();
        if self.hang != Hang::All || !is_rightwards || !letter.is_alphabetic() {
            return Length::ZERO;
        }
        let bound = self
            .shaper
            .optical_bound(letter, voice, context.script, edge);
        let listed = || LETTERS.iter().find(|(letters, _)| letters.contains(letter));
        let part = match bound {
            Some(bound) => bound,
            None => match listed() {
                Some((_, thousandths)) => self.width(at.clone()).scaled(*thousandths, 1000),
                None => return Length::ZERO,
            },
        };
        part.max(Length::ZERO).min(self.width(at) / MOST_OF_LETTER)
    }

    fn width(&self, of: Range<usize>) -> Length {
        let at = of.start;
        let Some(voice) = self.line.voice_at(at) else {
            return Length::ZERO;
        };
        let text = &self.line.text[of];
        let context = self.line.context_at(at);
        self.shaper.word(text, voice, context, context.script).width
    }
}

fn of_hyphen(width: Length) -> Length {
    width * 3 / 4
}
