//! Setting: every verse line and paragraph of the manuscript, set to every measure that the plan uses.
//!
//! This is done once, before the words are divided over panels. [`set`] gives [`SetLines`]: the text
//! areas of all panels, and for each part its rows (a row is a verse line, a paragraph, a heading, an
//! ornament or room left empty) with how each stands in every column of the part.

mod agree;
mod alike;
mod areas;
mod broken;
mod caesura;
mod capitals;
mod column;
mod columns;
mod display;
mod drop;
mod emphasis;
mod fill;
mod heading;
mod here;
mod limits;
pub mod line_breaks;
mod mirror;
mod missing;
mod opening;
mod opportunities;
mod paragraph;
mod part;
mod pieces;
mod remembered;
mod rows;
mod shaped;
mod solid;
mod sources;
mod stand;
mod titling;
mod turnover;
mod usual;
mod verse;
mod voices;

pub use areas::{Area, AreaId, Areas, Grid, Rectangle, Shape, Slot, Slots};
pub use column::{Column, Setting};
pub use display::{AddedLine, added_line, heading_step};
pub use line_breaks::Slack;
pub use missing::label_faults;
pub use opportunities::{BreakKind, Judgement, Opportunity, Tailoring, judgements, opportunities};
pub use paragraph::{
    MOST_OF_LETTER, Paragraph, ParagraphAt, ParagraphBreak, ParagraphStart, Parts, Poor,
    ProseContext, ProseLine, inset_of as prose_inset, line_between as prose_line_between,
    lines as prose_lines, lines_in as prose_lines_in,
};
pub use remembered::Remembered;
pub use shaped::{DropCap, LineWord, SetWord, ShapedLine};
pub use solid::{PieceKind, reading_rise};
pub use stand::{Piece, RowAt, Stand, Step, above};
pub use turnover::{Break, Divided, Giving, begins_phrase, breaks, divide, may_begin};
pub use verse::may_hang;

use std::sync::Arc;

use crate::names::{Faults, HalfLines, Length, Location};
use crate::paper::Strip;
use crate::plan::{PartPlan, Plan};
use crate::text::{LineKind, Manuscript};
use crate::typeface::{FontLibrary, FontStyle, Typeface};

/// The manuscript set at every measure.
#[derive(Debug)]
pub struct SetLines {
    /// The text areas of all panels.
    pub areas: Areas,
    /// The parts that have panels, in the manuscript's order.
    pub parts: Vec<SetPart>,
}

/// A remark that is no fault.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Note {
    /// A short fixed word for programs.
    pub word: &'static str,
    /// The sentence for people.
    pub what: String,
    /// Where in the manuscript.
    pub place: Option<Location>,
}

/// A remark about a row in one column.
#[derive(Clone, Debug, PartialEq)]
pub struct RowNote {
    /// The row.
    pub row: usize,
    /// The column.
    pub column: usize,
    /// The remark.
    pub note: Note,
}

impl RowNote {
    /// A remark about a row in each of so many columns.
    fn everywhere(row: usize, columns: usize, note: Note) -> impl Iterator<Item = RowNote> {
        (0..columns).map(move |column| RowNote {
            row,
            column,
            note: note.clone(),
        })
    }
}

/// A part, set.
#[derive(Debug)]
pub struct SetPart {
    /// Its name.
    pub name: String,
    /// Its place among the plan's parts.
    pub plan_index: usize,
    /// Its place among the manuscript's parts.
    pub manuscript_index: usize,
    /// The faces it is set in.
    pub typeface: Typeface,
    /// Its rows.
    pub rows: Arc<Vec<Row>>,
    /// The columns that its panels have.
    pub columns: Vec<Column>,
    /// Which column each text area is, by [`AreaId`]; nothing for areas of other parts.
    pub column_of_area: Vec<Option<usize>>,
    /// Where a panel may begin, in order: before each row, and within paragraphs.
    pub places: Arc<Vec<RowPlace>>,
    /// Remarks about rows, for the columns that they come to stand in.
    pub notes: Vec<RowNote>,
}

/// A place where a panel may begin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RowPlace {
    /// The row.
    pub row: usize,
    /// Which of the breaks of the row's paragraph; 0, its beginning, for other rows.
    pub at: usize,
}

impl RowPlace {
    /// The places of rows, in order.
    fn all(rows: &[Row]) -> Vec<RowPlace> {
        let of_row = |(row, set): (usize, &Row)| -> Vec<RowPlace> {
            let breaks: Vec<usize> = match &set.paragraph {
                Some(paragraph) => paragraph.places().collect(),
                None => vec![0],
            };
            breaks.into_iter().map(|at| RowPlace { row, at }).collect()
        };
        rows.iter().enumerate().flat_map(of_row).collect()
    }
}

impl SetPart {
    /// The place that a panel begins with whose first word is at or behind a byte of the manuscript; the end
    /// where no word is.
    pub fn place_of(&self, row: usize, byte: usize) -> usize {
        let first = self.places.partition_point(|place| place.row < row);
        let Some(set) = self.rows.get(row) else {
            return self.places.len();
        };
        let Some(paragraph) = &set.paragraph else {
            return first;
        };
        let text = set.shaped.text_of_source(byte);
        let own = self.places[first..]
            .iter()
            .take_while(|place| place.row == row);
        let before = own
            .filter(|place| paragraph.breaks[place.at].next < text)
            .count();
        first + before
    }
}

/// One line or paragraph of the manuscript, set.
#[derive(Debug)]
pub struct Row {
    /// Which line of the part it is.
    pub line: usize,
    /// What it is.
    pub kind: LineKind,
    /// Which stanza or other block of the part it belongs to.
    pub block: usize,
    /// Its indent, for a line that is not stepped.
    pub indent: Length,
    /// Whether it steps to where the row above ended.
    pub stepped: bool,
    /// How far the first line of a paragraph stands in beyond that.
    pub first_indent: Length,
    /// Space above it, which vanishes at the head of a panel.
    pub space_above: HalfLines,
    /// Whether it must stand on the panel of the row above it.
    pub joined: bool,
    /// Which `[keep together]` holds it, if any.
    pub kept: Option<usize>,
    /// Whether `[may divide]` stands above it.
    pub may_divide: bool,
    /// Whether `[new panel]` stands above it.
    pub new_panel: bool,
    /// Its words.
    pub shaped: ShapedLine,
    /// How its plain words are set.
    pub voice: FontStyle,
    /// Its breaks, if it is a paragraph.
    pub paragraph: Option<Arc<Paragraph>>,
    /// How it stands in each column of the part.
    pub at: Vec<RowAt>,
}

/// Sets a manuscript at every measure that the plan uses.
///
/// # Errors
/// Everything in which plan and manuscript contradict each other, every text area that cannot hold a
/// line, every typeface that cannot be used, and every character that no face has.
pub fn set(
    manuscript: &Manuscript,
    plan: &Plan,
    strip: &Strip,
    fonts: &FontLibrary,
) -> Result<SetLines, Faults> {
    set_again(manuscript, plan, strip, fonts, &mut Remembered::default())
}

/// Sets the lines as [`set`] does; what is remembered of the last time is used, and what this time finds is remembered.
///
/// # Errors
/// As [`set`].
pub fn set_again(
    manuscript: &Manuscript,
    plan: &Plan,
    strip: &Strip,
    fonts: &FontLibrary,
    remembered: &mut Remembered,
) -> Result<SetLines, Faults> {
    let pairs = agree::pairs(manuscript, plan)?;
    let typefaces = read_typefaces(plan, &pairs, fonts)?;
    let areas = Areas::new(plan, strip, &pairs, fonts)?;
    let given = part::Given {
        manuscript,
        plan,
        areas: &areas,
        fonts,
    };
    let mut faults = Faults::new();
    let mut parts = Vec::new();
    for (pair, typeface) in pairs.iter().zip(typefaces) {
        match part::set_part(&given, pair, typeface, remembered) {
            Ok(set) => parts.push(set),
            Err(found) => faults.extend(found),
        }
    }
    if faults.is_empty() {
        Ok(SetLines { areas, parts })
    } else {
        Err(faults)
    }
}

/// The text areas that [`set`] would set the lines to, without setting any.
///
/// # Errors
/// Those of [`set`] that concern plan and areas.
pub fn areas(
    manuscript: &Manuscript,
    plan: &Plan,
    strip: &Strip,
    fonts: &FontLibrary,
) -> Result<Areas, Faults> {
    let pairs = agree::pairs(manuscript, plan)?;
    Areas::new(plan, strip, &pairs, fonts)
}

fn read_typefaces(
    plan: &Plan,
    pairs: &[agree::PartPair],
    fonts: &FontLibrary,
) -> Result<Vec<Typeface>, Faults> {
    let mut faults = Faults::new();
    let mut read = |part: &PartPlan| match fonts.typeface(&part.text) {
        Ok(typeface) => Some(typeface),
        Err(found) => {
            // Parts that share the plan's typeface would report it once each.
            faults.extend(found);
            None
        }
    };
    let typefaces: Vec<Typeface> = pairs
        .iter()
        .filter_map(|pair| read(&plan.parts[pair.plan]))
        .collect();
    faults.dedup();
    if faults.is_empty() {
        Ok(typefaces)
    } else {
        Err(faults)
    }
}
