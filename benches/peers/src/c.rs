//! C libraries: HarfBuzz shapes each paragraph once; Pango lays out, justified, and cairo writes.

use harfbuzz_rs::{Face, Font, Owned, UnicodeBuffer, shape};
use pango::{FontDescription, Layout, SCALE, WrapMode};

use super::{FONT, FOOT, HEAD, INDENT, LEADING, LEFT, PAGE, SIZE, paragraphs};

/// One pass of HarfBuzz over a text; gives the number of glyphs.
pub fn shaping(text: &str) -> usize {
    let font: Owned<Font> = Font::new(Face::from_bytes(FONT, 0));
    paragraphs(text)
        .map(|paragraph| shape(&font, UnicodeBuffer::new().add_str(&paragraph), &[]).len())
        .sum()
}

/// The lines of a text; gives how many.
pub fn lines(text: &str) -> usize {
    let surface = surface();
    let context = cairo::Context::new(&surface).expect("a context");
    let layout = layout(&context);
    paragraphs(text)
        .map(|paragraph| {
            layout.set_text(&paragraph);
            layout.line_count() as usize
        })
        .sum()
}

/// A text as a PDF file.
pub fn pdf(text: &str) -> Vec<u8> {
    let surface = surface();
    let context = cairo::Context::new(&surface).expect("a context");
    let layout = layout(&context);
    let mut y = HEAD + SIZE;
    for paragraph in paragraphs(text) {
        layout.set_text(&paragraph);
        for number in 0..layout.line_count() {
            if y > PAGE.1 - FOOT {
                context.show_page().expect("a page");
                y = HEAD + SIZE;
            }
            let indent = if number == 0 { INDENT } else { 0.0 };
            context.move_to((LEFT + indent).into(), y.into());
            let line = layout.line_readonly(number).expect("a line");
            pangocairo::functions::show_layout_line(&context, &line);
            y += LEADING;
        }
    }
    let written = surface.finish_output_stream().expect("a finished file");
    *written.downcast().expect("the bytes that were given")
}

fn surface() -> cairo::PdfSurface {
    cairo::PdfSurface::for_stream(PAGE.0.into(), PAGE.1.into(), Vec::new()).expect("a surface")
}

fn layout(context: &cairo::Context) -> Layout {
    let layout = pangocairo::functions::create_layout(context);
    // A pixel is a point here.
    layout.context().set_round_glyph_positions(false);
    pangocairo::functions::context_set_resolution(&layout.context(), 72.0);
    let mut face = FontDescription::from_string("Alegreya");
    face.set_size((SIZE * SCALE as f32) as i32);
    layout.set_font_description(Some(&face));
    layout.set_width(((PAGE.0 - 2.0 * LEFT) * SCALE as f32) as i32);
    layout.set_indent((INDENT * SCALE as f32) as i32);
    layout.set_wrap(WrapMode::Word);
    layout.set_justify(true);
    layout
}
