//! What general-purpose libraries can do of the main job: the lines of a text filled one by one, ragged and not
//! hyphenated, on the pages of one PDF file. In the face, at the size and to the measure of `benches/prose.rs`, so
//! that its figures can stand beside these.
//!
//! `peers TEXT` reads a text whose paragraphs are parted by blank lines, and prints the median of a few runs in
//! milliseconds: from the words in memory to the written file, all that the libraries remember made anew.

use std::process::ExitCode;
use std::sync::Arc;
use std::time::Instant;

use krilla::Document;
use krilla::geom::Point;
use krilla::page::PageSettings;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use parley::fontique::{Blob, Collection, CollectionOptions};
use parley::{FontContext, FontFamily, Layout, LayoutContext, Line, LineHeight, StyleProperty};

const FONT: &[u8] = include_bytes!("../../../fonts-open/alegreya/Alegreya-Regular.ttf");
const RUNS: usize = 5;

// As in the plan of `benches/prose.rs`, in points.
const MM: f32 = 72.0 / 25.4;
const PAGE: (f32, f32) = (105.0 * MM, 297.0 * MM);
const LEFT: f32 = 11.0 * MM;
const HEAD: f32 = 14.0 * MM;
const FOOT: f32 = 16.0 * MM;
const SIZE: f32 = 11.0;
const LEADING: f32 = 15.0;
const INDENT: f32 = SIZE;

fn main() -> ExitCode {
    let read = std::env::args().nth(1).map(std::fs::read_to_string);
    let Some(Ok(text)) = read else {
        eprintln!("usage: peers TEXT, a file of paragraphs parted by blank lines");
        return ExitCode::from(2);
    };
    let folder = std::env::temp_dir();
    let name = folder.join(format!("peers-{}.pdf", std::process::id()));
    let mut times = Vec::with_capacity(RUNS);
    for _ in 0..RUNS {
        let begun = Instant::now();
        if let Err(error) = std::fs::write(&name, set(&text)) {
            eprintln!("{} cannot be written: {error}", name.display());
            return ExitCode::FAILURE;
        }
        times.push(begun.elapsed().as_secs_f64() * 1000.0);
    }
    if std::env::var_os("PEERS_KEEP").is_some() {
        eprintln!("kept: {}", name.display());
    } else {
        let _ = std::fs::remove_file(&name);
    }
    times.sort_by(f64::total_cmp);
    println!("{:.3}", times[RUNS / 2]);
    ExitCode::SUCCESS
}

/// The text as a PDF file.
fn set(text: &str) -> Vec<u8> {
    let mut fonts = FontContext {
        collection: Collection::new(CollectionOptions {
            system_fonts: false,
            ..CollectionOptions::default()
        }),
        ..FontContext::default()
    };
    let data = Blob::new(Arc::new(FONT));
    fonts.collection.register_fonts(data, None);
    let font = Font::new(FONT.to_vec().into(), 0).expect("our own font");
    let mut layouts: LayoutContext<()> = LayoutContext::new();
    let mut pages = Pages::new(font);
    let paragraphs = text.split("\n\n").map(str::trim);
    for paragraph in paragraphs.filter(|paragraph| !paragraph.is_empty()) {
        let paragraph = paragraph.replace('\n', " ");
        let mut builder = layouts.ranged_builder(&mut fonts, &paragraph, 1.0, false);
        builder.push_default(StyleProperty::FontFamily(FontFamily::named("Alegreya")));
        builder.push_default(StyleProperty::FontSize(SIZE));
        builder.push_default(StyleProperty::LineHeight(LineHeight::Absolute(LEADING)));
        let mut layout: Layout<()> = builder.build(&paragraph);
        layout.set_text_indent(INDENT, Default::default());
        layout.break_all_lines(Some(PAGE.0 - 2.0 * LEFT));
        layout.align(Default::default(), Default::default());
        for line in layout.lines() {
            pages.add(&paragraph, &line);
        }
    }
    pages.finish()
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
