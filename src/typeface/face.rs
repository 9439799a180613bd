//! One face: a font file's bytes, its measures, and the shaper's view of it.

use std::fmt;

use icu_properties::CodePointSetData;
use icu_properties::props::DefaultIgnorableCodePoint;
use unicode_normalization::UnicodeNormalization;
use unicode_properties::{GeneralCategory, UnicodeGeneralCategory};

use super::script::Script;
use super::shape::ShapeFace;
use super::tables::{FontKind, FontTrouble, Metrics, Outline, Reach, Tables};
use crate::names::Length;

/// One face, ready to be set and embedded.
pub struct Face {
    name: String,
    data: &'static [u8],
    kind: FontKind,
    metrics: Metrics,
    tables: Tables,
    pub(super) reach: Reach,
    pub(super) shaper: ShapeFace,
}

impl fmt::Debug for Face {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Face({})", self.name)
    }
}

impl PartialEq for Face {
    fn eq(&self, other: &Face) -> bool {
        self.id() == other.id()
    }
}

impl Face {
    /// Reads a face. A font that is read stays for the life of the program.
    pub(super) fn read(data: &'static [u8]) -> Result<Face, FontTrouble> {
        let tables = Tables::read(data)?;
        let shaper = ShapeFace::read(data).ok_or(FontTrouble::NoFont)?;
        let kind = tables.kind().ok_or(FontTrouble::NoOutlines)?;
        Ok(Face {
            name: tables.postscript_name(),
            data,
            kind,
            metrics: tables.metrics(),
            reach: tables.reach(),
            tables,
            shaper,
        })
    }

    /// Its PostScript name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole font file.
    pub fn data(&self) -> &'static [u8] {
        self.data
    }

    /// What tells it from other faces while the program runs: where its font file lies in memory. A file is
    /// kept once.
    pub fn id(&self) -> usize {
        self.data.as_ptr() as usize
    }

    /// What outlines it holds.
    pub fn kind(&self) -> FontKind {
        self.kind
    }

    /// Its measures.
    pub fn metrics(&self) -> &Metrics {
        &self.metrics
    }

    /// The width of a glyph in font units, as the font's own table has it.
    pub fn advance(&self, glyph: u16) -> i32 {
        self.tables.advance(glyph)
    }

    /// How far the ink of a glyph reaches from left to right, in font units; nothing for a glyph without any.
    pub fn ink(&self, glyph: u16) -> Option<(i32, i32)> {
        self.tables.ink(glyph)
    }

    /// The glyph that the face has for a character by itself.
    pub fn glyph(&self, c: char) -> Option<u16> {
        self.tables.glyph(c)
    }

    /// How high the large letters of a script stand, in font units: its capitals, or where it has none, a tall
    /// letter.
    pub fn height_of(&self, script: Script) -> i32 {
        let tall = script.tall().and_then(|tall| self.tables.height(tall));
        tall.filter(|height| *height > 0)
            .unwrap_or(self.metrics.cap_height)
    }

    /// The outline of a glyph in font units.
    pub fn outline(&self, glyph: u16) -> Vec<Outline> {
        self.tables.outline(glyph)
    }

    /// Whether its substitutions include a feature.
    pub fn has_feature(&self, tag: &[u8; 4]) -> bool {
        self.tables.has_feature(tag)
    }

    /// Font units at a type size, rounded to the nearest 1/914,400 inch.
    pub fn scale(&self, units: i32, size: Length) -> Length {
        size.scaled(i64::from(units), i64::from(self.metrics.units_per_em))
    }

    /// Whether the face has glyphs for a grapheme cluster, as it stands or composed (the shaper composes
    /// where that helps, and makes spaces of other widths from the word space).
    pub fn covers(&self, cluster: &str) -> bool {
        let has = |c: char| {
            let glyph = if is_space(c) { ' ' } else { c };
            is_ignorable(c) || self.tables.glyph(c).or(self.tables.glyph(glyph)).is_some()
        };
        cluster.chars().all(has) || cluster.nfc().all(has) || cluster.nfd().all(has)
    }
}

/// General_Category Zs: what a shaper sets as a word space of another width where a face has no such glyph
/// (HarfBuzz does so for all of them but U+1680, which is a sign in some faces).
fn is_space(c: char) -> bool {
    c != '\u{1680}' && c.general_category() == GeneralCategory::SpaceSeparator
}

/// Default_Ignorable_Code_Point: characters that may have no glyph.
pub(crate) fn is_ignorable(c: char) -> bool {
    CodePointSetData::new::<DefaultIgnorableCodePoint>().contains(c)
}
