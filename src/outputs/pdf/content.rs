//! Drawing a page's content stream.

mod divided;

use pdf_writer::types::ArtifactType;
use pdf_writer::{Content, Name, Settings, Str, TextStr};

use super::fonts::{Fonts, font_name, width};
use super::inks::Inks;
use super::{Document, Drawing, Page, rounded};
use crate::layout::{GlyphRun, LaidGlyph, LaidLine};
use crate::outputs::WordsAs;
use crate::plan::Ink;
use crate::typeface::Outline;
use crate::units::{Length, PageSpace, PanelPoint};
use divided::Stretch;

/// A drawn page.
pub(super) struct Drawn {
    pub bytes: Vec<u8>,
    /// Where in the page's drawings each marked content is: (drawing, line), by its number.
    pub marked: Vec<(usize, usize)>,
    pub fonts: Vec<usize>,
    pub inks: Vec<usize>,
}

/// Draws a page.
pub(super) fn draw(
    document: &Document<'_>,
    page: &Page<'_>,
    fonts: &Fonts<'_>,
    inks: &Inks,
) -> Drawn {
    let mut pen = Pen {
        content: Content::with_settings(Settings { pretty: false }),
        fonts,
        inks,
        words_as: document.words_as,
        ink: None,
        drawn: Drawn {
            bytes: Vec::new(),
            marked: Vec::new(),
            fonts: Vec::new(),
            inks: Vec::new(),
        },
    };
    for (index, drawing) in page.drawings.iter().enumerate() {
        match drawing {
            Drawing::Words { panel, space } => {
                let mut number = 0;
                for lines in panel.lines.chunk_by(divided::are_one) {
                    pen.words(lines, space, (index, number));
                    number += lines.len();
                }
            }
            Drawing::Label { line, space } => pen.label(line, space),
            Drawing::Box { at, fill, stroke } => pen.boxed(*at, *fill, *stroke),
            Drawing::Rule {
                from,
                to,
                grey,
                dashes,
            } => pen.rule(*from, *to, *grey, dashes),
        }
    }
    let mut drawn = pen.drawn;
    drawn.bytes = pen.content.finish().into_vec();
    drawn
}

struct Pen<'a> {
    content: Content,
    fonts: &'a Fonts<'a>,
    inks: &'a Inks,
    words_as: WordsAs,
    /// The ink that is set.
    ink: Option<Ink>,
    drawn: Drawn,
}

impl Pen<'_> {
    /// `BDC … EMC`: a line of the book's words, or the lines of a paragraph.
    fn words(&mut self, lines: &[LaidLine], space: &PageSpace, at: (usize, usize)) {
        let Some(first) = lines.iter().find(|line| !line.runs.is_empty()) else {
            return;
        };
        self.set_ink(&first.ink);
        let number = self.drawn.marked.len() as i32;
        self.drawn.marked.push(at);
        let mut mark = self
            .content
            .begin_marked_content_with_properties(Name(b"Span"));
        let mut properties = mark.properties();
        properties.identify(number);
        if self.words_as == WordsAs::Paths {
            properties.actual_text(TextStr(&divided::joined(lines)));
        }
        drop(properties);
        drop(mark);
        match self.words_as {
            WordsAs::Text => self.show(lines, space),
            WordsAs::Paths => lines.iter().for_each(|line| self.trace(line, space)),
        }
        self.content.end_marked_content();
    }

    fn label(&mut self, line: &LaidLine, space: &PageSpace) {
        self.set_ink(&line.ink);
        self.begin_artifact();
        self.show(std::slice::from_ref(line), space);
        self.content.end_marked_content();
    }

    fn begin_artifact(&mut self) {
        self.content
            .begin_marked_content_with_properties(Name(b"Artifact"))
            .properties()
            .artifact()
            .kind(ArtifactType::Layout);
    }

    fn set_ink(&mut self, ink: &Ink) {
        if self.ink.as_ref() != Some(ink) {
            self.inks.apply(ink, &mut self.content);
            self.ink = Some(ink.clone());
        }
        note(&mut self.drawn.inks, self.inks.index_of(ink));
    }

    /// `BT … ET`: one `Tm` and as few `TJ` as can be for each run.
    fn show(&mut self, lines: &[LaidLine], space: &PageSpace) {
        self.content.begin_text();
        let mut within = false;
        for (line, stretches) in lines.iter().zip(divided::stretches(lines)) {
            for run in &line.runs {
                let Some(font) = self.fonts.index_of(run) else {
                    continue;
                };
                note(&mut self.drawn.fonts, font);
                let size = rounded(f64::from(space.length(run.size)));
                self.content
                    .set_font(Name(font_name(font).as_bytes()), size);
                let at = space.point(PanelPoint {
                    x: run.x,
                    y: run.baseline,
                });
                let (x, y) = (rounded(f64::from(at.x)), rounded(f64::from(at.y)));
                self.content.set_text_matrix([1.0, 0.0, 0.0, 1.0, x, y]);
                for (stretch, glyphs) in stretches.cut(run) {
                    within = self.enter(&stretch, within);
                    let shown = &run.glyphs[glyphs];
                    if within {
                        self.show_glyphs(shown, run, font, size);
                    } else {
                        self.show_readings(line, shown, run, font, size);
                    }
                }
            }
            if within && !stretches.goes_on() {
                self.content.end_marked_content();
                within = false;
            }
        }
        self.content.end_text();
    }

    /// Begins or ends the `Span` of a divided word, whose halves read as one through its ActualText. Gives
    /// whether what follows stands within one.
    fn enter(&mut self, stretch: &Stretch<'_>, within: bool) -> bool {
        match stretch {
            Stretch::Plain if within => {
                self.content.end_marked_content();
                false
            }
            Stretch::Divided(word) if !within => {
                let mut mark = self
                    .content
                    .begin_marked_content_with_properties(Name(b"Span"));
                mark.properties().actual_text(TextStr(word));
                drop(mark);
                true
            }
            _ => within,
        }
    }

    fn show_readings(
        &mut self,
        line: &LaidLine,
        glyphs: &[LaidGlyph],
        run: &GlyphRun,
        font: usize,
        size: f32,
    ) {
        for piece in readings(glyphs, &line.text, |glyph, text| {
            self.fonts.reads_as(font, glyph, text)
        }) {
            if let Some(text) = piece.actual_text {
                let mut mark = self
                    .content
                    .begin_marked_content_with_properties(Name(b"Span"));
                mark.properties().actual_text(TextStr(text));
                drop(mark);
            }
            self.show_glyphs(&glyphs[piece.glyphs], run, font, size);
            if piece.actual_text.is_some() {
                self.content.end_marked_content();
            }
        }
    }

    /// Shows glyphs, each where its advances and offsets put it.
    fn show_glyphs(&mut self, glyphs: &[LaidGlyph], run: &GlyphRun, font: usize, size: f32) {
        let upem = f64::from(run.face.metrics().units_per_em.max(1));
        let em = |units: i32| f64::from(units) * 1000.0 / upem;
        for same_height in glyphs.chunk_by(|a, b| a.dy == b.dy) {
            let rise = same_height[0].dy;
            if rise != 0 {
                self.content
                    .set_rise(rounded(em(rise) / 1000.0 * f64::from(size)));
            }
            let mut positioned = self.content.show_positioned();
            let mut items = positioned.items();
            let mut codes: Vec<u8> = Vec::new();
            let mut pending = 0.0;
            for glyph in same_height {
                // TJ numbers move back; `pending` is how far forward the pen still has to go.
                let before = rounded(pending + em(glyph.dx));
                if before != 0.0 {
                    if !codes.is_empty() {
                        items.show(Str(&codes));
                        codes.clear();
                    }
                    items.adjust(-before);
                }
                codes.extend(self.fonts.code(font, glyph.id).to_be_bytes());
                let drift = pending + em(glyph.dx) - f64::from(before);
                pending =
                    drift + em(glyph.advance - glyph.dx) - f64::from(width(&run.face, glyph.id));
            }
            if !codes.is_empty() {
                items.show(Str(&codes));
            }
            let after = rounded(pending);
            if after != 0.0 {
                items.adjust(-after);
            }
            drop(items);
            drop(positioned);
            if rise != 0 {
                self.content.set_rise(0.0);
            }
        }
    }

    /// Fills the outlines of a line's glyphs.
    fn trace(&mut self, line: &LaidLine, space: &PageSpace) {
        for run in &line.runs {
            let face = &run.face;
            let upem = f64::from(face.metrics().units_per_em.max(1));
            let scale = f64::from(space.length(run.size)) / upem;
            let start = space.point(PanelPoint {
                x: run.x,
                y: run.baseline,
            });
            let mut pen = 0;
            for glyph in &run.glyphs {
                let left = f64::from(start.x) + f64::from(pen + glyph.dx) * scale;
                let base = f64::from(start.y) + f64::from(glyph.dy) * scale;
                self.outline(&face.outline(glyph.id), (left, base), scale);
                pen += glyph.advance;
            }
        }
    }

    fn outline(&mut self, pieces: &[Outline], origin: (f64, f64), scale: f64) {
        let x = |x: f32| rounded(origin.0 + f64::from(x) * scale);
        let y = |y: f32| rounded(origin.1 + f64::from(y) * scale);
        let content = &mut self.content;
        for piece in pieces {
            match *piece {
                Outline::Move(a, b) => content.move_to(x(a), y(b)),
                Outline::Line(a, b) => content.line_to(x(a), y(b)),
                Outline::Curve([a, b, c, d, e, f]) => {
                    content.cubic_to(x(a), y(b), x(c), y(d), x(e), y(f))
                }
                Outline::Close => content.close_path(),
            };
        }
        if !pieces.is_empty() {
            content.fill_nonzero();
        }
    }

    fn boxed(&mut self, at: [Length; 4], fill: Option<f32>, stroke: Option<f32>) {
        let [left, bottom, width, height] = at.map(|length| rounded(length.as_pt()));
        self.begin_artifact();
        if let Some(grey) = fill {
            self.content
                .set_fill_gray(grey)
                .rect(left, bottom, width, height)
                .fill_nonzero();
            self.ink = None;
        }
        if let Some(grey) = stroke {
            self.content
                .set_stroke_gray(grey)
                .set_line_width(0.4)
                .rect(left, bottom, width, height)
                .stroke();
        }
        self.content.end_marked_content();
    }

    fn rule(&mut self, from: (Length, Length), to: (Length, Length), grey: f32, dashes: &[f32]) {
        let pt = |length: Length| rounded(length.as_pt());
        self.begin_artifact();
        self.content
            .save_state()
            .set_stroke_gray(grey)
            .set_line_width(0.5)
            .set_dash_pattern(dashes.iter().copied(), 0.0)
            .move_to(pt(from.0), pt(from.1))
            .line_to(pt(to.0), pt(to.1))
            .stroke()
            .restore_state();
        self.content.end_marked_content();
    }
}

fn note(used: &mut Vec<usize>, index: usize) {
    if !used.contains(&index) {
        used.push(index);
    }
}

/// Glyphs of a run that read alike: by their own codes, or together as an ActualText.
struct ReadingPiece<'t> {
    glyphs: std::ops::Range<usize>,
    actual_text: Option<&'t str>,
}

fn readings<'t>(
    glyphs: &[LaidGlyph],
    text: &'t str,
    reads_as: impl Fn(u16, &str) -> bool,
) -> Vec<ReadingPiece<'t>> {
    let mut pieces: Vec<ReadingPiece<'t>> = Vec::new();
    let mut at = 0;
    while at < glyphs.len() {
        // A cluster: a glyph with text and those after it without.
        let goes_on = |glyph: &&LaidGlyph| glyph.text.is_empty() && glyph.added.is_none();
        let more = glyphs[at + 1..].iter().take_while(goes_on);
        let end = at + 1 + more.count();
        let cluster = &text[glyphs[at].text.clone()];
        let reads = reads_as(glyphs[at].id, cluster) || glyphs[at].added.is_some();
        let plain = end == at + 1 && reads;
        match pieces.last_mut() {
            Some(last) if plain && last.actual_text.is_none() => last.glyphs.end = end,
            _ => pieces.push(ReadingPiece {
                glyphs: at..end,
                actual_text: (!plain).then_some(cluster),
            }),
        }
        at = end;
    }
    pieces
}
