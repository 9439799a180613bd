//! Measuring a paragraph: how far along its unbroken course every break lies.
//!
//! A line from one break to another is as wide as the course between them, corrected for what changes at a
//! line's ends: a word that no space follows, or that none stands before, may be kerned otherwise, and a divided
//! word has a hyphen. These corrections are found word by word, so that any line is measured by one subtraction.

use std::ops::Range;

use rustc_hash::FxHashMap;
use unicode_segmentation::UnicodeSegmentation;

use super::edges::{Edges, Remembered};
use super::hang::Hanging;
use super::{EMERGENCY, HYPHEN, OWN_HYPHEN, Paragraph, ParagraphBreak, Parts, SHORT_WORD};
use crate::lines::falls::{Point, Slack};
use crate::lines::opportunities::BreakKind;
use crate::lines::part::Setter;
use crate::lines::shaped::{SetWord, ShapedLine};
use crate::lines::solid::PieceKind;
use crate::plan::{Align, TextStyle};
use crate::typeface::{Context, Hyphenator, Shaper};
use crate::units::Length;

/// Words longer than this are measured by the glyphs of the whole, not shaped anew for each break in them.
const LONG_WORD: usize = 64;

/// Points where words may be divided, remembered by word.
pub(in crate::lines) struct Divider {
    hyphenator: Option<Hyphenator>,
    known: FxHashMap<String, Vec<usize>>,
    edges: Remembered,
}

impl Divider {
    pub(in crate::lines) fn new(style: &TextStyle, language: &str) -> Divider {
        let asked = style.hyphenate;
        Divider {
            hyphenator: asked
                .then(|| Hyphenator::new(language, &style.exceptions))
                .flatten(),
            known: FxHashMap::default(),
            edges: Remembered::default(),
        }
    }

    fn points(&mut self, word: &str) -> &[usize] {
        if !self.known.contains_key(word) {
            let soft = || {
                word.match_indices('\u{ad}')
                    .map(|(at, sign)| at + sign.len())
            };
            let found = match &self.hyphenator {
                Some(hyphenator) => hyphenator.points(word),
                // Soft hyphens are the author's own.
                None => soft().filter(|at| *at < word.len()).collect(),
            };
            self.known.insert(word.to_string(), found);
        }
        self.known.get(word).map_or(&[], Vec::as_slice)
    }
}

/// A word, or a part of one in its own voice, on the unbroken course.
struct Placed<'a> {
    word: &'a SetWord,
    from: Length,
    to: Length,
    /// Word spaces before it, and what they may give.
    spaces: u32,
    slack: Slack,
}

impl Setter<'_> {
    /// Measures a paragraph. `narrowest` is the least measure that its lines may have: words wider than that
    /// may be broken anywhere.
    pub(in crate::lines) fn measure_paragraph(
        &self,
        line: &ShapedLine,
        divider: &mut Divider,
        narrowest: Length,
    ) -> Paragraph {
        let all = line.start()..line.trimmed_end(line.text.len());
        let set = line.set(self.shaper, all.clone());
        let course = course(self.shaper, line, &set, self.style.align);
        let breaks = self.breaks_of(line, &course, divider, narrowest);
        let measurer = Measurer {
            shaper: self.shaper,
            line,
            justified: self.style.align == Align::Justified,
            course: &course,
            edges: &divider.edges,
        };
        let hanging = Hanging::new(self.shaper, line, self.style);
        let mut paragraph = Paragraph {
            points: Vec::with_capacity(breaks.len()),
            hangs: Vec::with_capacity(breaks.len()),
            breaks,
        };
        let mut at = 0;
        for stop in &paragraph.breaks {
            while course
                .get(at)
                .is_some_and(|placed| placed.word.text.end < stop.end)
            {
                at += 1;
            }
            let (point, hyphen) = measurer.point(stop, at);
            paragraph.points.push(point);
            let behind = match hyphen {
                Some(width) => hanging.hyphen(width),
                None => hanging.behind(stop.end),
            };
            paragraph.hangs.push((hanging.before(stop.next), behind));
        }
        paragraph
    }

    /// Every break of a paragraph, in order.
    fn breaks_of(
        &self,
        line: &ShapedLine,
        course: &[Placed<'_>],
        divider: &mut Divider,
        narrowest: Length,
    ) -> Vec<ParagraphBreak> {
        let (start, end) = (line.start(), line.trimmed_end(line.text.len()));
        let mut breaks = vec![ParagraphBreak {
            end: start,
            next: start,
            parts: Parts::Words,
        }];
        let inner = line.opportunities(start..end, self.language).into_iter();
        breaks.extend(inner.map(|at| ParagraphBreak {
            end: at.end,
            next: at.next,
            parts: match at.kind {
                BreakKind::Space => Parts::Words,
                BreakKind::Between => Parts::WordsWithoutSpace,
                BreakKind::Within => Parts::Word,
            },
        }));
        let inside = |at: usize, parts| ParagraphBreak {
            end: at,
            next: at,
            parts,
        };
        for word in &line.words {
            let from = word.text.start.max(start);
            let token = &line.text[from..word.text.end.max(from)];
            let points = divider.points(token).iter();
            breaks.extend(points.map(|at| inside(from + at, Parts::WordByHyphen)));
        }
        for placed in course
            .iter()
            .filter(|placed| placed.to - placed.from > narrowest && !placed.word.kind.is_solid())
        {
            let from = placed.word.text.start;
            let clusters = line.text[placed.word.text.clone()].grapheme_indices(true);
            let clusters = clusters.skip(1).map(|(at, _)| from + at);
            breaks.extend(clusters.map(|at| inside(at, Parts::WordByForce)));
        }
        breaks.push(inside(end, Parts::Words));
        // Of several breaks at one place the one that does least counts.
        breaks.sort_by_key(|at| (at.end, at.next, order(at.parts)));
        breaks.dedup_by_key(|at| at.end);
        breaks
    }
}

fn order(parts: Parts) -> u8 {
    match parts {
        Parts::Words => 0,
        Parts::WordsWithoutSpace => 1,
        Parts::Word => 2,
        Parts::WordByHyphen => 3,
        Parts::WordByForce => 4,
    }
}

/// Places the words of the unbroken paragraph one behind the other.
fn course<'a>(
    shaper: &Shaper<'_>,
    line: &ShapedLine,
    set: &'a [SetWord],
    align: Align,
) -> Vec<Placed<'a>> {
    let mut pen = Length::ZERO;
    let mut spaces = 0;
    let mut slack = Slack::default();
    let mut placed = Vec::with_capacity(set.len());
    for (index, word) in set.iter().enumerate() {
        if word.context.space_before {
            pen += word.shaped.space_width + line.extra_space(shaper, word.text.start, word.voice);
            spaces += 1;
        }
        if let Some(before) = index.checked_sub(1).map(|before| &set[before]) {
            // What is set solid has no words; its signs are counted instead, so that none stands alone.
            spaces += u32::from(!word.context.space_before && line.counts(word));
            if align == Align::Justified {
                let gap = line.gap(shaper, before, word);
                slack.stretch += gap.stretch;
                slack.shrink += gap.shrink;
            }
        }
        let from = pen;
        pen += word.shaped.width;
        placed.push(Placed {
            word,
            from,
            to: pen,
            spaces,
            slack,
        });
    }
    placed
}

struct Measurer<'a> {
    shaper: &'a Shaper<'a>,
    line: &'a ShapedLine,
    justified: bool,
    course: &'a [Placed<'a>],
    edges: &'a Remembered,
}

impl Measurer<'_> {
    /// The point of a break, `at` being the piece of the course that it ends in; and how wide the hyphen is
    /// that is added there.
    fn point(&self, stop: &ParagraphBreak, at: usize) -> (Point, Option<Length>) {
        let Some(before) = self.course.get(at).or(self.course.last()) else {
            return (Point::default(), None);
        };
        let behind = match self.course.get(at + 1) {
            Some(next) if stop.next >= before.word.text.end => next,
            _ => before,
        };
        let adds = stop.parts == Parts::WordByHyphen;
        let hyphen = adds.then(|| self.hyphen(before));
        let point = Point {
            end: self.end_of(before, stop.end, adds),
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

    fn hyphen(&self, piece: &Placed<'_>) -> Length {
        let word = piece.word;
        let context = Context {
            level: word.context.level,
            script: word.context.script,
            ..Context::default()
        };
        let shaped = self.shaper.word("-", word.voice, context, context.script);
        shaped.width
    }

    /// Where a line ends that ends within or at the end of a piece.
    fn end_of(&self, piece: &Placed<'_>, end: usize, hyphen: bool) -> Length {
        let (word, text) = (piece.word, &piece.word.text);
        if word.kind.is_solid() && end >= text.end {
            return piece.to + self.solid_at_edge(word, false, true);
        }
        if end >= text.end && !hyphen {
            if !word.context.space_behind {
                return piece.to;
            }
            return piece.to + self.edges_of(word).ends;
        }
        if end <= text.start {
            return piece.from;
        }
        if text.len() > LONG_WORD {
            let added = if hyphen {
                self.hyphen(piece)
            } else {
                Length::ZERO
            };
            return piece.from + self.along(word, end) + added;
        }
        piece.from + self.width(word, text.start, end, false, hyphen)
    }

    /// Where a line begins that begins within or at the beginning of a piece.
    fn start_of(&self, piece: &Placed<'_>, start: usize) -> Length {
        let (word, text) = (piece.word, &piece.word.text);
        if start >= text.end {
            return piece.to;
        }
        if word.kind.is_solid() {
            return piece.from - self.solid_at_edge(word, true, false);
        }
        if start > text.start && text.len() > LONG_WORD {
            return piece.from + self.along(word, start);
        }
        if start <= text.start {
            if !word.context.space_before {
                return piece.from;
            }
            return piece.from + self.edges_of(word).begins;
        }
        piece.to - self.beginning(word, start..text.end)
    }

    /// What changes of a whole word at a line's ends.
    fn edges_of(&self, word: &SetWord) -> Edges {
        let text = &word.text;
        let whole = |behind| self.width(word, text.start, text.end, behind, false);
        let Context {
            space_before,
            space_behind,
            ..
        } = word.context;
        let difference = |asked: bool, found: &dyn Fn() -> Length| match asked {
            true => found(),
            false => Length::ZERO,
        };
        let find = || Edges {
            ends: difference(space_behind, &|| whole(false) - whole(true)),
            begins: difference(space_before, &|| {
                whole(space_behind) - self.beginning(word, text.clone())
            }),
        };
        self.edges.of(word, &self.line.text[text.clone()], find)
    }

    /// What a solid sign is wider at a line's start or end than within the paragraph.
    fn solid_at_edge(&self, word: &SetWord, begins: bool, ends: bool) -> Length {
        if word.kind != PieceKind::Solid {
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
        let context = Context {
            space_before: false,
            space_apart: false,
            run: (rest.start, rest.end + behind),
            ..word.context
        };
        let line = &self.line.text;
        self.shaper.word_of(line, rest, word.voice, context).width
    }

    /// The width of the beginning of a piece, with the space before it in place if there is one.
    fn width(
        &self,
        word: &SetWord,
        from: usize,
        to: usize,
        space_behind: bool,
        hyphen: bool,
    ) -> Length {
        let before = usize::from(word.context.space_before);
        let context = Context {
            space_behind,
            run: (from - before, to + usize::from(space_behind)),
            ..word.context
        };
        if hyphen {
            let divided = [&self.line.text[from..to], "-"].concat();
            let context = Context {
                space_behind: false,
                run: (0, divided.len()),
                ..context
            };
            return self
                .shaper
                .word(&divided, word.voice, context, context.script)
                .width;
        }
        let line = &self.line.text;
        self.shaper
            .word_of(line, from..to, word.voice, context)
            .width
    }

    /// How far along a piece a byte of it lies, by the glyphs of the whole.
    fn along(&self, word: &SetWord, at: usize) -> Length {
        let offset = at - word.text.start;
        let segments = word.shaped.segments.iter();
        let widths = segments.map(|segment| {
            let before = |glyph: &&crate::typeface::Glyph| (glyph.cluster as usize) < offset;
            let units = segment
                .glyphs
                .iter()
                .filter(before)
                .map(|glyph| glyph.advance)
                .sum();
            segment.face.scale(units, word.voice.size)
        });
        widths.sum()
    }

    fn penalty(&self, stop: &ParagraphBreak) -> i32 {
        let ragged = match stop.parts {
            Parts::Words if self.leaves_short_word(stop.end) => SHORT_WORD,
            Parts::Words | Parts::WordsWithoutSpace => 0,
            Parts::Word => OWN_HYPHEN,
            Parts::WordByHyphen => HYPHEN,
            Parts::WordByForce => EMERGENCY,
        };
        match (self.justified, ragged) {
            (false, _) | (_, 0 | EMERGENCY) => ragged,
            // The article's π for a hyphen; for a short word next to nothing.
            (true, SHORT_WORD) => 2,
            (true, _) => 50,
        }
    }

    /// Whether a line that ends here ends in a word of one or two letters behind a space.
    fn leaves_short_word(&self, end: usize) -> bool {
        let word = self.line.text[..end].rsplit(' ').next().unwrap_or_default();
        let letters = word.chars().take(3).count();
        letters < 3 && word.chars().all(char::is_alphabetic)
    }
}
