//! Dots above or below signs, which stress them. They are drawn, and no words: nobody who reads the file meets them.
//!
//! A dot stands in the middle of a square half as large as its sign's, on the top of that or against its foot (JLREQ
//! 3.3.9 and CSS Text Decoration Level 3, `text-emphasis`, both W3C: marks are half the size of their signs). Marks of
//! punctuation and what is white have none (`text-emphasis-style` there).

use icu_properties::CodePointMapData;
use icu_properties::props::{GeneralCategory, GeneralCategoryGroup};

use super::GlyphRun;
use crate::names::{Length, PanelPoint};
use crate::typeface::{BELOW, Dots};

/// How far a sign's square reaches above the baseline and below it, in hundredths of an em.
const SQUARE: (i64, i64) = (100 - BELOW, BELOW);
/// How far the middle of a dot lies from the square, in hundredths of its sign's size.
const AWAY: i64 = 25;
/// How wide a dot is, as a part of its sign's size: that of a bullet of half the size (common practice).
const RADIUS: i64 = 10;

/// A dot on a panel, its place measured as its line has it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Dot {
    /// Its middle.
    pub centre: PanelPoint,
    /// Its radius.
    pub radius: Length,
}

impl GlyphRun {
    /// The dots of its signs, from left to right.
    pub fn dots(&self) -> Vec<Dot> {
        let mut pen = 0;
        let dots = self.glyphs.iter().filter_map(|glyph| {
            // The square of an upright sign in a line that runs down begins as far before its baseline as it stands high.
            let units = i64::from(self.face.metrics().units_per_em);
            let middle = match self.upright {
                true => -(units * (SQUARE.0 - 50) / 100) as i32,
                false => self.face.advance(glyph.id) / 2,
            };
            let square = pen + glyph.dx + middle;
            pen += glyph.advance;
            let down = match glyph.dots? {
                Dots::Above => -(SQUARE.0 + AWAY),
                Dots::Below => SQUARE.1 + AWAY,
            };
            Some(Dot {
                centre: PanelPoint {
                    x: self.x + self.face.scale(square, self.size),
                    y: self.baseline + self.size * down / 100,
                },
                radius: self.size / RADIUS,
            })
        });
        dots.collect()
    }
}

/// Whether a sign has a dot where its words have.
pub(super) fn takes_dot(sign: char) -> bool {
    let category = CodePointMapData::<GeneralCategory>::new().get(sign);
    let none = [
        GeneralCategoryGroup::Mark,
        GeneralCategoryGroup::Punctuation,
        GeneralCategoryGroup::Separator,
        GeneralCategoryGroup::Other,
    ];
    !none.iter().any(|group| group.contains(category))
}
