//! Typefaces: font files, what they may be used for, and the shaping of words.
//!
//! [`FontLibrary`] finds families by name (the open fonts that come with the program) or by path;
//! a [`Typeface`] is a family with its fallbacks and features; a [`Shaper`] turns words into glyphs and
//! remembers them. A [`Hyphenator`] tells where words may be divided. The libraries stand behind one file or folder each:
//! reading tables in `tables`, shaping in `shape`, hyphenation in `hyphenate`.

mod around;
mod bounds;
mod capitals;
mod face;
mod faces;
mod hyphenate;
mod known;
mod library;
mod order;
mod posture;
mod run;
mod script;
mod script_runs;
mod shape;
mod shaped;
mod shaper;
mod spacing;
mod stood;
mod tables;

pub use around::ShapingContext;
pub use bounds::Edge;
pub use capitals::Capitals;
pub use face::Face;
pub(crate) use face::is_ignorable;
pub use hyphenate::Hyphenator;
pub use known::KnownWords;
pub use library::{FontLibrary, families};
pub use order::{Base, Level, Levels, visual_order};
pub use posture::{BELOW, Posture};
pub use script::Script;
pub use script_runs::{ScriptRun, script_runs};
pub use shaped::{Dots, Emphasis, FontStyle, GlyphSegment, Letters, RubyPosition, ShapedWord};
pub use shaper::Shaper;
pub use spacing::tall_runs;
pub use tables::{FontKind, Metrics, Outline, cff_table};

use std::sync::Arc;

use crate::names::Feature;
use crate::plan::{HeadingLevel, OfLevels};

/// One glyph of a shaped word, in font units. In a line that runs down all is measured as if the line were turned by a
/// quarter: what is to the right there is farther down, and what is above is farther to the right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Glyph {
    /// Its number in the face.
    pub id: u16,
    /// The byte of the word that its cluster begins at.
    pub cluster: u32,
    /// How far the pen moves on.
    pub advance: i32,
    /// How far the glyph lies to the right of the pen.
    pub dx: i32,
    /// How far the glyph lies above the pen.
    pub dy: i32,
    /// Whether the text before its cluster and from it on may be shaped otherwise without each other.
    pub bound: bool,
}

/// The faces of one family.
#[derive(Clone, Debug)]
pub struct Family {
    /// The upright.
    pub regular: Arc<Face>,
    /// The face for emphasis; without one, the upright serves.
    pub italic: Option<Arc<Face>>,
    /// The face for strong emphasis; without one, the upright serves.
    pub bold: Option<Arc<Face>>,
}

impl Family {
    /// The face for a stress. What is both strong and emphasised is bold, for no family here has a bold
    /// italic of its own.
    pub fn face(&self, stress: Emphasis) -> &Arc<Face> {
        let asked = match stress {
            Emphasis::Plain => None,
            Emphasis::Italic => self.italic.as_ref(),
            Emphasis::Bold => self.bold.as_ref(),
        };
        asked.unwrap_or(&self.regular)
    }
}

/// A family with its fallbacks and features.
#[derive(Clone, Debug)]
pub struct Typeface {
    /// The main family.
    pub main: Family,
    /// Families for characters that the main one lacks, tried in order.
    pub fallback: Vec<Family>,
    /// OpenType features switched on, off or to a number.
    pub features: Vec<Feature>,
    /// Families of their own that headings have.
    pub headings: OfLevels<Option<Family>>,
    /// What is known of words that were shaped in it. It must be of no other families and features.
    pub known: KnownWords,
}

impl Typeface {
    /// A family with its fallbacks, without more.
    pub fn new(main: Family, fallback: Vec<Family>) -> Typeface {
        Typeface {
            main,
            fallback,
            features: Vec::new(),
            headings: OfLevels::default(),
            known: KnownWords::default(),
        }
    }

    /// The family of all words, or that of headings which have their own.
    pub fn family(&self, of: Option<HeadingLevel>) -> &Family {
        let own = of.and_then(|level| self.headings.of(level).as_ref());
        own.unwrap_or(&self.main)
    }

    /// Whether some upright face has a grapheme cluster.
    pub fn covers(&self, cluster: &str) -> bool {
        let families = std::iter::once(&self.main).chain(&self.fallback);
        families
            .into_iter()
            .any(|family| family.regular.covers(cluster))
    }
}
