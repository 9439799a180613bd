//! The folding guide: what the maker has on the bench. The strip as it looks from each side, where to score, how to fold,
//! join and cover it.

mod boards;
mod closed;
mod cover;
mod crossovers;
mod figure;
mod folding;
mod joining;
mod legend;
mod page;
mod printing;
mod row_drawn;
mod rows;
mod scores;
mod scoring;
mod sheet_seen;
mod strip;
mod table;
#[cfg(test)]
mod tests;
mod wrapper;

use super::{CannotWrite, WordsAs};
use crate::layout::Layout;
use crate::names::{Crossover, JoinKind, Length, Score, SheetSize, Stock};
use crate::paper::{ClosedBook, CutCover, Sheets};
use crate::pdf::{Claims, Document, Page, write};
use crate::typeface::Typeface;
use page::Pages;

/// What a folding guide is made from.
pub struct Guide<'a> {
    /// The book.
    pub layout: &'a Layout,
    /// What else is known of its paper, its sheets and its art.
    pub facts: BenchFacts<'a>,
    /// What its cover is cut to.
    pub cover: &'a CutCover,
    /// How its strip is cut and joined.
    pub sheets: &'a Sheets,
    /// The closed book.
    pub closed: &'a ClosedBook,
    /// What the guide's own words are set in.
    pub typeface: &'a Typeface,
    /// What its maker should look at.
    pub remarks: &'a [String],
}

/// Plain facts of a book that its maker needs on the bench.
#[derive(Clone, Debug)]
pub struct BenchFacts<'a> {
    /// The paper.
    pub stock: Stock,
    /// How its folds are scored.
    pub score: Score,
    /// The sheet of the press, if the author names one.
    pub sheet: Option<&'a SheetSize>,
    /// How sheets are joined.
    pub join: JoinKind,
    /// Paper left beyond the last panel, trimmed off when the strip is folded.
    pub spare: Length,
    /// Motifs that cross from panel to panel.
    pub crossovers: &'a [Crossover],
    /// The names of the pictures that have a scan, each with its file.
    pub scans: Vec<(&'a str, &'a str)>,
}

/// The folding guide, as pages of ISO 216 A4.
///
/// # Errors
/// A font that cannot be subset.
pub fn folding_guide(guide: &Guide<'_>) -> Result<Vec<u8>, CannotWrite> {
    let document = Document {
        title: format!("{} – folding guide", guide.layout.title),
        language: &guide.layout.language,
        date: guide.layout.date,
        pages: pages(guide),
        words_as: WordsAs::Text,
        claims: Claims::Plain,
        printing: None,
    };
    write(&document)
}

fn pages<'a>(guide: &Guide<'a>) -> Vec<Page<'a>> {
    let mut pages = Pages::new(guide.typeface);
    strip::draw(&mut pages, guide);
    pages.in_columns(2, Length::mm(70));
    if !guide.remarks.is_empty() {
        pages.heading("Look at");
        for remark in guide.remarks {
            pages.item("", remark);
        }
    }
    printing::tell(&mut pages, guide);
    scoring::tell(&mut pages, guide);
    scores::tell(&mut pages, guide);
    folding::tell(&mut pages, guide);
    joining::tell(&mut pages, guide);
    crossovers::tell(&mut pages, guide);
    cover::tell(&mut pages, guide);
    closed::tell(&mut pages, guide);
    printing::care(&mut pages);
    pages.finish(&guide.layout.title)
}
