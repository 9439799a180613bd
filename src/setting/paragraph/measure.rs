//! Measuring a paragraph: how far along its unbroken line every break lies.
//!
//! A line from one break to another is as wide as the unbroken line between them, corrected for what changes at a
//! line's ends: a word that no space follows, or that none stands before, may be kerned otherwise, and a divided
//! word has a hyphen. These corrections are found word by word, so that any line is measured by one subtraction.

use std::ops::Range;

use super::breaks::{Divider, forced_between, with};
use super::edges::{Edges, KnownEdges};
use super::hang::Hanging;
use super::unbroken::{LONG_WORD, PlacedWord, unbroken_line};
use super::{
    EMERGENCY, HYPHEN, HYPHEN_JUSTIFIED, OWN_HYPHEN, OWN_HYPHEN_JUSTIFIED, Paragraph,
    ParagraphBreak, Parts, SHORT_WORD, SHORT_WORD_JUSTIFIED, STUB, STUB_JUSTIFIED, WIDE_WORD,
    WIDE_WORD_JUSTIFIED,
};
use crate::names::Length;
use crate::plan::Align;
use crate::setting::line_breaks::Point;
use crate::setting::part::Setter;
use crate::setting::shaped::{SetWord, ShapedLine};
use crate::setting::solid::PieceKind;
use crate::typeface::{Shaper, ShapingContext};

impl Setter<'_> {
    /// Measures a paragraph. `narrowest` is the least measure that its lines may have: words wider than that
    /// may be broken anywhere.
    pub(in crate::setting) fn measure_paragraph(
        &self,
        line: &ShapedLine,
        divider: &Divider<'_>,
        narrowest: Length,
    ) -> Paragraph {
        let all = line.start()..line.trimmed_end(line.text.len());
        let set = line.set(self.shaper, all.clone());
        let unbroken = unbroken_line(self.shaper, line, &set, self.style.align);
        let breaks = self.breaks_of(line, &unbroken, divider, narrowest);
        let measurer = Measurer {
            shaper: self.shaper,
            line,
            justified: self.style.align == Align::Justified,
            unbroken: &unbroken,
            edges: &divider.edges,
        };
        let hanging = Hanging::new(self.shaper, line, self.style, self.reads);
        let mut paragraph = measurer.all(&hanging, breaks);
        let points = &paragraph.points;
        let wide = |at: usize| points[at + 1].end - points[at].start > narrowest;
        let forced = forced_between(line, &unbroken, &paragraph.breaks, (narrowest, wide));
        if !forced.is_empty() {
            paragraph = measurer.all(&hanging, with(paragraph.breaks, forced));
        }
        paragraph
    }
}

struct Measurer<'a> {
    shaper: &'a Shaper<'a>,
    line: &'a ShapedLine,
    justified: bool,
    unbroken: &'a [PlacedWord<'a>],
    edges: &'a KnownEdges,
}

impl Measurer<'_> {
    /// Measures all breaks of a paragraph.
    fn all(&self, hanging: &Hanging<'_>, breaks: Vec<ParagraphBreak>) -> Paragraph {
        let mut paragraph = Paragraph {
            points: Vec::with_capacity(breaks.len()),
            hangs: Vec::with_capacity(breaks.len()),
            breaks,
        };
        let mut at = 0;
        for stop in &paragraph.breaks {
            let ends = |placed: &PlacedWord<'_>| placed.word.text.end < stop.end;
            while self.unbroken.get(at).is_some_and(ends) {
                at += 1;
            }
            let (point, hyphen) = self.point(stop, at);
            paragraph.points.push(point);
            let behind = match hyphen {
                Some(width) => hanging.hyphen(width),
                None => hanging.behind(stop.end),
            };
            paragraph.hangs.push((hanging.before(stop.next), behind));
        }
        paragraph
    }

    /// The point of a break, `at` being the piece of the unbroken line that it ends in; and how wide the hyphen is
    /// that is added there.
    fn point(&self, stop: &ParagraphBreak, at: usize) -> (Point, Option<Length>) {
        let Some(before) = self.unbroken.get(at).or(self.unbroken.last()) else {
            return (Point::default(), None);
        };
        let behind = match self.unbroken.get(at + 1) {
            Some(next) if stop.next >= before.word.text.end => next,
            _ => before,
        };
        let adds = stop.parts.adds_hyphen();
        let hyphen = adds.then(|| self.hyphen(before));
        let point = Point {
            // The hyphen is placed without looking for the letter before it.
            end: self.end_of(before, stop.end) + hyphen.unwrap_or_default(),
            start: self.start_of(behind, stop.next),
            slack_to_end: before.slack,
            slack_to_start: behind.slack,
            words_to_end: before.spaces,
            words_to_start: behind.spaces,
            penalty: self.penalty(stop),
            hyphen: adds || self.line.text[..stop.end].ends_with(['-', '‐']),
        };
        (point, hyphen)
    }

    fn hyphen(&self, piece: &PlacedWord<'_>) -> Length {
        let word = piece.word;
        let context = ShapingContext {
            level: word.context.level,
            script: word.context.script,
            ..ShapingContext::default()
        };
        let shaped = self.shaper.word("-", word.voice, context, context.script);
        shaped.width
    }

    /// Where a line ends that ends within or at the end of a piece, an added hyphen aside.
    fn end_of(&self, piece: &PlacedWord<'_>, end: usize) -> Length {
        let (word, text) = (piece.word, &piece.word.text);
        if word.kind.is_solid() && end >= text.end {
            return piece.to + self.solid_at_edge(word, false, true);
        }
        if end >= text.end {
            if !word.context.space_behind {
                return piece.to;
            }
            return piece.to + self.edges_of(word).ends;
        }
        if end <= text.start {
            return piece.from;
        }
        if text.len() > LONG_WORD {
            return piece.from + piece.along(end);
        }
        if let Some((before, _)) = word.shaped.widths_at(end - text.start, word.voice) {
            return piece.from + before;
        }
        piece.from + self.width(word, text.start, end, false)
    }

    /// Where a line begins that begins within or at the beginning of a piece.
    fn start_of(&self, piece: &PlacedWord<'_>, start: usize) -> Length {
        let (word, text) = (piece.word, &piece.word.text);
        if start >= text.end {
            return piece.to;
        }
        if word.kind.is_solid() {
            return piece.from - self.solid_at_edge(word, true, false);
        }
        if start > text.start && text.len() > LONG_WORD {
            return piece.from + piece.along(start);
        }
        if start <= text.start {
            if !word.context.space_before {
                return piece.from;
            }
            return piece.from + self.edges_of(word).begins;
        }
        if let Some((_, behind)) = word.shaped.widths_at(start - text.start, word.voice) {
            return piece.to - behind;
        }
        piece.to - self.beginning(word, start..text.end)
    }

    /// What changes of a whole word at a line's ends.
    fn edges_of(&self, word: &SetWord) -> Edges {
        // Most words are shaped alike with a space beside them and without.
        let (before, behind) = match word.is_by_itself() {
            true => word.shaped.bound,
            false => (true, true),
        };
        if !before && !behind {
            return Edges::default();
        }
        let text = &word.text;
        let whole = |behind| self.width(word, text.start, text.end, behind);
        let ShapingContext {
            space_before,
            space_behind,
            ..
        } = word.context;
        let difference = |asked: bool, found: &dyn Fn() -> Length| match asked {
            true => found(),
            false => Length::ZERO,
        };
        let find = || Edges {
            ends: difference(space_behind && behind, &|| whole(false) - whole(true)),
            begins: difference(space_before && before, &|| {
                whole(space_behind) - self.beginning(word, text.clone())
            }),
        };
        self.edges.of(word, &self.line.text[text.clone()], find)
    }

    /// What a solid sign, or words with their reading, are wider at a line's start or end than within the paragraph.
    fn solid_at_edge(&self, word: &SetWord, begins: bool, ends: bool) -> Length {
        if word.kind == PieceKind::Word {
            return Length::ZERO;
        }
        let first = word.text.start == self.line.start();
        let last = word.text.end == self.line.trimmed_end(self.line.text.len());
        let width = self
            .line
            .solid_width(self.shaper, word, begins || first, ends || last);
        width - word.shaped.width
    }

    /// The width of the rest of a piece that begins a line.
    fn beginning(&self, word: &SetWord, rest: Range<usize>) -> Length {
        let behind = usize::from(word.context.space_behind);
        let context = ShapingContext {
            space_before: false,
            space_apart: false,
            run: (rest.start, rest.end + behind),
            ..word.context
        };
        let line = &self.line.text;
        self.shaper.word_of(line, rest, word.voice, context).width
    }

    /// The width of the beginning of a piece, with the space before it in place if there is one.
    fn width(&self, word: &SetWord, from: usize, to: usize, space_behind: bool) -> Length {
        let before = usize::from(word.context.space_before);
        let context = ShapingContext {
            space_behind,
            run: (from - before, to + usize::from(space_behind)),
            ..word.context
        };
        let line = &self.line.text;
        self.shaper
            .word_of(line, from..to, word.voice, context)
            .width
    }

    fn penalty(&self, stop: &ParagraphBreak) -> i32 {
        let (ragged, justified) = match stop.parts {
            Parts::Words if self.leaves_short_word(stop.end) => (SHORT_WORD, SHORT_WORD_JUSTIFIED),
            Parts::Words | Parts::WordsWithoutSpace => (0, 0),
            Parts::Word => (OWN_HYPHEN, OWN_HYPHEN_JUSTIFIED),
            Parts::WordByHyphen if self.leaves_stub(stop.end) => {
                (HYPHEN + STUB, HYPHEN_JUSTIFIED + STUB_JUSTIFIED)
            }
            Parts::WordByHyphen => (HYPHEN, HYPHEN_JUSTIFIED),
            Parts::WideWordByHyphen => (WIDE_WORD, WIDE_WORD_JUSTIFIED),
            Parts::WordByForce => (EMERGENCY, EMERGENCY),
        };
        match self.justified {
            true => justified,
            false => ragged,
        }
    }

    /// Whether a word divided here has no more than two letters before the hyphen or behind it.
    fn leaves_stub(&self, end: usize) -> bool {
        let (before, behind) = self.line.text.split_at(end);
        let letters = |letter: &char| letter.is_alphabetic();
        before.chars().rev().take_while(letters).take(3).count() < 3
            || behind.chars().take_while(letters).take(3).count() < 3
    }

    /// Whether a line that ends here ends in a word of one or two letters behind a space.
    fn leaves_short_word(&self, end: usize) -> bool {
        let word = self.line.text[..end].rsplit(' ').next().unwrap_or_default();
        let letters = word.chars().take(3).count();
        letters < 3 && word.chars().all(char::is_alphabetic)
    }
}
