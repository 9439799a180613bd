//! The trials: each a row or two of small panels, under one another, so that they can be compared.

use super::sheet::{GAP, LABEL, MARGIN, OverviewPage, groups, rows};
use super::{CannotWrite, WordsAs, difference, differing};
use crate::layout::{Layout, Stands};
use crate::names::Length;
use crate::pdf::{Claims, Document, Drawing, Page, write};
use crate::typeface::{Emphasis, Typeface};

/// A4, upright (ISO 216).
const PAGE: (Length, Length) = (Length::mm(210), Length::mm(297));
const HEADER: Length = Length::mm(18);
/// The height of what stands above the panels of a trial.
const NAME: Length = Length::mm(11);
/// The height of the name of a side, above its first row.
const SIDE: Length = Length::mm(6);
const ROW_GAP: Length = Length::mm(2);
const BETWEEN: Length = Length::mm(5);
/// The most panels in a row.
const IN_A_ROW: usize = 20;
/// The greatest height of a panel here.
const HIGH: Length = Length::mm(22);

/// Draws the trials, each with its name; the first is what the others are compared with, and panels that differ
/// from it are marked. Labels are set in `typeface`.
///
/// # Errors
/// A font that cannot be subset.
pub fn trials(trials: &[(String, &Layout)], typeface: &Typeface) -> Result<Vec<u8>, CannotWrite> {
    let Some(&(_, first)) = trials.first() else {
        return Ok(Vec::new());
    };
    let mut drawn = TrialPages {
        first,
        typeface,
        finished: Vec::new(),
        page: Vec::new(),
        y: PAGE.1 - MARGIN,
    };
    for (number, (name, layout)) in trials.iter().enumerate() {
        let before = trials[..=number].iter().map(|(_, layout)| *layout);
        let differs = difference(&before.collect::<Vec<_>>());
        drawn.draw(number, (name, &differs), layout);
    }
    drawn.finished.push(drawn.page);
    let pages = drawn.finished.into_iter().map(|drawings| Page {
        size: PAGE,
        boxes: None,
        drawings,
        mirrored: false,
    });
    write(&Document {
        title: format!("{} – trials", first.title),
        language: &first.language,
        date: first.date,
        pages: pages.collect(),
        words_as: WordsAs::Text,
        claims: Claims::Accessible,
        printing: None,
    })
}

/// The pages while trials are drawn on them.
struct TrialPages<'a> {
    /// What the other trials are compared with.
    first: &'a Layout,
    typeface: &'a Typeface,
    /// What the pages show that are full.
    finished: Vec<Vec<Drawing<'a>>>,
    /// What the page shows that is being drawn.
    page: Vec<Drawing<'a>>,
    /// How far above the page's foot the next trial begins.
    y: Length,
}

impl<'a> TrialPages<'a> {
    /// Draws a trial below the others, on a new page where it has no room; the first has the title above it.
    fn draw(&mut self, number: usize, (name, differs): (&str, &str), layout: &'a Layout) {
        let sides = groups(layout);
        let rows = rows(&sides, IN_A_ROW);
        let sizes = rows.iter().map(|row| (row.panels, row.groups.len()));
        let mut sheet = OverviewPage::new(layout, self.typeface, PAGE, scale(layout, sizes));
        sheet.marked = differing(self.first, layout);
        let high = sheet.scaled(layout.strip.paper().panel_height) + LABEL + ROW_GAP;
        let begun = rows.iter().filter(|row| row.begins_side).count();
        let needs = NAME + high * rows.len() as i64 + SIDE * begun as i64;
        if number > 0 && self.y - needs < MARGIN {
            self.finished.push(std::mem::take(&mut self.page));
            self.y = PAGE.1 - MARGIN;
        }
        if number == 0 {
            let title = format!("{} – trials", layout.title);
            let at = (MARGIN, self.y - Length::mm(5));
            sheet.label(&title, at, 15, Emphasis::Plain, 0, Stands::From);
            let foot = self.y - Length::mm(12);
            let reach = sheet.legend(foot);
            sheet.legend_of_marks(reach, foot);
            self.y -= HEADER;
        }
        let at = (MARGIN, self.y - Length::mm(4));
        let heading = format!("{}  {name}", number + 1);
        sheet.label(&heading, at, 10, Emphasis::Bold, 0, Stands::From);
        if number > 0 {
            let at = (MARGIN, self.y - Length::mm(8));
            sheet.label(differs, at, 8, Emphasis::Plain, 400, Stands::From);
        }
        self.y -= NAME;
        for row in &rows {
            if row.begins_side {
                self.y -= SIDE;
                sheet.name_side(row.side, self.y);
            }
            sheet.draw_row(row, self.y);
            self.y -= high;
        }
        self.y -= BETWEEN;
        self.page.append(&mut sheet.drawings);
    }
}

/// The largest scale, in thousandths, at which rows of so many panels in so many groups stand on the page.
fn scale(layout: &Layout, rows: impl Iterator<Item = (usize, usize)>) -> i64 {
    let paper = layout.strip.paper();
    let mut scale = HIGH.units() * 1000 / paper.panel_height.units().max(1);
    for (panels, groups) in rows {
        let room = PAGE.0 - MARGIN * 2 - GAP * (groups as i64 - 1);
        let width = paper.widest() * panels as i64;
        scale = scale.min(room.units() * 1000 / width.units().max(1));
    }
    scale.clamp(1, 1000)
}
