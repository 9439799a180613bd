//! Parley lays out, krilla writes.

use std::sync::Arc;

use krilla::Document;
use krilla::geom::Point;
use krilla::page::PageSettings;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use parley::fontique::{Blob, Collection, CollectionOptions};
use parley::{FontContext, FontFamily, Layout, LayoutContext, Line, LineHeight, StyleProperty};

use super::{FONT, FOOT, HEAD, INDENT, LEADING, LEFT, PAGE, SIZE, paragraphs};

/// The lines of a text; gives how many.
pub fn lines(text: &str) -> usize {
    let mut lines = 0;
    lay_out(text, |_, _| lines += 1);
    lines
}

/// A text as a PDF file.
pub fn pdf(text: &str) -> Vec<u8> {
    let font = Font::new(FONT.to_vec().into(), 0).expect("our own font");
    let mut pages = Pages::new(font);
    lay_out(text, |paragraph, line| pages.add(paragraph, line));
    pages.finish()
}

fn lay_out(text: &str, mut line_of: impl FnMut(&str, &Line<'_, ()>)) {
    let mut fonts = FontContext {
        collection: Collection::new(CollectionOptions {
            system_fonts: false,
            ..CollectionOptions::default()
        }),
        ..FontContext::default()
    };
    fonts
        .collection
        .register_fonts(Blob::new(Arc::new(FONT)), None);
    let mut layouts: LayoutContext<()> = LayoutContext::new();
    for paragraph in paragraphs(text) {
        let mut builder = layouts.ranged_builder(&mut fonts, &paragraph, 1.0, false);
        builder.push_default(StyleProperty::FontFamily(FontFamily::named("Alegreya")));
        builder.push_default(StyleProperty::FontSize(SIZE));
        builder.push_default(StyleProperty::LineHeight(LineHeight::Absolute(LEADING)));
        let mut layout: Layout<()> = builder.build(&paragraph);
        layout.set_text_indent(INDENT, Default::default());
        layout.break_all_lines(Some(PAGE.0 - 2.0 * LEFT));
        layout.align(Default::default(), Default::default());
        for line in layout.lines() {
            line_of(&paragraph, &line);
        }
    }
}

/// Lines on pages, and glyphs on the lines.
struct Pages {
    document: Document,
    font: Font,
    /// The lines of the page that is being filled.
    lines: Vec<Vec<Run>>,
}

struct Run {
    x: f32,
    size: f32,
    text: String,
    glyphs: Vec<KrillaGlyph>,
}

impl Pages {
    fn new(font: Font) -> Pages {
        Pages {
            document: Document::new(),
            font,
            lines: Vec::new(),
        }
    }

    fn add(&mut self, text: &str, line: &Line<'_, ()>) {
        let mut x = LEFT + line.metrics().offset;
        let runs = line.runs().map(|run| {
            let (begins, size, range) = (x, run.font_size(), run.text_range());
            let mut glyphs: Vec<KrillaGlyph> = Vec::new();
            for cluster in run.visual_clusters() {
                let own = cluster.text_range();
                let own = own.start - range.start..own.end - range.start;
                if cluster.is_ligature_continuation() {
                    if let Some(glyph) = glyphs.last_mut() {
                        glyph.text_range.end = own.end;
                    }
                    continue;
                }
                for glyph in cluster.glyphs() {
                    let id = GlyphId::new(glyph.id);
                    let (advance, dx, dy) = (glyph.advance / size, glyph.x / size, glyph.y / size);
                    let made = KrillaGlyph::new(id, advance, dx, dy, 0.0, own.clone(), None);
                    glyphs.push(made);
                    x += glyph.advance;
                }
            }
            Run {
                x: begins,
                size,
                text: text[range].to_string(),
                glyphs,
            }
        });
        self.lines.push(runs.collect());
        if self.lines.len() == ((PAGE.1 - HEAD - FOOT) / LEADING) as usize {
            self.turn();
        }
    }

    /// Finishes a page.
    fn turn(&mut self) {
        let size = PageSettings::from_wh(PAGE.0, PAGE.1).expect("a page's size");
        let mut page = self.document.start_page_with(size);
        let mut surface = page.surface();
        for (number, line) in self.lines.drain(..).enumerate() {
            let y = HEAD + SIZE + number as f32 * LEADING;
            for run in line {
                let (at, font) = (Point::from_xy(run.x, y), self.font.clone());
                surface.draw_glyphs(at, &run.glyphs, font, &run.text, run.size, false);
            }
        }
        surface.finish();
        page.finish();
    }

    fn finish(mut self) -> Vec<u8> {
        if !self.lines.is_empty() {
            self.turn();
        }
        self.document.finish().expect("a document of words alone")
    }
}
