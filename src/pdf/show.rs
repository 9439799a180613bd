//! Showing the glyphs of a run in the order in which they are read.
//!
//! Readers of PDF differ in what they make of words that run from right to left. Shown glyph by glyph in the
//! order of the text, each moved to its place, such words are read letter by letter in their order by poppler,
//! PDFium and MuPDF (`tests/outside` asks them); in one string with moves back, or in the order of the eye, by
//! fewer. There the letter of a cluster stands for all of it and its marks for nothing, so that no reader takes the
//! room between mark and letter for a gap between words.

use std::ops::Range;

use pdf_writer::{Name, Str, TextStr};
use unicode_normalization::char::is_combining_mark;

use super::content::{PagePen, note};
use super::fonts::{font_name, width};
use super::rounded;
use crate::layout::{GlyphRun, LaidGlyph, LaidLine};
use crate::names::{Direction, PageSpace, PanelPoint};

/// A glyph of a run and how far from the run's left edge its pen stands, in font units.
struct PlacedGlyph<'r> {
    glyph: &'r LaidGlyph,
    pen: i32,
}

/// Glyphs that follow each other and are read the same way: each by its own code, or all together as an ActualText.
struct GlyphReading<'t> {
    glyphs: Range<usize>,
    actual_text: Option<&'t str>,
}

/// Where the writing stands within a run: behind the last glyph, in thousandths of an em; or at the last place
/// moved to, in points.
#[derive(Default)]
struct TextPosition {
    pen: f64,
    line: (f32, f32),
}

impl PagePen<'_> {
    /// Shows the runs of a line in the order of its text.
    pub(super) fn show_runs(&mut self, line: &LaidLine, space: &PageSpace) {
        for run in &line.runs {
            let Some((font, size)) = self.begin_run(run, space) else {
                continue;
            };
            self.show_readings(line, &in_reading_order(run), run, (font, size));
        }
    }

    fn show_readings(
        &mut self,
        line: &LaidLine,
        shown: &[PlacedGlyph<'_>],
        run: &GlyphRun,
        (font, size): (usize, f32),
    ) {
        let mut at = TextPosition::default();
        let reads_as = |glyph, text: &str| self.fonts.reads_as(font, glyph, text);
        for reading in readings(shown, &line.text, run.reads, reads_as) {
            if let Some(text) = reading.actual_text {
                self.begin_actual_text(text);
            }
            self.show_glyphs(&shown[reading.glyphs], run, (font, size), &mut at);
            if reading.actual_text.is_some() {
                self.content.end_marked_content();
            }
        }
    }

    fn show_glyphs(
        &mut self,
        glyphs: &[PlacedGlyph<'_>],
        run: &GlyphRun,
        (font, size): (usize, f32),
        at: &mut TextPosition,
    ) {
        match run.reads {
            Direction::LeftToRight => self.show_on(glyphs, run, font, size, at),
            Direction::RightToLeft => self.show_singly(glyphs, run, font, size, at),
        }
    }

    /// Sets the font of a run and moves to its left edge; gives the font's number and the size in points.
    fn begin_run(&mut self, run: &GlyphRun, space: &PageSpace) -> Option<(usize, f32)> {
        let font = self.fonts.index_of(run)?;
        note(&mut self.drawn.fonts, font);
        let size = self.units(space.length(run.size));
        self.content
            .set_font(Name(font_name(font).as_bytes()), size);
        let at = space.point(PanelPoint {
            x: run.x,
            y: run.baseline,
        });
        let (x, y) = (self.units(at.x), self.units(at.y));
        self.content.set_text_matrix([1.0, 0.0, 0.0, 1.0, x, y]);
        Some((font, size))
    }

    fn begin_actual_text(&mut self, text: &str) {
        let mut mark = self
            .content
            .begin_marked_content_with_properties(Name(b"Span"));
        mark.properties().actual_text(TextStr(text));
        drop(mark);
    }

    /// Shows glyphs with as few `TJ` as can be: the pen goes on from glyph to glyph.
    fn show_on(
        &mut self,
        glyphs: &[PlacedGlyph<'_>],
        run: &GlyphRun,
        font: usize,
        size: f32,
        at: &mut TextPosition,
    ) {
        for same_height in glyphs.chunk_by(|a, b| a.glyph.dy == b.glyph.dy) {
            let rise = same_height[0].glyph.dy;
            if rise != 0 {
                self.content.set_rise(points(run, rise, size));
            }
            let mut positioned = self.content.show_positioned();
            let mut items = positioned.items();
            let mut codes: Vec<u8> = Vec::new();
            for PlacedGlyph { glyph, pen } in same_height {
                // TJ numbers move back.
                let forward = rounded(em(run, pen + glyph.dx) - at.pen);
                if forward != 0.0 {
                    if !codes.is_empty() {
                        items.show(Str(&codes));
                        codes.clear();
                    }
                    items.adjust(-forward);
                }
                codes.extend(self.fonts.code(font, glyph.id).to_be_bytes());
                at.pen += f64::from(forward) + f64::from(width(&run.face, glyph.id));
            }
            items.show(Str(&codes));
            drop(items);
            drop(positioned);
            if rise != 0 {
                self.content.set_rise(0.0);
            }
        }
    }

    /// Shows each glyph with a `Td` and a `Tj` of its own.
    fn show_singly(
        &mut self,
        glyphs: &[PlacedGlyph<'_>],
        run: &GlyphRun,
        font: usize,
        size: f32,
        at: &mut TextPosition,
    ) {
        for PlacedGlyph { glyph, pen } in glyphs {
            let x = points(run, pen + glyph.dx, size) - at.line.0;
            let y = points(run, glyph.dy, size) - at.line.1;
            let (x, y) = (rounded(f64::from(x)), rounded(f64::from(y)));
            self.content.next_line(x, y);
            at.line = (at.line.0 + x, at.line.1 + y);
            let code = self.fonts.code(font, glyph.id).to_be_bytes();
            self.content.show(Str(&code));
        }
    }
}

/// Font units in thousandths of an em.
fn em(run: &GlyphRun, units: i32) -> f64 {
    f64::from(units) * 1000.0 / f64::from(run.face.metrics().units_per_em.max(1))
}

/// Font units in the units of a size.
fn points(run: &GlyphRun, units: i32, size: f32) -> f32 {
    rounded(em(run, units) / 1000.0 * f64::from(size))
}

/// The glyphs in the order of the text, those of one cluster that stand for nothing by themselves behind the
/// one that stands for it all.
fn in_reading_order(run: &GlyphRun) -> Vec<PlacedGlyph<'_>> {
    let mut pen = 0;
    let mut start = 0;
    let keyed = run.glyphs.iter().map(|glyph| {
        if !glyph.text.is_empty() || glyph.added.is_some() {
            start = glyph.text.start;
        }
        let shown = PlacedGlyph { glyph, pen };
        pen += glyph.advance;
        (start, shown)
    });
    let mut keyed: Vec<(usize, PlacedGlyph<'_>)> = keyed.collect();
    keyed.sort_by_key(|(start, _)| *start);
    keyed.into_iter().map(|(_, shown)| shown).collect()
}

/// What a hyphen reads as that is there only because a line ends (ISO 32000-1, 14.8.2.2.3, from memory): alone, so that no reader has
/// the halves of a word and the whole of it.
const SOFT_HYPHEN: &str = "\u{ad}";

/// How the glyphs of a run are read, in the order of the text. `reads_as` tells whether a glyph by itself reads as a text.
fn readings<'t>(
    shown: &[PlacedGlyph<'_>],
    text: &'t str,
    reads: Direction,
    reads_as: impl Fn(u16, &str) -> bool,
) -> Vec<GlyphReading<'t>> {
    let mut readings: Vec<GlyphReading<'t>> = Vec::new();
    let mut from = 0;
    let own = |shown: &PlacedGlyph<'_>| &text[shown.glyph.text.clone()];
    while from < shown.len() {
        if shown[from].glyph.added == Some('-') {
            readings.push(GlyphReading {
                glyphs: from..from + 1,
                actual_text: Some(SOFT_HYPHEN),
            });
            from += 1;
            continue;
        }
        // A cluster: a glyph with a letter, and those behind it with its marks or with nothing of their own.
        let goes_on = |shown: &&PlacedGlyph<'_>| {
            let first = own(shown).chars().next();
            shown.glyph.added.is_none() && first.is_none_or(is_combining_mark)
        };
        let more = shown[from + 1..].iter().take_while(goes_on);
        let to = from + 1 + more.count();
        let cluster = &shown[from..to];
        let plain = cluster.iter().all(|shown| {
            let glyph = shown.glyph;
            let moved = cluster.len() > 1 && (glyph.dx, glyph.dy) != (0, 0);
            let reads = !glyph.text.is_empty() && reads_as(glyph.id, own(shown));
            !moved && (reads || glyph.added.is_some())
        });
        match readings.last_mut() {
            Some(last) if plain && last.actual_text.is_none() => last.glyphs.end = to,
            _ if plain => readings.push(GlyphReading {
                glyphs: from..to,
                actual_text: None,
            }),
            _ => {
                let start = shown[from].glyph.text.start;
                let ends = cluster.iter().map(|shown| shown.glyph.text.end);
                let whole = &text[start..ends.max().unwrap_or(start).max(start)];
                let apart = reads.is_right_to_left() && are_marks(&cluster[1..]);
                let letter = if apart { from + 1 } else { to };
                readings.push(GlyphReading {
                    glyphs: from..letter,
                    actual_text: Some(whole),
                });
                if letter < to {
                    readings.push(GlyphReading {
                        glyphs: letter..to,
                        actual_text: Some(""),
                    });
                }
            }
        }
        from = to;
    }
    readings
}

/// Whether none of these glyphs moves the pen.
fn are_marks(glyphs: &[PlacedGlyph<'_>]) -> bool {
    glyphs.iter().all(|shown| shown.glyph.advance == 0)
}
