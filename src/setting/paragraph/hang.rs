//! What hangs outside the edges of prose.
//!
//! Opening quotation marks hang out to the left, closing ones, full stops and commas to the right, each by the
//! whole of its advance, and hyphens by three quarters of theirs (common practice: a hyphen is long, and would
//! leave the line short). Marks that stand together hang together. No mark hangs farther than the setting leaves
//! room for.

use std::ops::Range;

use crate::names::Length;
use crate::plan::{Align, Hang, TextStyle};
use crate::setting::shaped::ShapedLine;
use crate::setting::verse::{hangs_right, is_opening_quote};
use crate::typeface::Shaper;

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
    ) -> Hanging<'a> {
        // Nothing hangs of centred lines.
        let hang = match style.align {
            Align::Centre => Hang::None,
            _ => style.prose_hang,
        };
        Hanging { shaper, line, hang }
    }

    /// What hangs before a line that begins at a byte.
    pub(super) fn before(&self, from: usize) -> Length {
        let words = &self.line.text[from..];
        let marks = words.len() - words.trim_start_matches(is_opening_quote).len();
        if self.hang == Hang::None || marks == 0 || marks == words.len() {
            return Length::ZERO;
        }
        self.width(from..from + marks)
    }

    /// What hangs behind a line that ends at a byte, an added hyphen aside.
    pub(super) fn behind(&self, to: usize) -> Length {
        let words = &self.line.text[..to];
        let marks = words.len() - words.trim_end_matches(hangs_right).len();
        if self.hang != Hang::All || marks == 0 || marks == words.len() {
            return Length::ZERO;
        }
        let width = self.width(to - marks..to);
        if words.ends_with(['-', '‐']) {
            of_hyphen(width)
        } else {
            width
        }
    }

    /// What hangs of an added hyphen this wide.
    pub(super) fn hyphen(&self, width: Length) -> Length {
        if self.hang == Hang::All {
            of_hyphen(width)
        } else {
            Length::ZERO
        }
    }

    fn width(&self, marks: Range<usize>) -> Length {
        let at = marks.start;
        let Some(voice) = self.line.voice_at(at) else {
            return Length::ZERO;
        };
        let text = &self.line.text[marks];
        let context = self.line.context_at(at);
        self.shaper.word(text, voice, context, context.script).width
    }
}

fn of_hyphen(width: Length) -> Length {
    width * 3 / 4
}
