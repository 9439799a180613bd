//! Readings above their base.
//!
//! A reading is half the size of its base and stands on the top of the base's square. What is shorter of the two is
//! spaced out over the longer, by one part at either end and two between its signs; neither reaches over what stands
//! beside them, so that no reading is taken for that of a neighbour ("Rules for Simple Placement of Japanese Ruby",
//! W3C). The two are never parted.

use std::ops::Range;
use std::sync::Arc;

use crate::names::Length;
use crate::setting::pieces::LinePiece;
use crate::setting::shaped::ShapedLine;
use crate::setting::{Note, Row, RowNote};
use crate::text::Manuscript;
use crate::typeface::{
    Face, FontStyle, Glyph, GlyphSegment, Letters, RubyPosition, ShapedWord, Shaper, ShapingContext,
};

/// How far a square reaches below the baseline, in hundredths of an em (the usual design of these faces: common
/// practice).
const BELOW: i64 = 12;

/// How far the baseline of a reading stands above that of a base of this size: it is half as large.
pub fn reading_rise(size: Length) -> Length {
    size * (100 - BELOW) / 100 + size / 2 * BELOW / 100
}

/// A sign or word that is shaped by itself.
struct Part {
    text: Range<usize>,
    shaped: Arc<ShapedWord>,
}

impl ShapedLine {
    /// Shapes words with their reading.
    pub(in crate::setting) fn with_reading(
        &self,
        shaper: &Shaper<'_>,
        piece: &LinePiece,
        number: usize,
    ) -> ShapedWord {
        let ruby = &self.rubies[number];
        let (voice, start) = (piece.voice, piece.text.start);
        let small = FontStyle {
            size: voice.size / 2,
            letters: Letters::AsWritten,
            tracking: Length::ZERO,
            ..voice
        };
        let base = self.parts(shaper, ruby.base.clone(), voice, Some(piece.context));
        let reading = self.parts(shaper, ruby.reading.clone(), small, None);
        let wide = |parts: &[Part]| -> Length { parts.iter().map(|part| part.shaped.width).sum() };
        let width = wide(&base).max(wide(&reading));
        let mut word = ShapedWord {
            space: base.first().and_then(|part| part.shaped.space.clone()),
            segments: spaced(&base, start, voice.size, width - wide(&base)),
            space_width: base
                .first()
                .map_or(Length::ZERO, |part| part.shaped.space_width),
            width: Length::ZERO,
            missing: Vec::new(),
        };
        word.width = word.segments.iter().map(|s| width_of(s, voice.size)).sum();
        // Where the pen stands behind the base, from which the reading goes back.
        let mut back = word.width;
        let above = spaced(&reading, start, small.size, width - wide(&reading));
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
            let alone = ShapingContext {
                run: (text.start, text.end),
                ..self.context_at(text.start)
            };
            let context = first
                .filter(|_| index == 0)
                .map_or(alone, |first| ShapingContext {
                    space_behind: false,
                    run: (first.run.0, text.end),
                    ..first
                });
            let shaped = shaper.word_of(&self.text, text.clone(), voice, context);
            Part { text, shaped }
        });
        parts.collect()
    }
}

/// The glyphs of parts with more room between them, all together `more`: one part of it at either end, two between.
/// Clusters are counted from byte `start`.
fn spaced(parts: &[Part], start: usize, size: Length, more: Length) -> Vec<GlyphSegment> {
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
            let units = units(&segment.face, size, lead);
            if let Some(glyph) = segment.glyphs.first_mut() {
                glyph.dx += units;
                glyph.advance += units;
            }
        }
        let behind = if index + 1 == parts.len() {
            lead
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
            Some(last) if Arc::ptr_eq(&last.face, &segment.face) => {
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

/// Readings stand in the room between the lines, which must be half an em (JLREQ 3.3: the reading lies within it).
pub(in crate::setting) fn notes(
    manuscript: &Manuscript,
    rows: &[Row],
    columns: usize,
    leading: Length,
) -> Vec<RowNote> {
    // Headings have room above them.
    let with_readings = |row: &&Row| !row.shaped.rubies.is_empty() && !row.kind.is_titling();
    let Some((index, row)) = rows.iter().enumerate().find(|(_, row)| with_readings(row)) else {
        return Vec::new();
    };
    let size = row.voice.size;
    let needed = size * 3 / 2;
    if leading >= needed {
        return Vec::new();
    }
    let ruby = &row.shaped.rubies[0];
    let sources = row.shaped.sources(ruby.reading.clone());
    let place = sources
        .first()
        .map(|bytes| manuscript.place(bytes.0..bytes.1));
    let note = |column| RowNote {
        row: index,
        column,
        note: Note {
            word: "tight-readings",
            what: format!(
                "the readings above words of {} need a leading of {} or more, and it is {}",
                size.in_points(),
                needed.in_points(),
                leading.in_points()
            ),
            place: place.clone(),
        },
    };
    (0..columns).map(note).collect()
}
