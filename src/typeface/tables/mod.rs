//! Reading a font file's tables: the one folder that knows ttf-parser.

mod collection;
mod extent;
mod reach;
mod substitutes;

use ttf_parser::{self, GlyphId, OutlineBuilder, Permissions};

pub(super) use collection::alone;
pub(super) use reach::ContextReach;

/// Which kind of outlines a font holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FontKind {
    /// Quadratic curves in a `glyf` table.
    TrueType,
    /// Cubic curves in a `CFF ` table.
    Cff,
}

/// Which face of a font file is read: of a collection the first.
pub(super) const FACE: u32 = 0;

/// Why a font file cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum FontTrouble {
    /// Not a font at all.
    NoFont,
    /// A font file that ends too early.
    Truncated,
    /// Outlines that cannot be embedded.
    NoOutlines,
    /// The font's maker forbids embedding.
    EmbeddingForbidden,
    /// The font's maker forbids embedding a part of it.
    SubsettingForbidden,
}

/// The measures of a face, in font units (`y` up).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Metrics {
    /// Font units in an em.
    pub units_per_em: i32,
    /// Height of the letter d: what the grid calls the ascender.
    pub ascender_d: i32,
    /// Height of a flat capital.
    pub cap_height: i32,
    /// The face's own ascender.
    pub ascender: i32,
    /// The face's own descender, below zero.
    pub descender: i32,
    /// Bounding box of all glyphs: left, bottom, right, top.
    pub bounds: [i32; 4],
    /// Slant in degrees, in thousandths, below zero where it leans to the right.
    pub italic_thousandths: i32,
    /// Weight, 400 regular.
    pub weight: u16,
    /// Whether all advances are alike.
    pub monospaced: bool,
}

/// A piece of an outline, in font units with `y` up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outline {
    /// A contour begins at this point.
    Move(f32, f32),
    /// A straight line to this point.
    Line(f32, f32),
    /// A cubic curve by two controls to a point; quadratic curves are raised to it exactly.
    Curve([f32; 6]),
    /// The contour ends where it began.
    Close,
}

/// The parsed tables of one face.
pub(super) struct Tables<'a> {
    face: ttf_parser::Face<'a>,
}

impl<'a> Tables<'a> {
    /// Reads the tables of the first face in `data` and checks that it may be embedded.
    pub(super) fn read(data: &'a [u8]) -> Result<Tables<'a>, FontTrouble> {
        let raw = ttf_parser::RawFace::parse(data, FACE).map_err(|_| FontTrouble::NoFont)?;
        let whole = raw.table_records.into_iter().all(|record| {
            let end = u64::from(record.offset) + u64::from(record.length);
            end <= data.len() as u64
        });
        if !whole {
            return Err(FontTrouble::Truncated);
        }
        let face = ttf_parser::Face::parse(data, FACE).map_err(|_| FontTrouble::NoFont)?;
        let tables = Tables { face };
        tables.may_be_embedded()?;
        if tables.kind().is_none() {
            return Err(FontTrouble::NoOutlines);
        }
        Ok(tables)
    }

    /// OpenType OS/2 `fsType`: restricted licence and bitmap-only embedding forbid what we do, and so
    /// does a ban on subsetting.
    fn may_be_embedded(&self) -> Result<(), FontTrouble> {
        const BITMAPS_ONLY: u16 = 0x0200;
        let restricted = self.face.permissions() == Some(Permissions::Restricted);
        if restricted || self.fs_type() & BITMAPS_ONLY != 0 {
            Err(FontTrouble::EmbeddingForbidden)
        } else if !self.face.is_subsetting_allowed() {
            Err(FontTrouble::SubsettingForbidden)
        } else {
            Ok(())
        }
    }

    fn fs_type(&self) -> u16 {
        let tag = ttf_parser::Tag::from_bytes(b"OS/2");
        let os2 = self.face.raw_face().table(tag).unwrap_or_default();
        os2.get(8..10)
            .map_or(0, |b| u16::from_be_bytes([b[0], b[1]]))
    }

    /// Which kind of outlines it holds; nothing where they cannot be embedded.
    pub(super) fn kind(&self) -> Option<FontKind> {
        let tables = self.face.tables();
        if tables.glyf.is_some() {
            Some(FontKind::TrueType)
        } else if tables.cff.is_some() {
            Some(FontKind::Cff)
        } else {
            None
        }
    }

    /// Its measures.
    pub(super) fn metrics(&self) -> Metrics {
        let face = &self.face;
        let height = |c: char| self.height(c);
        let ascender = i32::from(face.ascender());
        let bounds = face.global_bounding_box();
        let cap_height = face.capital_height().map(i32::from).filter(|h| *h > 0);
        let upem = i32::from(face.units_per_em());
        Metrics {
            units_per_em: upem,
            ascender_d: height('d').unwrap_or(ascender),
            cap_height: cap_height.or_else(|| height('H')).unwrap_or(upem * 7 / 10),
            ascender,
            descender: i32::from(face.descender()),
            bounds: [bounds.x_min, bounds.y_min, bounds.x_max, bounds.y_max].map(i32::from),
            italic_thousandths: (face.italic_angle() * 1000.0) as i32,
            weight: face.weight().to_number(),
            monospaced: face.is_monospaced(),
        }
    }

    /// How high a character reaches above the baseline, in font units.
    pub(super) fn height(&self, c: char) -> Option<i32> {
        let glyph = self.face.glyph_index(c)?;
        let bounds = self.face.glyph_bounding_box(glyph)?;
        Some(i32::from(bounds.y_max))
    }

    /// The glyph of a character, if the face has one.
    pub(super) fn glyph(&self, c: char) -> Option<u16> {
        self.face
            .glyph_index(c)
            .map(|glyph| glyph.0)
            .filter(|&glyph| glyph != 0)
    }

    /// The width of a glyph as the font's own table has it.
    pub(super) fn advance(&self, glyph: u16) -> i32 {
        i32::from(self.face.glyph_hor_advance(GlyphId(glyph)).unwrap_or(0))
    }

    /// The box of a glyph's ink: left, bottom, right, top.
    pub(super) fn ink_box(&self, glyph: u16) -> Option<[i32; 4]> {
        let bounds = self.face.glyph_bounding_box(GlyphId(glyph))?;
        Some([bounds.x_min, bounds.y_min, bounds.x_max, bounds.y_max].map(i32::from))
    }

    /// How far the ink of a glyph reaches from left to right.
    pub(super) fn ink(&self, glyph: u16) -> Option<(i32, i32)> {
        extent::of(&self.outline(glyph))
    }

    /// How far the ink of a glyph reaches from its foot to its top.
    pub(super) fn ink_up(&self, glyph: u16) -> Option<(i32, i32)> {
        let bounds = self.face.glyph_bounding_box(GlyphId(glyph))?;
        Some((i32::from(bounds.y_min), i32::from(bounds.y_max)))
    }

    /// The PostScript name, with characters that PDF names dislike left out.
    pub(super) fn postscript_name(&self) -> String {
        let names = self.face.names();
        let name = names
            .into_iter()
            .filter(|name| name.name_id == ttf_parser::name_id::POST_SCRIPT_NAME)
            .find_map(|name| name.to_string());
        let plain = |c: &char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_');
        let name: String = name.unwrap_or_default().chars().filter(plain).collect();
        if name.is_empty() {
            "Font".to_string()
        } else {
            name
        }
    }

    /// How much of a line around a word its glyphs depend on.
    pub(super) fn reach(&self) -> ContextReach {
        reach::of(&self.face)
    }

    /// The outline of a glyph; empty for a space.
    pub(super) fn outline(&self, glyph: u16) -> Vec<Outline> {
        let mut pen = OutlinePen::default();
        let _ = self.face.outline_glyph(GlyphId(glyph), &mut pen);
        pen.pieces
    }

    /// Whether the face's substitutions can make a glyph of one of others; nothing where that cannot be told.
    pub(super) fn can_make(&self, of: &[u16], glyph: u16) -> Option<bool> {
        substitutes::can_make(&self.face, of, glyph)
    }

    /// Whether the face's positioning includes a feature.
    pub(super) fn positions_by(&self, tag: &[u8; 4]) -> bool {
        let tag = ttf_parser::Tag::from_bytes(tag);
        let gpos = self.face.tables().gpos;
        gpos.is_some_and(|gpos| gpos.features.into_iter().any(|feature| feature.tag == tag))
    }

    /// Whether the face's substitutions include a feature.
    pub(super) fn has_feature(&self, tag: &[u8; 4]) -> bool {
        let tag = ttf_parser::Tag::from_bytes(tag);
        let gsub = self.face.tables().gsub;
        gsub.is_some_and(|gsub| gsub.features.into_iter().any(|feature| feature.tag == tag))
    }
}

#[derive(Default)]
struct OutlinePen {
    pieces: Vec<Outline>,
    at: (f32, f32),
}

impl OutlineBuilder for OutlinePen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.at = (x, y);
        self.pieces.push(Outline::Move(x, y));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.at = (x, y);
        self.pieces.push(Outline::Line(x, y));
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        // Degree elevation: both cubic controls lie two thirds of the way to the quadratic one.
        let (x0, y0) = self.at;
        let towards = |from: f32, control: f32| from + (control - from) * 2.0 / 3.0;
        self.curve_to(
            towards(x0, x1),
            towards(y0, y1),
            towards(x, x1),
            towards(y, y1),
            x,
            y,
        );
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.at = (x, y);
        self.pieces.push(Outline::Curve([x1, y1, x2, y2, x, y]));
    }

    fn close(&mut self) {
        self.pieces.push(Outline::Close);
    }
}

/// The `CFF ` table of a font file: what a PDF embeds of a font with cubic outlines.
pub fn cff_table(font: &[u8]) -> Option<&[u8]> {
    let raw = ttf_parser::RawFace::parse(font, FACE).ok()?;
    raw.table(ttf_parser::Tag::from_bytes(b"CFF "))
}
