//! Labels: words of the program's own on its sheets, such as panel numbers.

use super::LaidLine;
use super::glyphs::RunBuilder;
use crate::names::{HalfLines, Ink, Length, LinesRun, PanelPoint};
use crate::setting::ShapedLine;
use crate::text::LineKind;
use crate::typeface::{Emphasis, FontStyle, Shaper, Typeface};

/// Where a label stands about its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// It begins there.
    From,
    /// It is centred there.
    About,
}

/// A label's look.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LabelStyle {
    /// The type size.
    pub size: Length,
    /// Which face.
    pub stress: Emphasis,
    /// 0 black, 1000 white.
    pub grey: u16,
    /// Where it stands about its point.
    pub stands: Stands,
}

/// Sets a label on one line, its baseline at `at`. Characters that the typeface lacks are shown by its sign
/// for a missing glyph.
pub fn label(typeface: &Typeface, words: &str, at: PanelPoint, style: LabelStyle) -> LaidLine {
    label_by(&label_shaper(typeface), words, at, style)
}

/// What shapes the words of labels, for one label after the other: it remembers them.
pub fn label_shaper(typeface: &Typeface) -> Shaper<'_> {
    Shaper::new(typeface, "en")
}

/// Sets a label as [`label`] does.
pub fn label_by(shaper: &Shaper<'_>, words: &str, at: PanelPoint, style: LabelStyle) -> LaidLine {
    let voice = FontStyle {
        stress: style.stress,
        ..FontStyle::plain(style.size)
    };
    let shaped = ShapedLine::added(words, voice);
    let all = 0..words.len();
    let width = shaped.width(shaper, all.clone());
    let x = match style.stands {
        Stands::From => at.x,
        Stands::About => at.x - width / 2,
    };
    let mut builder = RunBuilder::new(shaper, &shaped, 0, x, at.y);
    builder.add(all);
    LaidLine {
        part: None,
        language: "en".to_string(),
        kind: LineKind::Verse,
        block: 0,
        row: 0,
        space_above: HalfLines::ZERO,
        lines_run: LinesRun::Across,
        text: words.to_string(),
        stretch: 0..words.len(),
        x,
        baseline: at.y,
        width,
        measure: width,
        size: style.size,
        turnover: false,
        added: Some(words.to_string()),
        glued: false,
        sources: Vec::new(),
        ink: Ink::Grey(style.grey),
        runs: builder.finish(),
    }
}
