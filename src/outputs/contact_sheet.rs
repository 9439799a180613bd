//! The contact sheet: all panels, small, in reading order, on one page.

//! The two panels of a spread touch, with the valley fold between them dashed; where the fold points at
//! the reader there is a gap with a dash-dotted line. Pictures are flat tints with their names, over the folds and
//! gaps where they stand on several panels.

use std::cmp::Reverse;

use super::sheet::{GAP, LABEL, MARGIN, OverviewPage, PanelRow, SideGroups, groups, rows};
use super::{CannotWrite, WordsAs};
use crate::layout::{Layout, Stands};
use crate::names::Length;
use crate::pdf::{Claims, Document, Page, write};
use crate::typeface::{Emphasis, Typeface};

const HEADER: Length = Length::mm(12);
const FOOTER: Length = Length::mm(7);
const ROW_GAP: Length = Length::mm(5);
const SIDE_LABEL: Length = Length::mm(7);

/// Landscape pages, smallest first (ISO 216 A4 to A1). The first is taken on which panels can be read, else
/// the last; it is cut off below the last row.
const PAGES: [(Length, Length); 4] = [
    (Length::mm(297), Length::mm(210)),
    (Length::mm(420), Length::mm(297)),
    (Length::mm(594), Length::mm(420)),
    (Length::mm(841), Length::mm(594)),
];

/// Thousandths of the full size at which small words can still be read.
const LEGIBLE: i64 = 270;

/// Draws the contact sheet; labels are set in `typeface`.
///
/// # Errors
/// A font that cannot be subset.
pub fn contact_sheet(layout: &Layout, typeface: &Typeface) -> Result<Vec<u8>, CannotWrite> {
    let sides = groups(layout);
    let (page, rows, scale) = fit(layout, &sides);
    let mut sheet = OverviewPage::new(layout, typeface, page, scale);
    sheet.draw(&rows);
    let document = Document {
        title: format!("{} – contact sheet", layout.title),
        language: &layout.language,
        date: layout.date,
        pages: vec![Page {
            size: page,
            boxes: None,
            drawings: sheet.drawings,
            mirrored: false,
        }],
        words_as: WordsAs::Text,
        claims: Claims::Accessible,
        printing: None,
    };
    write(&document)
}

/// The page, the rows and the scale (in thousandths): as few rows as can be while words can be read, for a
/// side in one row shows its rhythm; where that is not to be had, the largest scale.
fn fit<'g, 'a>(
    layout: &Layout,
    sides: &'g [SideGroups<'a>],
) -> ((Length, Length), Vec<PanelRow<'g, 'a>>, i64) {
    let per_side = usize::from(layout.strip.paper().panels.per_side);
    let ways: Vec<Vec<PanelRow<'g, 'a>>> = (2..=per_side.max(2))
        .map(|most| rows(sides, most))
        .collect();
    let mut best = (PAGES[0], 0, [].as_slice());
    for page in PAGES {
        let ways = ways.iter().map(|rows| (scale_of(layout, rows, page), rows));
        let preferred = ways.max_by_key(|(scale, rows)| {
            let legible = *scale >= LEGIBLE;
            (legible, legible.then_some(Reverse(rows.len())), *scale)
        });
        if let Some((scale, rows)) = preferred {
            best = (page, scale, rows);
            if scale >= LEGIBLE {
                break;
            }
        }
    }
    let (page, scale, rows) = best;
    let panel = layout.strip.paper().panel_height.scaled(scale, 1000);
    let height = around(rows) + panel * rows.len() as i64;
    ((page.0, page.1.min(height)), rows.to_vec(), scale)
}

/// What stands above, between and below the panels.
fn around(rows: &[PanelRow<'_, '_>]) -> Length {
    let begun = rows.iter().filter(|row| row.begins_side).count() as i64;
    MARGIN * 2 + HEADER + FOOTER + SIDE_LABEL * begun + (LABEL + ROW_GAP) * rows.len() as i64
}

fn scale_of(layout: &Layout, rows: &[PanelRow<'_, '_>], page: (Length, Length)) -> i64 {
    let paper = layout.strip.paper();
    let mut scale = 1000;
    for row in rows {
        let gaps = GAP * (row.groups.len() as i64 - 1);
        let width = paper.widest() * row.panels as i64;
        let room = page.0 - MARGIN * 2 - gaps;
        scale = scale.min(room.units() * 1000 / width.units().max(1));
    }
    let height = paper.panel_height * rows.len() as i64;
    scale.min((page.1 - around(rows)).units() * 1000 / height.units().max(1))
}

impl<'a> OverviewPage<'a> {
    fn draw(&mut self, rows: &[PanelRow<'_, 'a>]) {
        let top = self.page.1 - MARGIN;
        self.label(
            &self.layout.title.clone(),
            (MARGIN, top - Length::mm(5)),
            15,
            Emphasis::Plain,
            0,
            Stands::From,
        );
        let facts = self.facts();
        let below = top - Length::mm(10);
        self.label(
            &facts,
            (MARGIN, below),
            8,
            Emphasis::Plain,
            400,
            Stands::From,
        );
        let mut y = top - HEADER;
        let height = self.scaled(self.layout.strip.paper().panel_height);
        for row in rows {
            if row.begins_side {
                y -= SIDE_LABEL;
                self.name_side(row.side, y);
            }
            self.draw_row(row, y);
            y -= height + LABEL + ROW_GAP;
        }
        self.legend(MARGIN + Length::mm(1));
    }

    fn facts(&self) -> String {
        let paper = self.layout.strip.paper();
        let (width, height) = (paper.panel_width, paper.panel_height);
        let per_side = paper.panels.per_side;
        let sides = match self.layout.strip.sides().len() {
            2 => "on each of two sides",
            _ => "on one side",
        };
        format!(
            "{per_side} panels of {} × {height} {sides}, shown at {} % of their size",
            width.to_string().trim_end_matches(" mm"),
            self.scale / 10
        )
    }
}
