//! How words are set, as the plan asks for it.

use super::{HeadingStyle, OfLevels};
use crate::names::{Edge, Feature, HalfLines, Ink, Length, Location, Vertical};

/// How the words of a part are set.
#[derive(Clone, Debug, PartialEq)]
pub struct TextStyle {
    /// The main typeface.
    pub typeface: TypefaceChoice,
    /// Faces for characters that the main one lacks, tried in order.
    pub fallback: Vec<TypefaceChoice>,
    /// OpenType features switched on, off or to a number.
    pub features: Vec<Feature>,
    /// Type size, above zero.
    pub size: Length,
    /// Distance of the grid's baselines, above zero.
    pub leading: Length,
    /// How lines stand between the margins.
    pub align: Align,
    /// Where words stand in the text area.
    pub vertical: Vertical,
    /// Distances from the panel's edges to the text area.
    pub margins: Margins,
    /// Space above a stanza that is not the first on its panel.
    pub stanza_space: HalfLines,
    /// How far a paragraph's first line stands in; nought parts paragraphs by space instead.
    pub paragraph_indent: Length,
    /// Whether words of prose may be divided at line ends by the rules of the language, where the plan says so: see
    /// [`TextStyle::divides_words`].
    pub hyphenate: Option<bool>,
    /// Words with hyphens at the only places where they may be divided.
    pub exceptions: Vec<String>,
    /// Where the piece of a verse line that runs over stands.
    pub turnover: Turnover,
    /// What of verse hangs outside the text area.
    pub hang: Hang,
    /// What of prose does.
    pub prose_hang: Hang,
    /// How a part opens.
    pub opening: Opening,
    /// How its headings are set.
    pub headings: OfLevels<HeadingStyle>,
    /// Where words stand on a title panel.
    pub title_vertical: Vertical,
    /// The colour of the words.
    pub ink: Ink,
}

impl TextStyle {
    /// Whether words of prose may be divided at line ends: unless the plan says so, where lines are justified.
    pub fn divides_words(&self) -> bool {
        self.hyphenate.unwrap_or(self.align == Align::Justified)
    }
}

/// A typeface as the author names it.
#[derive(Clone, Debug, PartialEq)]
pub struct TypefaceChoice {
    /// What is named.
    pub named: TypefaceNamed,
    /// Where the plan names it; nothing for a default.
    pub place: Option<Location>,
}

/// What names a typeface.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum TypefaceNamed {
    /// A family of the open fonts that come with the program.
    Family(String),
    /// One font file for everything.
    File(String),
    /// Font files for each style; what is missing falls back to the regular.
    Files {
        /// The upright.
        regular: String,
        /// For emphasis.
        italic: Option<String>,
        /// For strong emphasis.
        bold: Option<String>,
    },
}

impl TypefaceNamed {
    /// The one that words are set in unless the plan names another.
    pub fn usual() -> TypefaceNamed {
        TypefaceNamed::Family("Alegreya".to_string())
    }
}

/// How lines stand between the margins.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Align {
    /// Flush left.
    Left,
    /// Flush right.
    Right,
    /// Each line centred.
    Centre,
    /// Prose flush on both sides, the last line of a paragraph aside; verse flush left.
    Justified,
    /// The part as a block, centred by its longest line.
    LongestLine,
    /// The same by the longest line when the longest tenth is left aside.
    UsualLongest,
}

/// Distances from a panel's edges to its text area.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Margins {
    /// From the top.
    pub head: Length,
    /// From the bottom.
    pub foot: Length,
    /// From the left; from the inner edge, where these go by folds.
    pub left: Length,
    /// From the right; from the outer edge, where these go by folds.
    pub right: Length,
    /// Whether the sides are the inner and the outer edge, which lie otherwise on the two panels of a spread.
    pub by_folds: bool,
}

impl Margins {
    /// These margins on a panel whose inner edge is there.
    pub fn on(self, inner: Edge) -> Margins {
        let (left, right) = match (self.by_folds, inner) {
            (true, Edge::Right) => (self.right, self.left),
            _ => (self.left, self.right),
        };
        Margins {
            left,
            right,
            by_folds: false,
            ..self
        }
    }
}

/// Margins of which only some are asked for. The sides are left and right, or inner and outer, never both.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MarginsRequest {
    /// From the top.
    pub head: Option<Length>,
    /// From the bottom.
    pub foot: Option<Length>,
    /// From the left.
    pub left: Option<Length>,
    /// From the right.
    pub right: Option<Length>,
    /// From the fold in the middle of a spread.
    pub inner: Option<Length>,
    /// From the other side.
    pub outer: Option<Length>,
    /// Where the plan asks for them; nothing where it does not.
    pub place: Option<Location>,
}

impl MarginsRequest {
    /// These margins on a panel whose inner edge is there, with `others` where nothing is asked.
    pub fn over(&self, others: Margins, inner: Edge) -> Margins {
        let others = others.on(inner);
        let (left, right) = match inner {
            Edge::Left => (self.inner, self.outer),
            Edge::Right => (self.outer, self.inner),
        };
        Margins {
            head: self.head.unwrap_or(others.head),
            foot: self.foot.unwrap_or(others.foot),
            left: self.left.or(left).unwrap_or(others.left),
            right: self.right.or(right).unwrap_or(others.right),
            by_folds: false,
        }
    }

    /// Whether the sides that are asked for are the inner and the outer one.
    pub fn by_folds(&self) -> bool {
        self.inner.or(self.outer).is_some()
    }
}

/// Where the turned-over piece of a verse line stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Turnover {
    /// Indented from the left by at least this much.
    Indent(Length),
    /// Flush to the right.
    Right,
}

/// What hangs outside the text area.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Hang {
    /// Nothing.
    None,
    /// Opening quotation marks at the left.
    Quotes,
    /// Quotation marks at the left; full stops, commas, hyphens and closing quotation marks at the right.
    All,
}

/// How a part opens.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Opening {
    /// Like any other line.
    None,
    /// Its first line in small capitals.
    SmallCaps,
    /// Its first letter large, over so many grid lines (two or more).
    DropCap(u32),
}
