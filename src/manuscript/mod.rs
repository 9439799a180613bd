//! The manuscript: the client's words with the typesetter's callouts, read without losing a byte.
//!
//! Reading tiles the file: each byte is word, space, mark-up, callout or line end, and a [`Manuscript`]
//! keeps those [`Tile`]s beside the lines built from them, so that later stations can prove that every
//! word byte was set exactly once.

mod assemble;
mod callout;
mod emphasis;
mod escape;
mod scan;
mod tile;

pub use callout::RoomAsked;
pub use escape::escape;
pub use tile::{Tile, TileKind};

use std::ops::Range;
use std::sync::Arc;

use crate::fault::{Faults, Place, Source};

/// The part that words belong to before any `[part: …]`.
pub const BODY: &str = "body";

/// A manuscript, read.
#[derive(Clone, Debug, PartialEq)]
pub struct Manuscript {
    source: Arc<Source>,
    tiles: Vec<Tile>,
    parts: Vec<Part>,
}

impl Manuscript {
    /// Reads a manuscript.
    ///
    /// # Errors
    /// Every callout that is unknown, misplaced or unfinished, each with its place; a manuscript
    /// without a word.
    pub fn read(source: &Arc<Source>) -> Result<Manuscript, Faults> {
        assemble::assemble(source)
    }

    /// The file it was read from.
    pub fn source(&self) -> &Arc<Source> {
        &self.source
    }

    /// Every byte of the file, in order.
    pub fn tiles(&self) -> &[Tile] {
        &self.tiles
    }

    /// The byte ranges that hold words, in order.
    pub fn word_ranges(&self) -> impl Iterator<Item = Range<usize>> + '_ {
        self.tiles
            .iter()
            .filter(|tile| tile.kind == TileKind::Word)
            .map(Tile::range)
    }

    /// Its parts that hold words or pictures, in order.
    pub fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// A place in the file, for faults.
    pub fn place(&self, bytes: Range<usize>) -> Place {
        Place::new(&self.source, bytes)
    }
}

/// A stretch of the manuscript with its own panels.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// Where its callout stands; for the body, its first byte.
    pub place: Place,
    /// Its lines in order, headings and ornaments among them.
    pub lines: Vec<TextLine>,
    /// The pictures that its callouts name, in order.
    pub pictures: Vec<PictureCall>,
}

/// A `[picture: …]` callout.
#[derive(Clone, Debug, PartialEq)]
pub struct PictureCall {
    /// The picture's name.
    pub name: String,
    /// How many lines of the part stand before it: the words just before it are those of line
    /// `after − 1`.
    pub after: usize,
    /// Where it stands.
    pub place: Place,
}

/// What a line is.
#[derive(Clone, Debug, PartialEq)]
pub enum LineKind {
    /// `# Title`
    Title,
    /// `## Heading`
    Heading,
    /// A line of verse.
    Verse,
    /// A line of verse in an epigraph.
    Epigraph,
    /// Who said the words above.
    Attribution,
    /// A line of spaced asterisks.
    Ornament,
    /// `[space: …]`: room left empty.
    Room(RoomAsked),
}

impl LineKind {
    /// Whether this is a line of verse, for counting stanzas and lines.
    pub fn is_verse(&self) -> bool {
        matches!(self, LineKind::Verse)
    }

    /// Whether this is a heading of either kind.
    pub fn is_heading(&self) -> bool {
        matches!(self, LineKind::Title | LineKind::Heading)
    }
}

/// One line of a part.
#[derive(Clone, Debug, PartialEq)]
pub struct TextLine {
    /// What it is.
    pub kind: LineKind,
    /// Which stanza or other block of the part it belongs to, from 0.
    pub block: usize,
    /// Blank lines above it: 0 inside a stanza; the most that stand together, where callouts part them.
    pub blank_above: usize,
    /// Its indent in half ems.
    pub half_ems: usize,
    /// Whether it steps to where the line above ended (`>>`).
    pub stepped: bool,
    /// Its words and inner spaces, in order, mark-up left out. Empty only for room.
    pub runs: Vec<Run>,
    /// The bytes of the whole line without its end.
    pub bytes: Range<usize>,
    /// Which `[keep together]` holds it, if any.
    pub kept: Option<usize>,
    /// Whether `[may divide]` stands above it.
    pub may_divide: bool,
    /// Whether `[new panel]` stands above it.
    pub new_panel: bool,
}

impl TextLine {
    /// The line's words and inner spaces as text, without mark-up.
    pub fn text(&self, source: &Source) -> String {
        self.runs
            .iter()
            .map(|run| &source.text[run.from..run.to])
            .collect()
    }
}

/// Bytes of one line in one style, without mark-up between them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Run {
    /// First byte.
    pub from: usize,
    /// One past the last byte.
    pub to: usize,
    /// How it is stressed.
    pub style: Style,
}

/// How words are stressed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Style {
    /// `*emphasis*`
    pub emphasis: bool,
    /// `**strong**`
    pub strong: bool,
}
