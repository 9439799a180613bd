//! The contact sheet: all panels, small, in reading order, on one page.
//!
//! The two panels of a spread touch, with the valley fold between them dashed; where the fold points at
//! the reader there is a gap with a dash-dotted line. Pictures are flat tints with their names.

use std::cmp::Reverse;

use super::pdf::{Document, Drawing, Page, write};
use super::{CannotWrite, WordsAs};
use crate::layout::{LabelStyle, LaidPanel, Layout, Stands, label};
use crate::plan::{Ink, Reads, Role, Side};
use crate::typeface::{Stress, Typeface};
use crate::units::{Length, PageSpace, PanelPoint};

const MARGIN: Length = Length::mm(12);
const HEADER: Length = Length::mm(12);
const FOOTER: Length = Length::mm(7);
const LABEL: Length = Length::mm(6);
const ROW_GAP: Length = Length::mm(5);
const SIDE_LABEL: Length = Length::mm(7);
const GAP: Length = Length::mm(4);
const VALLEY: &[f32] = &[2.0, 1.6];
const MOUNTAIN: &[f32] = &[4.0, 1.4, 0.5, 1.4];
const TINT: f32 = 0.88;
const DARK: f32 = 0.25;

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

/// One row of panels on the sheet: groups of panels that are seen at once.
struct Row<'a> {
    side: Side,
    begins_side: bool,
    groups: Vec<Vec<&'a LaidPanel>>,
}

impl Row<'_> {
    fn panels(&self) -> usize {
        self.groups.iter().map(Vec::len).sum()
    }
}

/// Draws the contact sheet; labels are set in `typeface`.
///
/// # Errors
/// A font that cannot be subset.
pub fn contact_sheet(layout: &Layout, typeface: &Typeface) -> Result<Vec<u8>, CannotWrite> {
    let (page, rows, scale) = fit(layout);
    let mut sheet = Sheet {
        layout,
        typeface,
        page,
        scale,
        drawings: Vec::new(),
    };
    sheet.draw(&rows);
    let document = Document {
        title: format!("{} – contact sheet", layout.title),
        language: &layout.language,
        date: layout.date,
        pages: vec![Page {
            size: page,
            bleed: None,
            drawings: sheet.drawings,
        }],
        words_as: WordsAs::Text,
    };
    write(&document)
}

/// The page, the rows and the scale (in thousandths): as few rows as can be while words can be read, for a
/// side in one row shows its rhythm; where that is not to be had, the largest scale.
fn fit(layout: &Layout) -> ((Length, Length), Vec<Row<'_>>, i64) {
    let per_side = usize::from(layout.strip.paper().panels.per_side);
    let mut best = (PAGES[0], Vec::new(), 0);
    for page in PAGES {
        let ways = (2..=per_side.max(2)).map(|most| {
            let rows = rows(layout, most);
            (scale_of(layout, &rows, page), rows)
        });
        let preferred = ways.max_by_key(|(scale, rows)| {
            let legible = *scale >= LEGIBLE;
            (legible, legible.then_some(Reverse(rows.len())), *scale)
        });
        if let Some((scale, rows)) = preferred {
            let legible = scale >= LEGIBLE;
            best = (page, rows, scale);
            if legible {
                break;
            }
        }
    }
    let (page, rows, scale) = best;
    let panel = layout.strip.paper().panel_height.scaled(scale, 1000);
    let height = around(&rows) + panel * rows.len() as i64;
    ((page.0, page.1.min(height)), rows, scale)
}

/// What stands above, between and below the panels.
fn around(rows: &[Row<'_>]) -> Length {
    let begun = rows.iter().filter(|row| row.begins_side).count() as i64;
    MARGIN * 2 + HEADER + FOOTER + SIDE_LABEL * begun + (LABEL + ROW_GAP) * rows.len() as i64
}

/// The panels of each side in rows of at most `most`; what is seen at once is never parted.
fn rows(layout: &Layout, most: usize) -> Vec<Row<'_>> {
    let mut rows: Vec<Row<'_>> = Vec::new();
    for &side in layout.strip.sides() {
        let mut begins_side = true;
        for group in groups(layout, side) {
            let fits = rows
                .last()
                .is_some_and(|row| row.side == side && row.panels() + group.len() <= most);
            if !fits {
                rows.push(Row {
                    side,
                    begins_side,
                    groups: Vec::new(),
                });
                begins_side = false;
            }
            if let Some(row) = rows.last_mut() {
                row.groups.push(group);
            }
        }
    }
    rows
}

fn groups(layout: &Layout, side: Side) -> Vec<Vec<&LaidPanel>> {
    let spreads = layout.strip.spreads(side);
    let mut groups: Vec<Vec<&LaidPanel>> = Vec::new();
    for panel in layout
        .panels
        .iter()
        .filter(|panel| panel.panel.side == side)
    {
        let second = spreads.iter().any(|(_, second)| *second == panel.panel);
        match groups.last_mut() {
            Some(group) if second => group.push(panel),
            _ => groups.push(vec![panel]),
        }
    }
    groups
}

fn scale_of(layout: &Layout, rows: &[Row<'_>], page: (Length, Length)) -> i64 {
    let paper = layout.strip.paper();
    let mut scale = 1000;
    for row in rows {
        let gaps = GAP * (row.groups.len() as i64 - 1);
        let width = paper.panel_width * row.panels() as i64;
        let room = page.0 - MARGIN * 2 - gaps;
        scale = scale.min(room.units() * 1000 / width.units().max(1));
    }
    let height = paper.panel_height * rows.len() as i64;
    scale.min((page.1 - around(rows)).units() * 1000 / height.units().max(1))
}

struct Sheet<'a> {
    layout: &'a Layout,
    typeface: &'a Typeface,
    page: (Length, Length),
    scale: i64,
    drawings: Vec<Drawing<'a>>,
}

impl<'a> Sheet<'a> {
    fn draw(&mut self, rows: &[Row<'a>]) {
        let top = self.page.1 - MARGIN;
        self.label(
            &self.layout.title.clone(),
            (MARGIN, top - Length::mm(5)),
            15,
            Stress::Plain,
            0,
            Stands::From,
        );
        let facts = self.facts();
        let below = top - Length::mm(10);
        self.label(&facts, (MARGIN, below), 8, Stress::Plain, 400, Stands::From);
        let mut y = top - HEADER;
        let height = self.scaled(self.layout.strip.paper().panel_height);
        for row in rows {
            if row.begins_side {
                y -= SIDE_LABEL;
                let word = row.side.word();
                self.label(
                    word,
                    (MARGIN, y + Length::mm(2)),
                    9,
                    Stress::Bold,
                    300,
                    Stands::From,
                );
            }
            self.draw_row(row, y);
            y -= height + LABEL + ROW_GAP;
        }
        self.legend();
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

    fn scaled(&self, length: Length) -> Length {
        length.scaled(self.scale, 1000)
    }

    fn draw_row(&mut self, row: &Row<'a>, top: Length) {
        let width = self.scaled(self.layout.strip.paper().panel_width);
        let height = self.scaled(self.layout.strip.paper().panel_height);
        let rtl = self.layout.strip.paper().reads == Reads::RightToLeft;
        let mut along = Length::ZERO;
        let place = |along: Length, wide: Length| match rtl {
            true => self.page.0 - MARGIN - along - wide,
            false => MARGIN + along,
        };
        let mut placed = Vec::new();
        let mut folds = Vec::new();
        for (index, group) in row.groups.iter().enumerate() {
            if index > 0 {
                folds.push((place(along, GAP) + GAP / 2, MOUNTAIN));
                along += GAP;
            }
            for (at, &panel) in group.iter().enumerate() {
                if at > 0 {
                    let edge = if rtl {
                        place(along, Length::ZERO)
                    } else {
                        place(along, width)
                    };
                    folds.push((edge, VALLEY));
                }
                placed.push((panel, place(along, width)));
                along += width;
            }
        }
        for (panel, left) in placed {
            self.draw_panel(panel, left, top);
        }
        let over = Length::mm(1);
        for (x, dashes) in folds {
            self.drawings.push(Drawing::Rule {
                from: (x, top + over),
                to: (x, top - height - over),
                grey: 0.35,
                dashes,
            });
        }
    }

    fn draw_panel(&mut self, panel: &'a LaidPanel, left: Length, top: Length) {
        let (width, height) = (self.scaled(panel.size.0), self.scaled(panel.size.1));
        let reversed = panel.lines.iter().any(|line| line.ink == Ink::ReversedOut);
        let fill = match panel.role {
            _ if reversed => Some(DARK),
            Role::Picture | Role::Shared => Some(TINT),
            Role::PasteDown => Some(0.95),
            _ => Some(1.0),
        };
        let at = [left, top - height, width, height];
        self.drawings.push(Drawing::Box {
            at,
            fill,
            stroke: Some(0.55),
        });
        let space = PageSpace::placed(left, top, (self.scale, 1000));
        self.drawings.push(Drawing::Words { panel, space });
        if let Some(picture) = &panel.picture {
            self.name_picture(panel, picture, left, top);
        }
        let middle = left + width / 2;
        let words = format!("{}  {}", panel.panel.number, panel.role.word());
        let below = top - height - Length::mm(4);
        self.label(
            &words,
            (middle, below),
            7,
            Stress::Plain,
            350,
            Stands::About,
        );
    }

    /// The picture's name, in the middle of what the words leave of the panel.
    fn name_picture(&mut self, panel: &LaidPanel, name: &str, left: Length, top: Length) {
        let (width, height) = panel.size;
        let mut lines: Vec<(Length, Length)> = panel
            .lines
            .iter()
            .map(|line| (line.baseline - line.size, line.baseline))
            .collect();
        lines.sort();
        // Lines in boxes may stand beside each other, and leave the most room between them.
        let mut free = Vec::with_capacity(lines.len() + 1);
        let mut from = Length::ZERO;
        for (top, foot) in lines {
            free.push((top - from, from));
            from = from.max(foot);
        }
        free.push((height - from, from));
        let widest = free.into_iter().max_by_key(|(room, _)| *room);
        let down = widest.map_or(height / 2, |(room, from)| from + room / 2);
        let at = (
            left + self.scaled(width) / 2,
            top - self.scaled(down) - Length::mm(1),
        );
        self.label(name, at, 8, Stress::Italic, 300, Stands::About);
    }

    fn legend(&mut self) {
        let y = MARGIN + Length::mm(1);
        let mut x = MARGIN;
        for (dashes, words) in [
            (VALLEY, "valley fold: the two panels are seen at once"),
            (MOUNTAIN, "mountain fold"),
        ] {
            let line = y + Length::mm(1);
            self.drawings.push(Drawing::Rule {
                from: (x, line),
                to: (x + Length::mm(9), line),
                grey: 0.35,
                dashes,
            });
            x += Length::mm(11);
            x += self.label(words, (x, y), 7, Stress::Plain, 400, Stands::From) + Length::mm(7);
        }
        let tint = [x, y - Length::mm(1), Length::mm(6), Length::mm(4)];
        self.drawings.push(Drawing::Box {
            at: tint,
            fill: Some(TINT),
            stroke: None,
        });
        x += Length::mm(8);
        self.label("a picture", (x, y), 7, Stress::Plain, 400, Stands::From);
    }

    /// Draws a label with its baseline at a point of the page, and gives its width.
    fn label(
        &mut self,
        words: &str,
        at: (Length, Length),
        points: i64,
        stress: Stress,
        grey: u16,
        stands: Stands,
    ) -> Length {
        let style = LabelStyle {
            size: Length::pt(points),
            stress,
            grey,
            stands,
        };
        // Labels are set in a space of their own whose origin is the page's bottom-left corner.
        let point = PanelPoint { x: at.0, y: -at.1 };
        let line = label(self.typeface, words, point, style);
        let width = line.width;
        let space = PageSpace::placed(Length::ZERO, Length::ZERO, (1, 1));
        let line = Box::new(line);
        self.drawings.push(Drawing::Label { line, space });
        width
    }
}
