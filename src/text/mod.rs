//! The manuscript: the client's words with the typesetter's callouts, read without losing a byte.
//!
//! Reading tiles the file: each byte is word, space, mark-up, callout or line end, and a [`Manuscript`]
//! keeps those [`Tile`]s beside the lines built from them, so that later stations can prove that every
//! word byte was set exactly once.

pub mod alignment;
mod assemble;
mod callout;
mod controls;
mod emphasis;
mod escape;
mod guess;
mod inline;
pub mod paragraph;
mod readings;
pub mod revise;
mod scan;
mod tile;

pub use callout::RoomRequest;
pub use escape::escape;
pub use guess::looks_like;
pub use readings::has_readings;
pub use tile::{Tile, TileKind};

use std::ops::Range;
use std::sync::Arc;

use crate::names::{Faults, Location, SetAs, Source};

/// The part that words belong to before any `[part: …]`.
pub const BODY: &str = "body";

/// A manuscript, read.
#[derive(Clone, Debug, PartialEq)]
pub struct Manuscript {
    source: Arc<Source>,
    tiles: Vec<Tile>,
    parts: Arc<[Part]>,
}

impl Manuscript {
    /// Reads a manuscript that starts as verse; see [`Manuscript::read_as`].
    ///
    /// # Errors
    /// As [`Manuscript::read_as`].
    pub fn read(source: &Arc<Source>) -> Result<Manuscript, Faults> {
        Manuscript::read_as(source, SetAs::Verse, |_| false)
    }

    /// Reads a manuscript, plain lines taken for verse or prose until a callout says otherwise. `has_readings`
    /// tells by a part's name whether `漢字《かんじ》` is a reading above its base there, as it is in Japanese.
    ///
    /// # Errors
    /// Every callout that is unknown, misplaced or unfinished, and every reading without a base, each with its
    /// place; control characters; a manuscript without a word.
    pub fn read_as(
        source: &Arc<Source>,
        starts_as: SetAs,
        has_readings: impl Fn(&str) -> bool,
    ) -> Result<Manuscript, Faults> {
        let read = assemble::assemble(source, starts_as, has_readings);
        match controls::controls(source) {
            None => read,
            Some(fault) => {
                let mut faults = read.err().unwrap_or_else(Faults::new);
                faults.push(fault);
                Err(faults)
            }
        }
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

    /// The same, to be kept.
    pub(crate) fn shared_parts(&self) -> &Arc<[Part]> {
        &self.parts
    }

    /// A place in the file, for faults.
    pub fn place(&self, bytes: Range<usize>) -> Location {
        Location::new(&self.source, bytes)
    }
}

/// A stretch of the manuscript with its own panels.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// Where its callout stands; for the body, its first byte.
    pub place: Location,
    /// Its lines in order, headings and ornaments among them.
    pub lines: Vec<TextLine>,
    /// The pictures that its callouts name, in order.
    pub pictures: Vec<PictureCall>,
    /// The captions among its lines, in order.
    pub captions: Vec<CaptionCall>,
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
    pub place: Location,
}

/// A `[caption: …]` callout.
#[derive(Clone, Debug, PartialEq)]
pub struct CaptionCall {
    /// The name of the picture that the words stand with.
    pub name: String,
    /// Which line of the part is the caption.
    pub line: usize,
    /// Where the callout stands.
    pub place: Location,
}

/// What a line is.
#[derive(Clone, Debug, PartialEq)]
pub enum LineKind {
    /// `# Title`
    Title,
    /// `## Heading`
    Heading,
    /// `### Subheading`
    Subheading,
    /// What stands below a title to say more of it.
    Subtitle,
    /// Who wrote the words, beside their title.
    Author,
    /// A line of verse.
    Verse,
    /// A line of verse in an epigraph.
    Epigraph,
    /// A paragraph of prose.
    Prose,
    /// A paragraph of an epigraph in prose.
    ProseEpigraph,
    /// Who said the words above.
    Attribution,
    /// Words that stand with a picture. It parts neither a stanza nor a paragraph.
    Caption,
    /// A line of spaced asterisks.
    Ornament,
    /// `[space: …]`: room left empty.
    Room(RoomRequest),
}

impl LineKind {
    /// Whether this is a line of verse, be it in an epigraph.
    pub fn is_verse(&self) -> bool {
        matches!(self, LineKind::Verse | LineKind::Epigraph)
    }

    /// Whether this belongs to an epigraph, be it verse or prose.
    pub fn is_epigraph(&self) -> bool {
        matches!(self, LineKind::Epigraph | LineKind::ProseEpigraph)
    }

    /// Whether this is a paragraph, be it in an epigraph.
    pub fn is_prose(&self) -> bool {
        matches!(self, LineKind::Prose | LineKind::ProseEpigraph)
    }

    /// Whether its physical lines join, and a run of white space is one word space: a paragraph or a caption.
    pub fn is_folded(&self) -> bool {
        self.is_prose() || matches!(self, LineKind::Caption)
    }

    /// Whether this is a heading of any level.
    pub fn is_heading(&self) -> bool {
        matches!(
            self,
            LineKind::Title | LineKind::Heading | LineKind::Subheading
        )
    }

    /// Whether this is a heading, or stands with one: a subtitle, an author.
    pub fn is_titling(&self) -> bool {
        self.is_heading() || matches!(self, LineKind::Subtitle | LineKind::Author)
    }

    /// Whether a title panel carries this where it opens a part.
    pub fn is_of_title(&self) -> bool {
        matches!(
            self,
            LineKind::Title | LineKind::Subtitle | LineKind::Author
        )
    }
}

/// One line of a part; a paragraph of prose, or its caption, is one line of several physical ones.
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
    /// Whether it is the rest of the paragraph above, which room, a new panel or a caption parted.
    pub continues: bool,
    /// Its words and inner spaces, in order, mark-up left out. Empty only for room.
    pub runs: Vec<Run>,
    /// The readings that stand above words of it, in order.
    pub rubies: Vec<Ruby>,
    /// The bytes of its first physical line, without its end.
    pub first: Range<usize>,
    /// The physical lines of a paragraph that join the first.
    pub joints: Vec<Joint>,
    /// The bytes of the whole line without its end.
    pub bytes: Range<usize>,
    /// Which `[keep together]` holds it, if any.
    pub kept: Option<usize>,
    /// Whether `[may divide]` stands above it.
    pub may_divide: bool,
    /// Whether `[new panel]` stands above it.
    pub new_panel: bool,
}

/// A physical line that joins a paragraph.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    /// Its bytes without indent and line end.
    pub bytes: Range<usize>,
    /// Which `[keep together]` holds it, if any.
    pub kept: Option<usize>,
    /// Whether `[may divide]` stands above it.
    pub may_divide: bool,
}

impl TextLine {
    /// The bytes of its physical lines, in order.
    pub fn pieces(&self) -> impl Iterator<Item = Range<usize>> + '_ {
        let joined = self.joints.iter().map(|joint| joint.bytes.clone());
        std::iter::once(self.first.clone()).chain(joined)
    }

    /// The line's words and inner spaces as text, without mark-up. In a paragraph or a caption, each run of
    /// spaces and line ends is one space, or none between signs that are written without.
    pub fn text(&self, source: &Source) -> String {
        let words = |run: &Run| &source.text[run.from..run.to];
        if !self.kind.is_folded() {
            return self.runs.iter().map(words).collect();
        }
        let mut text = String::new();
        paragraph::join(&source.text, self, |piece| {
            if piece.space_before {
                text.push(' ');
            }
            text.push_str(&source.text[piece.bytes.clone()]);
        });
        text
    }
}

/// A reading above its base, in bytes of the manuscript. The reading follows its base, with only mark-up between.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Ruby {
    /// The words that are read so.
    pub base: Range<usize>,
    /// How they are read.
    pub reading: Range<usize>,
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
