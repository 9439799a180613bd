//! One face: a font file's bytes, its measures, and the shaper's view of it.

use std::borrow::Cow;
use std::fmt;
use std::sync::OnceLock;

use icu_properties::props::{DefaultIgnorableCodePoint, GeneralCategory};
use icu_properties::{CodePointMapData, CodePointSetData};
use self_cell::self_cell;
use sha2::{Digest, Sha256};
use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use super::bounds::Edge;
use super::script::Script;
use super::shape::ShapeFace;
use super::tables::{ContextReach, FACE, FontKind, FontTrouble, Metrics, Outline, Tables};
use crate::names::Length;

/// What is read of a font file, pointing into its bytes.
struct Views<'a> {
    tables: Tables<'a>,
    shaper: ShapeFace<'a>,
}

self_cell!(
    /// A font file's bytes, those of the fonts inside the program where they are, and the views of them.
    struct Read {
        owner: Cow<'static, [u8]>,
        #[covariant]
        dependent: Views,
    }
);

/// One face, ready to be set and embedded.
pub struct Face {
    name: String,
    read: Read,
    kind: FontKind,
    metrics: Metrics,
    checksum: OnceLock<[u8; 32]>,
    reach: ContextReach,
    /// At which edges it has optical bounds.
    pub(super) bounds: Vec<Edge>,
}

impl fmt::Debug for Face {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Face({})", self.name)
    }
}

impl PartialEq for Face {
    /// Faces of one content are one.
    fn eq(&self, other: &Face) -> bool {
        self.is_of(other.data())
    }
}

impl Face {
    /// Reads a face, which keeps the font file's bytes for as long as it lives.
    pub(super) fn read(data: Cow<'static, [u8]>) -> Result<Face, FontTrouble> {
        let read = Read::try_new(data, |data| {
            Ok(Views {
                tables: Tables::read(data)?,
                shaper: ShapeFace::read(data).ok_or(FontTrouble::NoFont)?,
            })
        })?;
        let tables = &read.borrow_dependent().tables;
        Ok(Face {
            name: tables.postscript_name(),
            kind: tables.kind().ok_or(FontTrouble::NoOutlines)?,
            metrics: tables.metrics(),
            reach: tables.reach(),
            bounds: [Edge::Left, Edge::Right]
                .into_iter()
                .filter(|edge| tables.positions_by(&edge.feature().tag))
                .collect(),
            checksum: OnceLock::new(),
            read,
        })
    }

    fn tables(&self) -> &Tables<'_> {
        &self.read.borrow_dependent().tables
    }

    pub(super) fn shaper(&self) -> &ShapeFace<'_> {
        &self.read.borrow_dependent().shaper
    }

    /// Whether its font file has these bytes.
    pub(super) fn is_of(&self, data: &[u8]) -> bool {
        // Fonts inside the program are told by where they lie.
        std::ptr::eq(self.data(), data) || self.data() == data
    }

    /// Its PostScript name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole font file.
    pub fn data(&self) -> &[u8] {
        self.read.borrow_owner()
    }

    /// What tells it from other faces while it lives: where its font file lies in memory. A library keeps a file once.
    pub fn id(&self) -> usize {
        self.data().as_ptr() as usize
    }

    /// The SHA-256 of its font file, by which it is known wherever and whenever the program runs.
    pub fn checksum(&self) -> &[u8; 32] {
        let find = || Sha256::digest(self.data()).into();
        self.checksum.get_or_init(find)
    }

    /// Which face of its font file it is, counted from nought.
    pub fn index(&self) -> u32 {
        FACE
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
        self.tables().advance(glyph)
    }

    /// How far the ink of a glyph reaches from left to right, in font units; nothing for a glyph without any.
    pub fn ink(&self, glyph: u16) -> Option<(i32, i32)> {
        self.tables().ink(glyph)
    }

    /// The box of a glyph's ink in font units, `y` up: left, bottom, right, top; nothing for a glyph without any.
    pub fn ink_box(&self, glyph: u16) -> Option<[i32; 4]> {
        self.tables().ink_box(glyph)
    }

    /// How far the ink of a glyph reaches from its foot to its top, in font units; nothing for a glyph without any.
    pub fn ink_up(&self, glyph: u16) -> Option<(i32, i32)> {
        self.tables().ink_up(glyph)
    }

    /// The glyph that the face has for a character by itself.
    pub fn glyph(&self, c: char) -> Option<u16> {
        self.tables().glyph(c)
    }

    /// Whether words beside each other, with only a space between, may be shaped otherwise for each other.
    pub(super) fn looks_past_space(&self, before: &str, behind: &str) -> bool {
        let past = match &self.reach {
            ContextReach::Spaces => return false,
            ContextReach::Line => return true,
            ContextReach::Between(past) => past,
        };
        // What rules may skip, or a shaper set together with what is beside it, is not told apart.
        let plain = |c: &char| !is_ignorable(*c) && !is_combining_mark(*c);
        let last = before.chars().next_back().filter(plain);
        let mut behind = behind.chars();
        let first = behind.next().filter(plain);
        let alone = behind.next().is_none_or(|next| plain(&next));
        let glyphs = last.zip(first).filter(|_| alone);
        let glyphs = glyphs.and_then(|(last, first)| self.glyph(last).zip(self.glyph(first)));
        glyphs.is_none_or(|(last, first)| past.is_between(last, first))
    }

    /// Whether words may be shaped otherwise for each other whatever is white between them.
    pub(super) fn looks_past_spaces(&self) -> bool {
        self.reach != ContextReach::Spaces
    }

    /// How high the large letters of a script stand, in font units: its capitals, or where it has none, a tall
    /// letter.
    pub fn height_of(&self, script: Script) -> i32 {
        let tall = script.tall().and_then(|tall| self.tables().height(tall));
        tall.filter(|height| *height > 0)
            .unwrap_or(self.metrics.cap_height)
    }

    /// Whether a glyph may stand for a character by itself: as the face's own for it or for a form of it that means
    /// the same, or as what the face's substitutions make of those. For what is white or never seen any glyph may stand
    /// that shows nothing. Where the face's substitutions cannot be followed, only ASCII is told apart.
    pub fn may_show(&self, c: char, glyph: u16) -> bool {
        let forms = |c: char| {
            let composed = std::iter::once(c).nfc();
            let parted = std::iter::once(c).nfkd();
            composed.chain(parted).chain(
                is_hyphen(c)
                    .then_some(['-', '\u{2010}'])
                    .into_iter()
                    .flatten(),
            )
        };
        let all = std::iter::once(c).chain(forms(c));
        let own: Vec<u16> = all.filter_map(|c| self.tables().glyph(c)).collect();
        if own.contains(&glyph) {
            return true;
        }
        if c.is_whitespace() || is_ignorable(c) {
            return self.ink(glyph).is_none();
        }
        self.tables().can_make(&own, glyph).unwrap_or(!c.is_ascii())
    }

    /// The outline of a glyph in font units.
    pub fn outline(&self, glyph: u16) -> Vec<Outline> {
        self.tables().outline(glyph)
    }

    /// Whether its substitutions include a feature.
    pub fn has_feature(&self, tag: &[u8; 4]) -> bool {
        self.tables().has_feature(tag)
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
            is_ignorable(c)
                || self
                    .tables()
                    .glyph(c)
                    .or(self.tables().glyph(glyph))
                    .is_some()
        };
        cluster.chars().all(has) || cluster.nfc().all(has) || cluster.nfd().all(has)
    }
}

/// The hyphens that a shaper sets one for the other where a face lacks one.
fn is_hyphen(c: char) -> bool {
    matches!(c, '-' | '\u{2010}' | '\u{2011}')
}

/// General_Category Zs: what a shaper sets as a word space of another width where a face has no such glyph
/// (HarfBuzz does so for all of them but U+1680, which is a sign in some faces).
fn is_space(c: char) -> bool {
    let category = CodePointMapData::<GeneralCategory>::new().get(c);
    c != '\u{1680}' && category == GeneralCategory::SpaceSeparator
}

/// Default_Ignorable_Code_Point: characters that may have no glyph.
pub(crate) fn is_ignorable(c: char) -> bool {
    !c.is_ascii() && CodePointSetData::new::<DefaultIgnorableCodePoint>().contains(c)
}
