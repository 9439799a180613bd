//! Showing the glyphs of a run in the order in which they are read.
//!
//! Readers of PDF differ in what they make of words that run from right to left. Shown glyph by glyph in the
//! order of the text, each moved to its place, such words are read letter by letter in their order by poppler,
//! PDFium and MuPDF (`tests/outside` asks them); in one string with moves back, or in the order of the eye, by
//! fewer. What each glyph reads as is said in `reads`.

use pdf_writer::{Name, Str, TextStr};

use super::content::{LineSpace, PagePen, Turn, note};
use super::fonts::{DOWN, font_name};
use super::reads::{ReadGlyph, off_middle, run_reading};
use super::rounded;
use crate::layout::{GlyphRun, LaidLine};
use crate::names::Direction;

/// A glyph as it is shown.
struct CodedGlyph<'r> {
    read: &'r ReadGlyph<'r>,
    /// Its code: one that reads as the glyph is to be read, or its own.
    code: u16,
    /// Whether the code reads so.
    reads_so: bool,
    /// Its number in the subset.
    own: u16,
    /// How wide it is, in thousandths of an em.
    width: f32,
}

/// Where the writing stands within a run: behind the last glyph, in thousandths of an em; or at the last place
/// moved to, in points.
#[derive(Default)]
struct TextPosition {
    pen: f64,
    line: (f32, f32),
}

impl PagePen<'_> {
    /// Shows the runs of a line in the order of its text, and behind them the marks that read as nothing.
    pub(super) fn show_runs(&mut self, line: &LaidLine, space: &LineSpace<'_>) {
        let mut marks = Vec::new();
        for run in &line.runs {
            let Some((font, size)) = self.begin_run(line, run, space) else {
                continue;
            };
            let reading = run_reading(run, &line.text);
            self.show_read(&reading.read, run, (font, size));
            if !reading.marks.is_empty() {
                marks.push((run, reading.marks));
            }
        }
        if marks.is_empty() {
            return;
        }
        self.begin_actual_text("");
        for (run, marks) in &marks {
            if let Some((font, size)) = self.begin_run(line, run, space) {
                let coded = self.coded(marks, font);
                let mut at = TextPosition::default();
                match run.upright {
                    true => self.show_down(&coded, run, size, &mut at),
                    false => self.show_singly(&coded, run, size, &mut at),
                }
            }
        }
        self.content.end_marked_content();
    }

    /// Shows glyphs that read as something: each by a code that says so, or those of a cluster under an ActualText.
    fn show_read(&mut self, read: &[ReadGlyph<'_>], run: &GlyphRun, (font, size): (usize, f32)) {
        let mut coded = self.coded(read, font);
        let mut at = TextPosition::default();
        let mut rest = coded.as_mut_slice();
        while !rest.is_empty() {
            let (by_codes, count) = alike(rest);
            let (glyphs, behind) = rest.split_at_mut(count);
            rest = behind;
            if !by_codes {
                self.begin_actual_text(glyphs[0].read.opens.unwrap_or_default());
                // Whatever a code reads as, something else says what the glyphs do.
                let told = glyphs.iter_mut().filter(|glyph| !glyph.read.as_one);
                told.for_each(|glyph| glyph.code = glyph.own);
            }
            match run.reads {
                _ if run.upright => self.show_down(glyphs, run, size, &mut at),
                Direction::LeftToRight => self.show_on(glyphs, run, size, &mut at),
                Direction::RightToLeft => self.show_singly(glyphs, run, size, &mut at),
            }
            if !by_codes {
                self.content.end_marked_content();
            }
        }
    }

    /// Glyphs with their codes.
    fn coded<'r>(&self, read: &'r [ReadGlyph<'r>], font: usize) -> Vec<CodedGlyph<'r>> {
        let coded = read.iter().map(|read| {
            let shown = self.fonts.shown(font, read.glyph.id);
            let code = read.reads.as_deref().zip(shown);
            let code = code.and_then(|(text, shown)| self.fonts.reading_code(font, shown, text));
            let (own, width) = shown.map_or((0, 0.0), |shown| (shown.code, shown.width));
            CodedGlyph {
                read,
                code: code.unwrap_or(own),
                reads_so: code.is_some(),
                own,
                width,
            }
        });
        coded.collect()
    }

    /// Sets the font of a run and moves to its left edge; gives the font's number and the size in points.
    fn begin_run(
        &mut self,
        line: &LaidLine,
        run: &GlyphRun,
        space: &LineSpace<'_>,
    ) -> Option<(usize, f32)> {
        let font = self.fonts.index_of(run)?;
        note(&mut self.drawn.fonts, font);
        let size = self.units(space.length(run.size));
        self.content
            .set_font(Name(font_name(font).as_bytes()), size);
        let at = match run.upright {
            true => space.start_of_middle(line, run),
            false => space.start(line, run),
        };
        let at = (self.units(at.x), self.units(at.y));
        let turn = Turn::of_glyphs(line, run);
        self.content.set_text_matrix(turn.matrix(at));
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
        glyphs: &[CodedGlyph<'_>],
        run: &GlyphRun,
        size: f32,
        at: &mut TextPosition,
    ) {
        for same_height in glyphs.chunk_by(|a, b| a.read.glyph.dy == b.read.glyph.dy) {
            let rise = same_height[0].read.glyph.dy;
            if rise != 0 {
                self.content.set_rise(points(run, rise, size));
            }
            let mut positioned = self.content.show_positioned();
            let mut items = positioned.items();
            let mut codes: Vec<u8> = Vec::with_capacity(same_height.len() * 2);
            for shown in same_height {
                let (glyph, pen) = (shown.read.glyph, shown.read.pen);
                // TJ numbers move back.
                let forward = rounded(em(run, pen + glyph.dx) - at.pen);
                if forward != 0.0 {
                    if !codes.is_empty() {
                        items.show(Str(&codes));
                        codes.clear();
                    }
                    items.adjust(-forward);
                }
                codes.extend(shown.code.to_be_bytes());
                at.pen += f64::from(forward) + f64::from(shown.width);
            }
            items.show(Str(&codes));
            drop(items);
            drop(positioned);
            if rise != 0 {
                self.content.set_rise(0.0);
            }
        }
    }

    /// Shows upright glyphs of a line that runs down, in a font that writes downwards: with as few `TJ` as can be, and a
    /// `Td` to those that do not stand in the middle of the line.
    fn show_down(
        &mut self,
        glyphs: &[CodedGlyph<'_>],
        run: &GlyphRun,
        size: f32,
        at: &mut TextPosition,
    ) {
        let off = |shown: &CodedGlyph<'_>| off_middle(run, shown.read.glyph);
        let along = |shown: &CodedGlyph<'_>| {
            let units = shown.read.pen + shown.read.glyph.dx;
            em(run, units) - f64::from(DOWN.0)
        };
        let in_points = |thousandths: f64| rounded(thousandths / 1000.0 * f64::from(size));
        for column in glyphs.chunk_by(|a, b| off(a) == off(b)) {
            let first = along(&column[0]);
            let x = in_points(f64::from(off(&column[0])));
            if x != at.line.0 {
                let y = -in_points(first);
                let by = (x - at.line.0, y - at.line.1);
                self.content
                    .next_line(rounded(f64::from(by.0)), rounded(f64::from(by.1)));
                (at.line, at.pen) = ((x, y), first);
            }
            let mut positioned = self.content.show_positioned();
            let mut items = positioned.items();
            let mut codes: Vec<u8> = Vec::new();
            for shown in column {
                // In a font that writes downwards TJ numbers move down.
                let forward = rounded(along(shown) - at.pen);
                if forward != 0.0 {
                    if !codes.is_empty() {
                        items.show(Str(&codes));
                        codes.clear();
                    }
                    items.adjust(forward);
                }
                codes.extend(shown.code.to_be_bytes());
                at.pen += f64::from(forward) + f64::from(DOWN.1);
            }
            items.show(Str(&codes));
        }
    }

    /// Shows each glyph with a `Td` and a `Tj` of its own.
    fn show_singly(
        &mut self,
        glyphs: &[CodedGlyph<'_>],
        run: &GlyphRun,
        size: f32,
        at: &mut TextPosition,
    ) {
        for shown in glyphs {
            let (glyph, pen) = (shown.read.glyph, shown.read.pen);
            let x = points(run, pen + glyph.dx, size) - at.line.0;
            let y = points(run, glyph.dy, size) - at.line.1;
            let (x, y) = (rounded(f64::from(x)), rounded(f64::from(y)));
            self.content.next_line(x, y);
            at.line = (at.line.0 + x, at.line.1 + y);
            self.content.show(Str(&shown.code.to_be_bytes()));
        }
    }
}

/// How many glyphs from the first on are shown alike, and whether by codes that read as they are to be read: all clusters
/// of which that is so, or one cluster of which it is not.
fn alike(glyphs: &[CodedGlyph<'_>]) -> (bool, usize) {
    let by_codes = |cluster: &[CodedGlyph<'_>]| {
        let mut glyphs = cluster.iter();
        glyphs.all(|glyph| glyph.reads_so && !glyph.read.as_one)
    };
    let mut clusters = glyphs.chunk_by(|_, next| next.read.opens.is_none());
    let Some(first) = clusters.next() else {
        return (true, 0);
    };
    match by_codes(first) {
        true => {
            let more = clusters.take_while(|cluster| by_codes(cluster));
            (true, first.len() + more.map(<[_]>::len).sum::<usize>())
        }
        false => (false, first.len()),
    }
}

/// Font units in thousandths of an em.
pub(super) fn em(run: &GlyphRun, units: i32) -> f64 {
    f64::from(units) * 1000.0 / f64::from(run.face.metrics().units_per_em.max(1))
}

/// Font units in the units of a size.
fn points(run: &GlyphRun, units: i32, size: f32) -> f32 {
    rounded(em(run, units) / 1000.0 * f64::from(size))
}
