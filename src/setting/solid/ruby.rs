//! Readings above their base.
//!
//! A reading is half the size of its base and stands on the top of the base's square. What is shorter of the two is
//! spaced out over the longer, by one part at either end and two between its signs ("Rules for Simple Placement of
//! Japanese Ruby", W3C). The two are never parted.
//!
//! So that no holes open beside a base whose reading is longer, the reading hangs over what stands beside it by up to
//! one of its own ems: over kana, prolonged sound marks and middle dots, and over the white of brackets, commas and
//! stops (JLREQ 3.3.8). It hangs neither over ideographs, which it would be taken for the reading of, nor over another
//! base, nor over a line's ends. A sign that stands between two bases is shared by their readings.

use std::ops::Range;
use std::sync::Arc;

use icu_properties::CodePointMapData;
use icu_properties::props::Script;

use super::white;
use crate::names::Length;
use crate::setting::shaped::ShapedLine;
use crate::setting::{Note, Row, RowNote};
use crate::text::{Manuscript, Ruby};
use crate::typeface::{
    BELOW, Face, FontStyle, Glyph, GlyphSegment, Letters, RubyPosition, ShapedWord, Shaper,
    ShapingContext,
};

/// How far the baseline of a reading stands above that of a base of this size: it is half as large.
pub fn reading_rise(size: Length) -> Length {
    size * (100 - BELOW) / 100 + size / 2 * BELOW / 100
}

/// On which side of a base.
#[derive(Clone, Copy)]
enum Side {
    Before,
    Behind,
}

/// Kana and the prolonged sound mark (JLREQ, classes cl-10, cl-11, cl-15 and cl-16).
fn is_kana(c: char) -> bool {
    let script = CodePointMapData::<Script>::new().get(c);
    c == 'ー' || matches!(script, Script::Hiragana | Script::Katakana)
}

/// Middle dots, of which JLREQ, class cl-05, counts those that words are parted by.
fn is_middle_dot(c: char) -> bool {
    matches!(c, '・' | '･')
}

/// A sign or word that is shaped by itself.
struct Part {
    text: Range<usize>,
    shaped: Arc<ShapedWord>,
}

impl ShapedLine {
    /// Shapes words with their reading, which begin a line, or end one.
    pub(in crate::setting) fn with_reading(
        &self,
        shaper: &Shaper<'_>,
        (voice, context): (FontStyle, ShapingContext),
        number: usize,
        (begins, ends): (bool, bool),
    ) -> ShapedWord {
        let ruby = &self.rubies[number];
        let start = ruby.base.start;
        let small = FontStyle {
            size: voice.size / 2,
            letters: Letters::AsWritten,
            tracking: Length::ZERO,
            between: Length::ZERO,
            dots: None,
            ..voice
        };
        let base = self.parts(shaper, ruby.base.clone(), voice, Some(context));
        let reading = self.parts(shaper, ruby.reading.clone(), small, None);
        let wide = |parts: &[Part]| -> Length { parts.iter().map(|part| part.shaped.width).sum() };
        let width = wide(&base).max(wide(&reading));
        // What the base leaves free at either end below a longer reading.
        let free = (width - wide(&base)) / (2 * base.len().max(1) as i64);
        let over = |edge: bool, side: Side| match edge || free == Length::ZERO {
            true => Length::ZERO,
            false => free.min(self.may_hang(shaper, number, voice, side)),
        };
        let hangs = (over(begins, Side::Before), over(ends, Side::Behind));
        let mut word = ShapedWord {
            space: base.first().and_then(|part| part.shaped.space.clone()),
            segments: spaced(&base, start, voice.size, (width - wide(&base), hangs)),
            space_width: base
                .first()
                .map_or(Length::ZERO, |part| part.shaped.space_width),
            width: Length::ZERO,
            missing: Vec::new(),
            bound: (true, true),
        };
        word.width = word.segments.iter().map(|s| width_of(s, voice.size)).sum();
        // Where the pen stands behind the base, from which the reading goes back.
        let mut back = word.width + hangs.0;
        let none = (Length::ZERO, Length::ZERO);
        let above = spaced(&reading, start, small.size, (width - wide(&reading), none));
        for mut segment in joined(above) {
            segment.above = Some(RubyPosition {
                size: small.size,
                rise: reading_rise(voice.size),
                back,
            });
            back -= width_of(&segment, small.size);
            word.segments.push(segment);
        }
        for part in base.iter().chain(&reading) {
            let at = part.text.start - start;
            let missing = part.shaped.missing.iter();
            word.missing
                .extend(missing.map(|&(byte, length)| (byte + at, length)));
        }
        word
    }

    /// How far a reading may hang over what stands on one side of its base.
    fn may_hang(&self, shaper: &Shaper<'_>, number: usize, voice: FontStyle, side: Side) -> Length {
        let ruby = &self.rubies[number];
        let (beside, next) = match side {
            Side::Before => (
                self.text[..ruby.base.start].char_indices().next_back(),
                number.checked_sub(1).and_then(|next| self.rubies.get(next)),
            ),
            Side::Behind => {
                let behind = self.text[ruby.reading.end..].chars().next();
                (
                    behind.map(|c| (ruby.reading.end, c)),
                    self.rubies.get(number + 1),
                )
            }
        };
        let Some((at, sign)) = beside else {
            return Length::ZERO;
        };
        let (from, to) = (at, at + sign.len_utf8());
        let taken = |next: &Ruby| next.base.start < to && from < next.reading.end;
        if next.is_some_and(taken) {
            return Length::ZERO;
        }
        let shared = next.is_some_and(|next| next.base.start == to || next.reading.end == from);
        let most = voice.size / if shared { 4 } else { 2 };
        if is_kana(sign) || is_middle_dot(sign) {
            return most;
        }
        let plain = shaper.word_of(&self.text, from..to, voice, self.context_of(&(from..to)));
        let white = white(&plain, sign);
        match side {
            Side::Before if white.right => most,
            Side::Behind if white.left => most,
            _ => Length::ZERO,
        }
    }

    /// The signs and words of a stretch, each shaped by itself; the first one in its place on the line.
    fn parts(
        &self,
        shaper: &Shaper<'_>,
        stretch: Range<usize>,
        voice: FontStyle,
        first: Option<ShapingContext>,
    ) -> Vec<Part> {
        let parts = self
            .one_way(stretch)
            .flat_map(|part| self.solid_parts(part));
        let parts = parts.enumerate().map(|(index, (text, _))| {
            let alone = self.context_of(&text);
            let context = first
                .filter(|_| index == 0)
                .map_or(alone, |first| ShapingContext {
                    space_behind: false,
                    run: (first.run.0, text.end),
                    posture: alone.posture,
                    ..first
                });
            let shaped = shaper.word_of(&self.text, text.clone(), voice, context);
            Part { text, shaped }
        });
        parts.collect()
    }
}

/// The glyphs of parts with more room between them, all together `more`: one part of it at either end, two between.
/// At the ends so much is then taken off as a longer reading hangs over. Clusters are counted from byte `start`.
fn spaced(
    parts: &[Part],
    start: usize,
    size: Length,
    (more, off): (Length, (Length, Length)),
) -> Vec<GlyphSegment> {
    let count = parts.len().max(1) as i64;
    let (lead, between) = (more / (2 * count), more / count);
    let mut found: Vec<GlyphSegment> = Vec::new();
    for (index, part) in parts.iter().enumerate() {
        let at = part.text.start - start;
        let own = part.shaped.segments.iter();
        let mut own: Vec<GlyphSegment> = own
            .map(|segment| GlyphSegment {
                to: segment.to + at,
                glyphs: segment
                    .glyphs
                    .iter()
                    .map(|glyph| moved(glyph, at))
                    .collect(),
                ..segment.clone()
            })
            .collect();
        if index == 0
            && let Some(segment) = own.first_mut()
        {
            let units = units(&segment.face, size, lead - off.0);
            if let Some(glyph) = segment.glyphs.first_mut() {
                glyph.dx += units;
                glyph.advance += units;
            }
        }
        let behind = if index + 1 == parts.len() {
            lead - off.1
        } else {
            between
        };
        if let Some(segment) = own.last_mut() {
            let units = units(&segment.face, size, behind);
            if let Some(glyph) = segment.glyphs.last_mut() {
                glyph.advance += units;
            }
        }
        found.extend(own);
    }
    found
}

/// Neighbouring segments of one face as one.
fn joined(segments: Vec<GlyphSegment>) -> Vec<GlyphSegment> {
    let mut found: Vec<GlyphSegment> = Vec::new();
    for mut segment in segments {
        match found.last_mut() {
            Some(last)
                if Arc::ptr_eq(&last.face, &segment.face) && last.upright == segment.upright =>
            {
                last.glyphs.append(&mut segment.glyphs);
                last.to = segment.to;
            }
            _ => found.push(segment),
        }
    }
    found
}

fn moved(glyph: &Glyph, by: usize) -> Glyph {
    Glyph {
        cluster: glyph.cluster + by as u32,
        ..*glyph
    }
}

fn units(face: &Face, size: Length, length: Length) -> i32 {
    let em = i64::from(face.metrics().units_per_em);
    length.scaled(em, size.units().max(1)).units() as i32
}

fn width_of(segment: &GlyphSegment, size: Length) -> Length {
    let units = segment.glyphs.iter().map(|glyph| glyph.advance).sum();
    segment.face.scale(units, size)
}

impl Row {
    /// The leading that its readings need and the dots of its emphasis, if it has any: they stand in the room between the
    /// lines, which must be half an em (JLREQ 3.3: the reading lies within it). Headings have room above them.
    pub fn leading_between(&self) -> Option<Length> {
        let has = !self.shaped.rubies.is_empty() || self.first_dots().is_some();
        (has && !self.kind.is_titling()).then(|| self.voice.size * 3 / 2)
    }

    /// Where the first emphasised words begin that have dots.
    fn first_dots(&self) -> Option<usize> {
        let voices = self.shaped.voices.iter();
        let mut with_dots = voices.filter(|(_, voice)| voice.dots.is_some());
        with_dots.next().map(|(at, _)| *at)
    }
}

/// What is told of readings, or of dots of emphasis, that have no room between the lines.
pub(in crate::setting) fn notes(
    manuscript: &Manuscript,
    rows: &[Row],
    columns: usize,
    leading: Length,
) -> Vec<RowNote> {
    let numbered = rows.iter().enumerate();
    let mut needs = numbered.filter_map(|(at, row)| Some((at, row, row.leading_between()?)));
    let Some((index, row, needed)) = needs.next().filter(|(_, _, needed)| *needed > leading) else {
        return Vec::new();
    };
    let (what, at) = match row.shaped.rubies.first() {
        Some(ruby) => ("readings above", ruby.reading.clone()),
        None => {
            let at = row.first_dots().unwrap_or_default();
            let letter = row.shaped.text[at..].chars().next();
            (
                "dots of emphasised",
                at..at + letter.map_or(0, char::len_utf8),
            )
        }
    };
    let sources = row.shaped.sources(at);
    let place = sources
        .first()
        .map(|bytes| manuscript.place(bytes.0..bytes.1));
    let note = |column| RowNote {
        row: index,
        column,
        note: Note {
            word: "tight-readings",
            what: format!(
                "the {what} words of {} need a leading of {} or more, and it is {}",
                row.voice.size.in_points(),
                needed.in_points(),
                leading.in_points()
            ),
            place: place.clone(),
        },
    };
    (0..columns).map(note).collect()
}
