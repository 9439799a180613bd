//! The layout: every glyph in its place. All that outputs may read.
//!
//! A [`Layout`] is made of the set lines and a division. [`verify`] proves that it holds every word of the
//! manuscript exactly once, in order and in its place.

mod alike;
pub mod breaks;
mod clusters;
mod compose;
mod dots;
mod fingerprint;
mod glyphs;
mod installed;
mod label;
mod leading;
mod leads;
mod on_panel;
mod panel_order;
mod panels;
mod passed;
mod pictures;
mod prose;
mod remembered;
mod taken;
mod title;
mod unnamed;
mod verify;

pub use compose::{ComposeInput, compose, compose_again};
pub use dots::Dot;
pub use fingerprint::{Age, age, seal, shown};
pub(crate) use fingerprint::{Encoder, shown_of};
pub use label::{LabelStyle, Stands, label, label_by, label_shaper};
pub use leading::least_leading;
pub use remembered::Remembered as RememberedPanels;
pub use taken::{Taking, take};
pub use unnamed::UnnamedPicture;
pub use verify::{BrokenPromise, Promise, verify, verify_again};

use std::collections::HashSet;
use std::ops::Range;
use std::sync::Arc;

use crate::division::Cost;
use crate::names::{Date, Direction, HalfLines, Ink, Length, LinesRun, PanelName, Role};
use crate::paper::Strip;
use crate::plan::{PictureWith, RuleName, Rules, Window};
use crate::setting::{Area, Grid, Note, Rectangle, Slot};
use crate::text::LineKind;
use crate::typeface::{Dots, Face};

/// A book, laid out.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Layout {
    /// The book's title.
    pub title: String,
    /// Who wrote it, as the plan says.
    pub author: Option<String>,
    /// The book's language, as a BCP 47 tag.
    pub language: String,
    /// The date that the author gives the book.
    pub date: Option<Date>,
    /// The folded strip.
    pub strip: Strip,
    /// The lines that all baselines stand on which are of no part.
    pub grid: Grid,
    /// The parts that have panels, in the manuscript's order.
    pub parts: Vec<LaidPart>,
    /// Every panel that is printed, front then back.
    pub panels: Vec<LaidPanel>,
    /// The pictures that belong to words, part by part.
    pub pictures: Vec<LaidPicture>,
    /// What the division costs under the author's rules.
    pub cost: Cost,
    /// Whether no other division costs less.
    pub proved: bool,
    /// What no division can cost less than.
    pub bound: Cost,
    /// The author's rules, to tell what was given up.
    pub rules: Rules,
    /// Rules that gave way, by part.
    pub gave_way: Vec<(String, RuleName)>,
    /// What the author should be told.
    pub notes: Vec<Note>,
}

impl Layout {
    /// How many lines of the manuscript turn over, each once, however many pieces it falls into.
    pub fn turned_over(&self) -> usize {
        let lines = self.panels.iter().flat_map(|panel| &panel.lines);
        let turned = lines.filter(|line| line.turnover);
        let rows: HashSet<_> = turned.map(|line| (&line.part, line.row)).collect();
        rows.len()
    }
}

/// A part of the book: where its words run, and on which lines they stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LaidPart {
    /// Its name.
    pub name: String,
    /// Its panels, in the order that its words run over them.
    pub on: Vec<PanelName>,
    /// The type size of its plain words.
    pub size: Length,
    /// Which way its lines run.
    pub lines_run: LinesRun,
    /// The lines of the grid that its baselines stand on.
    pub grid: Grid,
}

/// A picture, seen from its words.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct LaidPicture {
    /// Its name.
    pub name: String,
    /// The first panel that it stands on.
    pub on: PanelName,
    /// The panel of its words.
    pub words: PanelName,
    /// How many spreads it stands after its words, as the part's panels are leafed through; below nought before them.
    pub spreads_after: i64,
    /// How many panels after them, along the part's panels.
    pub panels_after: i64,
    /// How often the strip is turned over between the two.
    pub turns: usize,
    /// How many headings stand between them; none on one spread.
    pub headings: usize,
    /// How many panels after its words it is asked to come, if that is asked.
    pub comes: Option<Window>,
    /// On which spread it is asked to stand, if that is asked.
    pub with: Option<PictureWith>,
    /// Whether it is asked to be seen only on the spread after them.
    pub reveal: bool,
}

/// One panel, laid out.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct LaidPanel {
    /// The panel.
    pub panel: PanelName,
    /// Its width and height.
    pub size: (Length, Length),
    /// What it carries.
    pub role: Role,
    /// Its picture.
    pub picture: Option<String>,
    /// All the panels that this picture stands on, in order; none where there is no picture.
    pub picture_panels: Vec<PanelName>,
    /// The text area its words stand in; of one that is shaped, what its rectangles lie in.
    pub area: Option<Area>,
    /// The rectangles of a shaped text area; none where it is not.
    pub shape: Vec<Rectangle>,
    /// The lines of a shaped text area, in the order that words fill them; none where it is not.
    pub slots: Vec<Slot>,
    /// How much of an ordinary text area stays free above its words.
    pub lead: HalfLines,
    /// How far down words reach, and how far they may; nothing where no words stand.
    pub fullness: Option<(HalfLines, HalfLines)>,
    /// What each rule in use costs here, noughts left out.
    pub costs: Vec<(RuleName, Cost)>,
    /// Whether the plan says what it carries, or it is passed for press.
    pub pinned: bool,
    /// Whether it is passed for press.
    pub passed: bool,
    /// Whether a verse stanza goes on here from a panel before.
    pub continues: bool,
    /// Its lines, from the head down.
    pub lines: Vec<LaidLine>,
    /// Room that is left empty among them, from the head down.
    pub rooms: Vec<LaidRoom>,
}

impl LaidPanel {
    /// Whether its picture goes on from the panel before.
    pub fn goes_on(&self) -> bool {
        let first = self.picture_panels.first();
        first.is_some_and(|first| *first != self.panel)
    }

    /// The panel's words as they read, line by line; lines of prose that go on without a space are one.
    pub fn words(&self) -> Vec<String> {
        let mut words: Vec<String> = Vec::with_capacity(self.lines.len());
        let mut glued = false;
        for line in &self.lines {
            match words.last_mut() {
                Some(last) if glued => last.push_str(&line.text),
                _ => words.push(line.text.clone()),
            }
            glued = line.glued;
        }
        words
    }

    /// Which way its lines run; across where it has none.
    pub fn lines_run(&self) -> LinesRun {
        let first = self.lines.first();
        first.map_or(LinesRun::Across, |line| line.lines_run)
    }

    /// What each line takes up from its baseline to the top of its letters: left edge and top, width and height.
    pub fn line_boxes(&self) -> impl Iterator<Item = ((Length, Length), (Length, Length))> + '_ {
        self.lines.iter().map(|line| {
            let corner = (line.x, line.baseline - line.size);
            let size = (line.width, line.size);
            line.lines_run.rectangle(corner, size, self.size.0)
        })
    }

    /// The share of the text area's depth that the words take.
    pub fn share(&self) -> Option<f64> {
        self.fullness
            .filter(|(_, capacity)| *capacity > HalfLines::ZERO)
            .map(|(used, capacity)| f64::from(used) / f64::from(capacity))
    }
}

/// Room on a panel that is left empty, as for a signature.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LaidRoom {
    /// The baseline of the first line of the grid that it takes, from the panel's top edge.
    pub baseline: Length,
    /// How much of the grid it takes.
    pub height: HalfLines,
    /// Space above it; at the head of a panel it vanishes.
    pub space_above: HalfLines,
}

/// One line on a panel. All its places are measured as lines have them: of one that runs down, what is said to be from the
/// left edge is from the top edge, and what is said to be from the top edge is from the right one ([`LinesRun`]).
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct LaidLine {
    /// The part it belongs to; nothing for a line that is wholly added.
    pub part: Option<String>,
    /// The language of its words.
    pub language: String,
    /// What it is.
    pub kind: LineKind,
    /// Which block of the part it belongs to.
    pub block: usize,
    /// Which row of the part it is a piece of.
    pub row: usize,
    /// Space above it, where it is the first of its row; at the head of a panel it vanishes.
    pub space_above: HalfLines,
    /// Which way it runs.
    pub lines_run: LinesRun,
    /// The words that are shown, without mark-up.
    pub text: String,
    /// The bytes of its row's text that it shows; of one that is wholly added, those of its own.
    pub stretch: Range<usize>,
    /// Where it begins, from the panel's left edge.
    pub x: Length,
    /// Its baseline, from the panel's top edge.
    pub baseline: Length,
    /// Its width.
    pub width: Length,
    /// The measure it was set to.
    pub measure: Length,
    /// The type size of its plain words.
    pub size: Length,
    /// Whether it was turned over.
    pub turnover: bool,
    /// What the setter added: the hyphen at the line's end, or the whole line's words where it is wholly added.
    pub added: Option<String>,
    /// Whether the next line of its paragraph goes on without a space between: with the rest of a divided word,
    /// or in a script that has none.
    pub glued: bool,
    /// The bytes of the manuscript that are its words.
    pub sources: Vec<(usize, usize)>,
    /// Its colour.
    pub ink: Ink,
    /// Its glyphs, in the order of its text.
    pub runs: Vec<GlyphRun>,
}

/// Glyphs of one face and size on one baseline.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct GlyphRun {
    /// The face.
    pub face: Arc<Face>,
    /// The type size.
    pub size: Length,
    /// Its left edge, from the panel's left edge.
    pub x: Length,
    /// Its baseline, from the panel's top edge.
    pub baseline: Length,
    /// Which way its words run.
    pub reads: Direction,
    /// Whether its letters are drawn as capitals.
    pub capitals: bool,
    /// Whether its glyphs stand upright in a line that runs down; else they are turned with it.
    pub upright: bool,
    /// The glyphs from left to right, whichever way its words run.
    pub glyphs: Vec<LaidGlyph>,
}

/// One glyph of a run. Advances and offsets are in font units.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct LaidGlyph {
    /// Its number in the face.
    pub id: u16,
    /// How far the pen moves on.
    pub advance: i32,
    /// How far the glyph lies to the right of the pen.
    pub dx: i32,
    /// How far the glyph lies above the pen.
    pub dy: i32,
    /// The bytes of the line's text that it stands for. Where it cannot be told which of a cluster's glyphs
    /// stands for what, the first has all of its bytes and the others none.
    pub text: Range<usize>,
    /// What it shows, where the setter added it: a hyphen or a space at the end of a line of prose.
    pub added: Option<char>,
    /// The dot that stresses its sign, if it has one.
    pub dots: Option<Dots>,
}
