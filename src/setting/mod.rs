//! Lines: every verse line and paragraph of the manuscript, set to every measure that the plan uses.
//!
//! This is done once, before the words are divided over panels. [`set`] gives [`SetLines`]: the text
//! areas of all panels, and for each part its rows (a row is a verse line, a paragraph, a heading, an
//! ornament or room left empty) with what each falls into at each setting.

mod agree;
mod areas;
mod broken;
mod display;
mod drop;
pub mod falls;
mod heading;
mod here;
mod limits;
mod mirror;
mod missing;
mod on_slots;
mod opportunities;
mod paragraph;
mod part;
mod pieces;
mod remembered;
mod rows;
mod settings;
mod shaped;
mod solid;
mod stack;
mod turnover;
mod usual;
mod verse;

pub use areas::{Area, AreaId, Areas, Grid, Rectangle, Shape, Slot, Slots};
pub use display::heading_step;
pub use falls::Slack;
pub use missing::label_faults;
pub use on_slots::{
    AskedOnSlots, ParagraphOnSlots, RowOnSlots, RowsOnSlots, Stand, Step, lines_on_slots,
};
pub use opportunities::{BreakKind, Judgement, Opportunity, Tailoring, judgements, opportunities};
pub use paragraph::{
    Asked, Paragraph, ParagraphAt, ParagraphBreak, Parts, Poor, ProseLine, inset_of as prose_inset,
    line_between as prose_line_between, lines as prose_lines, lines_in as prose_lines_in,
};
pub use remembered::Remembered;
pub use shaped::{DropCap, LineWord, SetWord, ShapedLine};
pub use solid::{PieceKind, reading_rise};
pub use turnover::{Break, Divided, Giving, begins_phrase, breaks, divide, may_begin};
pub use verse::may_hang;

use std::ops::Range;
use std::sync::Arc;

use crate::names::Direction;
use crate::names::Length;
use crate::names::{Faults, Location};
use crate::paper::Strip;
use crate::plan::{PartPlan, Plan};
use crate::text::{LineKind, Manuscript};
use crate::typeface::{Base, FontLibrary, FontStyle, Shaper, Typeface};

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

/// A remark about a row at one setting.
#[derive(Clone, Debug, PartialEq)]
pub struct RowNote {
    /// The row.
    pub row: usize,
    /// The setting.
    pub setting: usize,
    /// The remark.
    pub note: Note,
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
    pub rows: Vec<Row>,
    /// The settings that its panels use.
    pub settings: Vec<Setting>,
    /// Its rows on the slots of the shapes that its panels use. As settings these are counted on behind the others.
    pub shaped: Vec<RowsOnSlots>,
    /// Which setting each text area uses, by [`AreaId`]; nothing for areas of other parts.
    pub setting_of_area: Vec<Option<usize>>,
    /// Where a panel may begin, in order: before each row, and within paragraphs.
    pub places: Vec<RowPlace>,
    /// Remarks about rows, for the settings that they come to stand in.
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
    /// The rows on slots, if that is what a setting stands for.
    pub fn on_slots(&self, setting: usize) -> Option<&RowsOnSlots> {
        let number = setting.checked_sub(self.settings.len())?;
        self.shaped.get(number)
    }

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

/// How wide a part's lines may be, and where they begin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Setting {
    /// The left edge of its lines, from the panel's left edge.
    pub left: Length,
    /// The measure from there to the text area's right edge.
    pub measure: Length,
    /// How far quotation marks may hang out to the left before they come too near a fold or an edge.
    pub hang_left: Length,
    /// The same to the right.
    pub hang_right: Length,
}

/// One line or paragraph of the manuscript, set. Heights and spaces are in half lines of the grid.
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
    /// Space above it, which vanishes at the head of a panel; in half lines.
    pub space_above: u32,
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
    /// What it falls into at each setting of the part.
    pub at: Vec<RowAt>,
}

/// A row at one setting.
#[derive(Clone, Debug, Default)]
pub struct RowAt {
    /// Its height in half lines of the grid; always whole lines. Of a paragraph, that of all its lines when it
    /// stands on one panel.
    pub height: u32,
    /// Its pieces; the second and later ones are turned over. Empty for room and for paragraphs.
    pub pieces: Vec<Piece>,
    /// How it falls into lines, if it is a paragraph.
    pub paragraph: Option<ParagraphAt>,
}

/// A piece of a row, on one line of the grid.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Bytes of the row's text.
    pub text: Range<usize>,
    /// Where it begins, from the panel's left edge; what hangs is counted.
    pub x: Length,
    /// Its whole width, hanging marks counted.
    pub width: Length,
    /// Its baseline in half lines below the first baseline of the row's own depth.
    pub baseline: u32,
    /// Whether it was turned over.
    pub turnover: bool,
    /// Whether a word had to be broken to make it fit.
    pub broken: bool,
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
    shelf: &FontLibrary,
) -> Result<SetLines, Faults> {
    set_again(manuscript, plan, strip, shelf, &mut Remembered::default())
}

/// The same; what is remembered of the last time is used, and what this time finds is remembered.
///
/// # Errors
/// As [`set`].
pub fn set_again(
    manuscript: &Manuscript,
    plan: &Plan,
    strip: &Strip,
    shelf: &FontLibrary,
    remembered: &mut Remembered,
) -> Result<SetLines, Faults> {
    let pairs = agree::pairs(manuscript, plan)?;
    let typefaces = read_typefaces(plan, &pairs, shelf)?;
    let main = shelf.typeface(&plan.text)?;
    let areas = Areas::new(plan, strip, &main, &pairs, shelf.assets())?;
    let mut faults = Faults::new();
    let mut parts = Vec::new();
    for (pair, typeface) in pairs.iter().zip(typefaces) {
        let part = &manuscript.parts()[pair.manuscript];
        let part_plan = &plan.parts[pair.plan];
        let given = part::Given {
            manuscript,
            part,
            plan: part_plan,
            areas: &areas,
            shelf,
        };
        match part::set_part(&given, typeface, remembered) {
            Ok(set) => {
                parts.push(SetPart {
                    places: RowPlace::all(&set.rows),
                    notes: [
                        broken::notes(manuscript, part, &set.rows, &set.settings),
                        solid::notes(
                            manuscript,
                            &set.rows,
                            set.settings.len() + set.shaped.len(),
                            areas.leading(),
                        ),
                    ]
                    .concat(),
                    name: part.name.clone(),
                    plan_index: pair.plan,
                    manuscript_index: pair.manuscript,
                    typeface: set.typeface,
                    rows: set.rows,
                    settings: set.settings,
                    shaped: set.shaped,
                    setting_of_area: set.setting_of_area,
                });
            }
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
    shelf: &FontLibrary,
) -> Result<Areas, Faults> {
    let pairs = agree::pairs(manuscript, plan)?;
    let main = shelf.typeface(&plan.text)?;
    Areas::new(plan, strip, &main, &pairs, shelf.assets())
}

fn read_typefaces(
    plan: &Plan,
    pairs: &[agree::PartPair],
    shelf: &FontLibrary,
) -> Result<Vec<Typeface>, Faults> {
    let mut faults = Faults::new();
    let mut read = |part: &PartPlan| match shelf.typeface(&part.text) {
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

/// The same on the slots of a shape, from the first where it has room; nothing where it has none.
pub fn added_title_on_slots(
    plan: &Plan,
    typeface: &Typeface,
    slots: &Slots,
) -> Option<(ShapedLine, RowAt, usize)> {
    let shaper = Shaper::new(typeface, &plan.language);
    let reads = Direction::of_language(&plan.language);
    let style = mirror::style_seen(&plan.text, reads);
    let (line, voice) = display::title_line(plan, &style, Base::Found { otherwise: reads });
    (0..slots.len()).find_map(|slot| {
        let on = (slots, slot);
        let set = on_slots::heading_on_slots(&line, voice, &style, style.leading, &shaper, on);
        let (setting, mut at) = set?;
        if reads.is_right_to_left() {
            mirror::turn_within(&setting, &mut at);
        }
        Some((line.clone(), at, slot))
    })
}

/// Sets the plan's title as a row of its own, for a title panel whose part has no headings.
pub fn added_title(plan: &Plan, typeface: &Typeface, setting: &Setting) -> (ShapedLine, RowAt) {
    let shaper = Shaper::new(typeface, &plan.language);
    let reads = Direction::of_language(&plan.language);
    let style = mirror::style_seen(&plan.text, reads);
    let base = Base::Found { otherwise: reads };
    let (line, mut at) = display::added_title(plan, base, &style, &shaper, setting);
    if reads.is_right_to_left() {
        mirror::turn_within(setting, &mut at);
    }
    (line, at)
}
