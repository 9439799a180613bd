//! How words are set, as the plan asks for it.

use super::{HeadingStyle, OfLevels};
use crate::names::{Edge, Feature, HalfLines, Ink, Length, LinesRun, Location, Vertical};

/// How the words of a part are set.
#[derive(Clone, Debug, PartialEq)]
pub struct TextStyle {
    /// The main typeface.
    pub typeface: TypefaceChoice,
    /// Faces for characters that the main one lacks, tried in order.
    pub fallback: Vec<TypefaceChoice>,
    /// OpenType features switched on, off or to a number.
    pub features: Vec<Feature>,
    /// Which way lines run on their panels.
    pub lines_run: LinesRun,
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
    /// Where the halves of a verse line stand that wide spaces part.
    pub caesura: Caesura,
    /// What of verse hangs outside the text area.
    pub hang: Hang,
    /// What of prose does.
    pub prose_hang: Hang,
    /// How a part opens.
    pub opening: Opening,
    /// How words wholly of capitals are set.
    pub capitals: CapitalsStyle,
    /// How its headings are set.
    pub headings: OfLevels<HeadingStyle>,
    /// Where words stand on a title panel.
    pub title_vertical: Vertical,
    /// The colour of the words.
    pub ink: Ink,
}

impl TextStyle {
    /// The typefaces that it names.
    pub fn typefaces(&self) -> impl Iterator<Item = &TypefaceChoice> {
        let headings = self.headings.all().into_iter();
        let headings = headings.filter_map(|(_, style)| style.typeface.as_ref());
        std::iter::once(&self.typeface)
            .chain(&self.fallback)
            .chain(headings)
    }

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
    /// A family that is installed on the machine: the same name may be another face elsewhere.
    Installed(String),
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

/// Where the second half of a verse line stands, behind two spaces or more or a tab.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Caesura {
    /// Behind the spaces that are written.
    AsWritten,
    /// In all lines of a part that have room for it at one place.
    Aligned,
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

    /// Margins of panels as these ask for them, with `others` where nothing is asked. Where no side is asked for, the sides
    /// are as those of the others; one that is asked for takes the other by its place: the inner one with the left, the
    /// outer one with the right.
    pub fn over_those_of(&self, others: Margins) -> Margins {
        let asked = [self.left, self.right, self.inner, self.outer];
        let over = self.over(others, Edge::Left);
        Margins {
            by_folds: match asked.iter().any(Option::is_some) {
                true => self.by_folds(),
                false => others.by_folds,
            },
            ..over
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
    /// Its first letter over `drop` grid lines, and the first phrase behind it drawn so.
    Phrase {
        /// Two or more; nought for a letter like any other.
        drop: u32,
        /// How the phrase is drawn.
        then: OpeningWords,
    },
}

impl Opening {
    /// How many grid lines its large initial stands over, if it has one.
    pub fn drop(self) -> Option<u32> {
        match self {
            Opening::Phrase { drop, .. } => (drop > 0).then_some(drop),
            Opening::None | Opening::SmallCaps => None,
        }
    }
}

/// How the letters of a part's first phrase are drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum OpeningWords {
    /// What they are.
    AsWritten,
    /// As small capitals.
    SmallCaps,
    /// As capitals.
    Capitals,
}

/// How words wholly of capitals are set within a text, such as POST.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum CapitalsStyle {
    /// Like any others.
    AsWritten,
    /// A little apart.
    Letterspaced,
    /// As small capitals.
    Small,
}
