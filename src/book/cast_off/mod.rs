//! The cast-off: how many panels the text takes, at which type sizes, before anything is drawn.
//!
//! Every cell of its table is the book divided anew as [`Workbench::divide_texts`] would divide it, were the plan
//! written so: nothing is estimated but the characters to a line.

mod book;
mod bounds;
mod fewest_lines;
mod largest;
mod letters;
mod relaxed;

pub use book::{Figures, PartRoom};
pub use largest::Largest;
pub use letters::{Comfort, Letters, characters_per_line};

use std::sync::Arc;

use rayon::prelude::*;

use super::{BookTexts, Workbench};
use crate::book::plan_file::vary::Variation;
use crate::names::{Faults, Length, Source};
use crate::setting::Remembered;
use book::Book;

/// What a cast-off is asked for.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CastOffRequest {
    /// The type sizes of the table; where none is named, those around the plan's, and the two largest.
    pub sizes: Vec<Length>,
    /// The numbers of panels on a side; where none is named, those around the plan's.
    pub panels: Vec<u16>,
    /// Whether nobody has said yet how many panels there are: the plan's number is then only what the words are tried
    /// on, no cell is worked out, and nothing is asked to fit.
    pub any_number: bool,
}

/// How many panels the text takes.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct CastOff {
    /// The book's title.
    pub title: String,
    /// The width and the height of a panel.
    pub panel: (Length, Length),
    /// How many sides are printed, one or two.
    pub sides: usize,
    /// How many panels a side has in the plan; nothing where nobody has said.
    pub panels: Option<u16>,
    /// The plan's type size and its leading.
    pub size: (Length, Length),
    /// How many lines are verse.
    pub verse: usize,
    /// Whether the most part of the words is prose.
    pub mostly_prose: bool,
    /// The largest size at which no line of verse turns over on panels of words alone; nothing where there is none
    /// down to 6 pt, or no verse.
    pub whole_lines: Option<Largest>,
    /// The largest size that fits the plan's panels; nothing where there is none down to 6 pt, or no number is given.
    pub fits: Option<Largest>,
    /// How many characters a line holds, and how many the text's lines have, at the plan's size.
    pub letters: Option<Letters>,
    /// The numbers of panels on a side that were tried.
    pub tried: Vec<u16>,
    /// The table, by size from the smallest.
    pub rows: Vec<SizeRow>,
    /// What each part has and needs at the plan's size.
    pub parts: Vec<PartRoom>,
}

/// One type size.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct SizeRow {
    /// The size.
    pub size: Length,
    /// Its leading.
    pub leading: Length,
    /// How many characters a line holds.
    pub characters: Option<f64>,
    /// How many lines turn over on panels of words alone.
    pub turned_over: usize,
    /// The fewest panels that the words take, all stanzas whole. Nothing where a stanza is larger than a panel, or
    /// parts that go side by side have no number by themselves.
    pub fewest_whole: Option<usize>,
    /// The same where stanzas may be divided, if the plan lets them.
    pub fewest: Option<usize>,
    /// What becomes of it on each number of panels tried.
    pub cells: Vec<Cell>,
}

/// One type size on one number of panels.
#[derive(Clone, Debug)]
pub enum Cell {
    /// The words fit.
    Fits(Figures),
    /// No division keeps every rule that must be kept.
    TooMuch,
    /// The plan, written so, contradicts itself.
    Wrong(Faults),
}

impl Workbench {
    /// The cast-off of the book.
    ///
    /// # Errors
    /// As [`Workbench::prepare`].
    pub fn cast_off(&mut self, asked: &CastOffRequest) -> Result<CastOff, Faults> {
        // What was chosen and passed holds for the plan as it is, and no other.
        let BookTexts {
            plan, manuscript, ..
        } = self.read_files()?;
        self.cast_off_texts(&plan, &manuscript, asked)
    }

    /// The cast-off of a book whose plan and manuscript are these texts.
    ///
    /// # Errors
    /// As [`Workbench::prepare_texts`].
    pub fn cast_off_texts(
        &mut self,
        plan_source: &Arc<Source>,
        manuscript_source: &Arc<Source>,
        asked: &CastOffRequest,
    ) -> Result<CastOff, Faults> {
        let plan = self.plan(plan_source)?;
        let book = Book {
            source: plan_source,
            manuscript: self.manuscript(manuscript_source, &plan)?,
            fonts: &self.fonts,
            plan,
        };
        let mut remembered = Remembered::default();
        let as_planned = book.prepare(Variation::default(), &mut remembered)?;
        let mut known = vec![(book.plan.text.size, remembered.of_whole_parts())];
        drop(remembered);
        let verse = book::lines_of_verse(&as_planned.set);
        let mostly_prose = book::mostly_prose(&as_planned.set);
        let search = largest::Search::new(&book, &as_planned);
        let whole_lines = (verse > 0).then(|| search.whole_lines()).flatten();
        let fits = (!asked.any_number).then(|| search.fits()).flatten();
        let mut keep = |(largest, remembered): largest::Found| {
            known.push((largest.size, remembered));
            largest
        };
        let (whole_lines, fits) = (whole_lines.map(&mut keep), fits.map(&mut keep));
        let paper = &book.plan.paper;
        let per_side = paper.panels.per_side;
        let tried = match (asked.any_number, asked.panels.as_slice()) {
            (true, _) => Vec::new(),
            (false, []) => around(per_side),
            (false, named) => distinct(named),
        };
        let sizes = match asked.sizes.as_slice() {
            // A line of verse or two say nothing of a size for prose.
            [] => book.sizes_around([whole_lines.filter(|_| !mostly_prose), fits]),
            named => distinct(named),
        };
        let rows: Result<Vec<SizeRow>, Faults> = sizes
            .par_iter()
            .map(|&size| book.row(size, &tried, &known))
            .collect();
        Ok(CastOff {
            title: book.plan.title.clone(),
            panel: (paper.panel_width, paper.panel_height),
            sides: as_planned.strip.sides().len(),
            panels: (!asked.any_number).then_some(per_side),
            size: (book.plan.text.size, book.plan.text.leading),
            verse,
            mostly_prose,
            whole_lines,
            fits,
            letters: Letters::of(&as_planned),
            tried,
            rows: rows?,
            parts: book::rooms(&as_planned),
        })
    }
}

/// The numbers of panels next to one.
fn around(panels: u16) -> Vec<u16> {
    let all = [panels - 1, panels, panels + 1];
    let allowed = all.into_iter().filter(|number| (2..=400).contains(number));
    allowed.collect()
}

fn distinct<T: Copy + Ord>(named: &[T]) -> Vec<T> {
    let mut all = named.to_vec();
    all.sort_unstable();
    all.dedup();
    all
}
