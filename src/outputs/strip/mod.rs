//! The print sheets: each a PDF of its own, its front and its back in register.

mod marks;
mod plates;

pub use plates::{Plate, is_plate_of, plate_inks, plates};

use super::scans::{self, OnPage, Scans};
use super::{CannotWrite, WordsAs};
use crate::layout::Layout;
use crate::names::{Crossover, Length, PageSpace, Side, Turned};
use crate::paper::{Flip, Sheet, Sheets};
use crate::pdf::{
    Claims, ContentGroup, Document, Drawing, Duplex, Intent, Page, PageBoxes, Paint, Printing,
    Within, write,
};
use crate::typeface::Typeface;
use marks::Marks;

/// What print sheets are made of.
pub struct ForSheets<'a> {
    /// The book.
    pub layout: &'a Layout,
    /// How it is cut.
    pub sheets: &'a Sheets,
    /// The scans that lie below the words; none where words alone are asked for.
    pub scans: &'a Scans,
    /// Motifs that cross from panel to panel.
    pub crossovers: &'a [Crossover],
    /// What marks are labelled in.
    pub typeface: &'a Typeface,
    /// Whether words and marks alone are asked for.
    pub words_only: bool,
    /// The printing condition, where the files are to be PDF/X-4.
    pub intent: Option<OutputIntent>,
}

/// A printing condition that files for the press are made for.
pub struct OutputIntent {
    /// An ICC profile of an output device, whole.
    pub profile: Vec<u8>,
    /// How many channels it has.
    pub channels: u8,
    /// What the condition is called.
    pub condition: String,
}

/// How the names of sheets that are PDF/X-4 end.
pub(super) const X4: &str = "-x4";

/// A print sheet.
#[non_exhaustive]
pub struct PrintSheet {
    /// Its file name: `sheet-1.pdf`, or `words-sheet-1.pdf` without art; as PDF/X-4 `sheet-1-x4.pdf`.
    pub name: String,
    /// The file.
    pub bytes: Vec<u8>,
    /// The words it shows, in the order of its panels.
    pub words: Vec<String>,
}

/// Writes the print sheets.
///
/// # Errors
/// A font that cannot be subset.
pub fn print_sheets(asked: &ForSheets<'_>) -> Result<Vec<PrintSheet>, CannotWrite> {
    let layout = asked.layout;
    let intent = asked.intent.as_ref().map(|intent| Intent {
        profile: intent.profile.clone(),
        channels: intent.channels,
        condition: intent.condition.clone(),
        // This is asked for where the condition is none that is registered (ISO 32000-1, table 365; from memory).
        info: Some(intent.condition.clone()),
    });
    let sides = layout.strip.sides();
    let made = asked.sheets.sheets.iter().map(|sheet| {
        let pages = sides.iter().map(|&side| page(asked, sheet, side));
        let both = sides.len() > 1;
        let document = Document {
            title: title(asked, sheet),
            language: &layout.language,
            date: layout.date,
            pages: pages.collect(),
            words_as: WordsAs::Text,
            claims: intent.as_ref().map_or(Claims::Plain, Claims::X4),
            printing: Some(Printing {
                duplex: both.then(|| duplex(asked.sheets.page, layout.strip.paper().turned)),
            }),
        };
        Ok(PrintSheet {
            name: format!(
                "{}sheet-{}{}.pdf",
                if asked.words_only { "words-" } else { "" },
                numbered(sheet.number, asked.sheets.sheets.len()),
                if intent.is_some() { X4 } else { "" }
            ),
            bytes: write(&document)?,
            words: words(asked, sheet),
        })
    });
    made.collect()
}

/// A sheet's number, padded so that files stand in order in any folder.
fn numbered(number: usize, of: usize) -> String {
    let digits = of.to_string().len();
    format!("{number:0digits$}")
}

fn title(asked: &ForSheets<'_>, sheet: &Sheet) -> String {
    let count = asked.sheets.sheets.len();
    format!("{} – sheet {} of {count}", asked.layout.title, sheet.number)
}

/// The edge that the printer turns a page about.
pub(super) fn duplex(page: (Length, Length), turned: Turned) -> Duplex {
    match Flip::of(page, turned) {
        Flip::ShortEdge => Duplex::ShortEdge,
        Flip::LongEdge => Duplex::LongEdge,
    }
}

/// The words that a sheet is home to, front then back.
fn words(asked: &ForSheets<'_>, sheet: &Sheet) -> Vec<String> {
    let here = asked.layout.panels.iter();
    let here = here.filter(|panel| is_home(asked, sheet, panel.panel));
    here.flat_map(|panel| panel.words()).collect()
}

fn is_home(asked: &ForSheets<'_>, sheet: &Sheet, panel: crate::names::PanelName) -> bool {
    let home = asked.sheets.home(&asked.layout.strip, panel);
    home.is_some_and(|home| home.number == sheet.number)
}

/// How a side of a sheet lies on its page.
fn on_page(asked: &ForSheets<'_>, sheet: &Sheet, side: Side) -> OnPage {
    let strip = &asked.layout.strip;
    let zero = asked.sheets.on_page(strip, sheet, side, Length::ZERO);
    OnPage {
        side,
        zero,
        leftwards: side == Side::Back && strip.paper().turned == Turned::HeadToHead,
        head: asked.sheets.head_on_page(strip),
        scale: (1, 1),
    }
}

fn page<'a>(asked: &'a ForSheets<'a>, sheet: &'a Sheet, side: Side) -> Page<'a> {
    let on = on_page(asked, sheet, side);
    let mut drawings = Vec::new();
    if !asked.scans.is_empty() {
        drawings.push(Drawing::Begin(Within::Group(ContentGroup::Art)));
        let stretch = asked.sheets.inked(sheet, side);
        scans::draw(asked.layout, asked.scans, &on, stretch, &mut drawings);
        drawings.push(Drawing::End);
    }
    drawings.push(Drawing::Begin(Within::Group(ContentGroup::Words)));
    drawings.extend(drawn_words(asked, sheet, &on));
    drawings.push(Drawing::End);
    drawings.push(Drawing::Begin(Within::Group(ContentGroup::Marks)));
    let alone = if asked.words_only {
        " · words only"
    } else {
        ""
    };
    let label = format!("{} · {}{alone}", title(asked, sheet), side.word());
    Marks::new(asked, sheet, &on, Paint::Registration).draw(&label, &mut drawings);
    drawings.push(Drawing::End);
    Page {
        size: asked.sheets.page,
        boxes: Some(boxes(asked, sheet, &on)),
        drawings,
        mirrored: false,
    }
}

/// The words of the panels that have their home here, on the side that is drawn.
fn drawn_words<'a>(asked: &'a ForSheets<'a>, sheet: &Sheet, on: &OnPage) -> Vec<Drawing<'a>> {
    let strip = &asked.layout.strip;
    let here = asked.layout.panels.iter();
    let here = here.filter(|panel| panel.panel.side == on.side && !panel.lines.is_empty());
    let here = here.filter(|panel| is_home(asked, sheet, panel.panel));
    here.map(|panel| {
        let left = on.x(strip.across(on.side, strip.left_of(panel.panel)));
        let space = PageSpace::placed(left, on.head, (1, 1));
        Drawing::Words { panel, space }
    })
    .collect()
}

/// Where the paper is cut, and the bleed around it.
fn boxes(asked: &ForSheets<'_>, sheet: &Sheet, on: &OnPage) -> PageBoxes {
    let (left, width) = {
        let (from, to) = sheet.cut();
        on.stretch(from, to)
    };
    let height = asked.layout.strip.paper().panel_height;
    let foot = on.head - height;
    let bleed = asked.sheets.bleed;
    PageBoxes {
        bleed: [
            left - bleed,
            foot - bleed,
            width + bleed * 2,
            height + bleed * 2,
        ],
        trim: [left, foot, width, height],
    }
}
