//! The dummy: a mock-up of the folded book on office paper, to be cut, pasted and folded.
//!
//! Real words stand in place, scans or flat tints with their names where pictures are. The strip is cut into pieces that
//! the paper has room for, full size where a panel fits, else at the largest scale in steps of 5 %. Tabs are pasted
//! behind the next piece, as on the book itself.

mod faces;
mod fit;
mod marks;
mod piece;
mod steps;

use super::scans::Scans;
use super::strip::duplex;
use super::words::LabelSetter;
use super::{CannotWrite, WordsAs};
use crate::layout::Layout;
use crate::names::{SheetSize, Sides};
use crate::paper::Flip;
use crate::pdf::{Claims, Document, Drawing, Page, Printing, write};
use crate::typeface::Typeface;
pub use fit::Fitted;

/// How the backs come behind the fronts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Backs {
    /// The printer prints both sides.
    Printed,
    /// They are printed by themselves, and pasted behind the fronts.
    Pasted,
    /// There are none.
    None,
}

/// What a dummy is made of.
pub struct ForDummy<'a> {
    /// The book.
    pub layout: &'a Layout,
    /// The scans; a picture without one is a flat tint with its name.
    pub scans: &'a Scans,
    /// What labels are set in.
    pub typeface: &'a Typeface,
    /// The paper of the office printer.
    pub paper: &'a SheetSize,
    /// How the backs come behind the fronts.
    pub backs: Backs,
}

/// A dummy.
#[non_exhaustive]
pub struct Dummy {
    /// The file.
    pub bytes: Vec<u8>,
    /// The words it shows, in the order of its pages.
    pub words: Vec<String>,
    /// How the strip lies on the paper.
    pub fitted: Fitted,
    /// How many pages it has.
    pub pages: usize,
    /// The edge to turn the paper about, where it is printed on both sides.
    pub flip: Option<Flip>,
}

/// Makes the dummy; nothing where the paper has no room for a panel even at the smallest scale.
///
/// # Errors
/// A font that cannot be subset.
pub fn dummy(asked: &ForDummy<'_>) -> Result<Option<Dummy>, CannotWrite> {
    let backs = match asked.layout.strip.paper().panels.sides {
        Sides::Front => Backs::None,
        Sides::Both => asked.backs,
    };
    let asked = ForDummy { backs, ..*asked };
    let setter = LabelSetter::new(asked.typeface);
    let Some(fitted) = Fitted::new(&asked, &setter) else {
        return Ok(None);
    };
    let pages: Vec<Page<'_>> = faces::pages(&asked, &fitted, &setter);
    let both = backs == Backs::Printed;
    let turned = asked.layout.strip.paper().turned;
    let count = pages.len();
    let drawings = pages.iter().flat_map(|page| &page.drawings);
    let panels = drawings.filter_map(|drawing| match drawing {
        Drawing::Words { panel, .. } => Some(panel.words()),
        _ => None,
    });
    let words = panels.flatten().collect();
    let document = Document {
        title: format!("{} – dummy", asked.layout.title),
        language: &asked.layout.language,
        date: asked.layout.date,
        pages,
        words_as: WordsAs::Text,
        claims: Claims::Plain,
        printing: Some(Printing {
            duplex: both.then(|| duplex(fitted.page, turned)),
        }),
    };
    Ok(Some(Dummy {
        bytes: write(&document)?,
        words,
        flip: both.then(|| Flip::of(fitted.page, turned)),
        pages: count,
        fitted,
    }))
}
