//! Fingerprints of what is shown, which outlive the program that made them.
//!
//! They stand in files that authors keep: a seal for each printed line in `breaks.toml`, and for each panel what its
//! layer shows in `layout.json`. So what is hashed is spelt out here byte by byte ([`Encoder`]), and does not hang on
//! how a type is named, ordered or printed. A face is known by the checksum of its font file, and a glyph by its number
//! in that face. Whoever changes what is encoded gives [`VERSION`] the next number: fingerprints of another version are
//! then told apart ([`age`]), and not taken for those of other glyphs.

mod encoder;
#[cfg(test)]
mod tests;

use super::{GlyphRun, LaidLine, LaidPanel, Layout};
use crate::names::Length;
use crate::typeface::Dots;
pub(crate) use encoder::Encoder;

/// The version of the encoding. A fingerprint begins with it: `1-5b0c…`.
pub const VERSION: u32 = 1;

/// How many bytes of its SHA-256 a line's seal keeps: by chance one of 2⁴⁸ corrected lines would be taken for another.
const OF_LINE: usize = 6;
/// How many bytes a panel's fingerprint keeps.
const OF_PANEL: usize = 16;

/// Which version of the program made a fingerprint, as far as it concerns this one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Age {
    /// One that encodes as this one does.
    Ours,
    /// An older one. The first wrote bare hexadecimal digits.
    Older,
    /// A newer one.
    Newer,
}

/// Which version made a fingerprint. What no version has written counts as ours, which it is not like.
pub fn age(fingerprint: &str) -> Age {
    let bare = !fingerprint.is_empty() && fingerprint.bytes().all(|b| b.is_ascii_hexdigit());
    let version = fingerprint.split_once('-');
    let version = version.and_then(|(version, _)| version.parse::<u32>().ok());
    match version {
        None if bare => Age::Older,
        Some(version) if version < VERSION => Age::Older,
        Some(version) if version > VERSION => Age::Newer,
        _ => Age::Ours,
    }
}

/// What tells a line's glyphs from all others, wherever they stand: their ink, and of each run its face, its size, where
/// it stands from the line's own beginning, and its glyphs with their advances and offsets.
pub fn seal(line: &LaidLine) -> String {
    let mut encoder = Encoder::new(VERSION, "line");
    encoder.ink(&line.ink);
    encoder.count(line.runs.len());
    encode_lines_run(&mut encoder, line);
    for run in &line.runs {
        let place = [run.size, run.x - line.x, run.baseline - line.baseline];
        encoder.numbers(place.map(Length::units));
        encode_glyphs(&mut encoder, run);
    }
    written(encoder, OF_LINE)
}

/// A fingerprint of what the layer of each panel shows, in their order: whoever has placed a layer need not replace it
/// while this stays.
pub fn shown(layout: &Layout) -> Vec<String> {
    let bleed = layout.strip.paper().bleed;
    let panels = layout.panels.iter();
    panels.map(|panel| shown_of(panel, bleed)).collect()
}

/// The same of one panel of a book with such a bleed: the page's size and its bleed; of each line the ink, and every glyph with its face, size and place. What a file says
/// of itself (its title, language, date and tags) is left out. Places are whole ten-thousandths of a millimetre, as in
/// all of `layout.json`.
pub(crate) fn shown_of(panel: &LaidPanel, bleed: Length) -> String {
    let mut encoder = Encoder::new(VERSION, "panel");
    encoder.numbers([panel.size.0, panel.size.1, bleed].map(fine));
    encoder.count(panel.lines.len());
    for line in &panel.lines {
        encoder.ink(&line.ink);
        encoder.count(line.runs.len());
        encode_lines_run(&mut encoder, line);
        for run in &line.runs {
            encoder.numbers([run.size, run.x, run.baseline].map(fine));
            encode_glyphs(&mut encoder, run);
        }
    }
    written(encoder, OF_PANEL)
}

/// That a line runs down. Of one that runs across nothing is encoded: so it was before lines could run down.
fn encode_lines_run(encoder: &mut Encoder, line: &LaidLine) {
    if line.lines_run.is_down() {
        encoder.text(line.lines_run.word());
    }
}

/// A run's face and its glyphs, in font units, after the word `upright` where they stand so in a line that runs down; then,
/// where it has dots, the word `dots` and for each the number of its glyph and whether it stands below (1) or above (0).
fn encode_glyphs(encoder: &mut Encoder, run: &GlyphRun) {
    if run.upright {
        encoder.text("upright");
    }
    encoder.face(&run.face);
    encoder.count(run.glyphs.len());
    for glyph in &run.glyphs {
        let numbers = [i32::from(glyph.id), glyph.advance, glyph.dx, glyph.dy];
        encoder.numbers(numbers.map(i64::from));
    }
    let dotted = run.glyphs.iter().enumerate();
    let dotted: Vec<(usize, Dots)> = dotted
        .filter_map(|(at, glyph)| Some((at, glyph.dots?)))
        .collect();
    // A run without dots is encoded as it was before there were any.
    if !dotted.is_empty() {
        encoder.text("dots");
        encoder.count(dotted.len());
        for (at, dots) in dotted {
            encoder.count(at);
            encoder.number(i64::from(dots == Dots::Below));
        }
    }
}

/// Ten-thousandths of a millimetre, of which one is 3.6 units.
fn fine(length: Length) -> i64 {
    length.scaled(10_000, Length::mm(1).units()).units()
}

fn written(encoder: Encoder, bytes: usize) -> String {
    let digits = encoder.digest();
    let digits: String = digits[..bytes].iter().map(|b| format!("{b:02x}")).collect();
    format!("{VERSION}-{digits}")
}
