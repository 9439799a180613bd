//! One row of the strip as it is drawn: its panels, its folds, what is seen at once, and the sheets that meet.

use super::page::Pages;
use super::rows::{StripRow, WHOLE};
use super::{Guide, crossovers};
use crate::layout::LaidPanel;
use crate::names::{FoldKind, Ink, JoinKind, Length, PageSpace, PanelName, Role, Side};
use crate::outputs::sheet::{MOUNTAIN, TINT, VALLEY};
use crate::outputs::words::Look;
use crate::paper::Join;
use crate::pdf::Drawing;
use crate::typeface::Emphasis;

/// What the sheets' names take above a row where there are several, and what the panels' names take.
pub(super) const SHEETS: Length = Length::mm(5);
pub(super) const NUMBERS: Length = Length::mm(6);
/// How far folds and the edges of sheets go beyond the panels.
const OVER: Length = Length::mm(1);
/// Between a fold and the number of its join.
const CLEAR: Length = Length::mm(1);
/// How thick the edge of a sheet is drawn.
const EDGE: Length = Length::from_units(Length::mm(6).units() / 10);
/// Below this scale words are no more than a tint.
const WORDS: i64 = 13_000;

/// Draws one row.
pub(super) struct Pen<'p, 'a> {
    pub pages: &'p mut Pages<'a>,
    pub guide: &'p Guide<'a>,
    pub row: &'p StripRow,
    pub scale: i64,
    /// Where the panels' heads lie.
    pub head: Length,
    pub high: Length,
}

impl<'a> Pen<'_, 'a> {
    pub fn draw(&mut self) {
        let layout = self.guide.layout;
        for &name in &self.row.panels {
            let found = layout.panels.iter().find(|panel| panel.panel == name);
            if let Some(panel) = found {
                self.panel(panel);
            }
        }
        self.folds();
        self.spreads();
        self.joins();
        let row = self.row;
        let (x, scale) = (|at: Length| self.x(at), self.scale);
        let marks = crossovers::marks(self.guide, row, &x, self.head, scale);
        for mark in marks {
            mark.draw(self.pages);
        }
    }

    fn scaled(&self, length: Length) -> Length {
        length.scaled(self.scale, WHOLE)
    }

    /// Where a distance along the side lies on the page.
    fn x(&self, along: Length) -> Length {
        self.pages.left() + self.scaled(along - self.row.from)
    }

    fn edges(&self, panel: PanelName) -> (Length, Length) {
        let left = self.guide.layout.strip.left_of(panel);
        let right = left + self.guide.layout.strip.width_of(panel);
        (self.x(left), self.x(right))
    }

    fn panel(&mut self, panel: &'a LaidPanel) {
        let strip = &self.guide.layout.strip;
        let (left, right) = self.edges(panel.panel);
        let (wide, foot) = (right - left, self.head - self.high);
        let reversed = panel.lines.iter().any(|line| line.ink == Ink::ReversedOut);
        let fill = match panel.role {
            _ if reversed => 0.35,
            Role::Picture | Role::Shared => TINT,
            Role::PasteDown => 0.95,
            _ => 1.0,
        };
        self.pages
            .boxed([left, foot, wide, self.high], Some(fill), None);
        if self.scale >= WORDS {
            let scale = (self.scale, WHOLE);
            let space = PageSpace::placed(left, self.head, scale);
            self.pages.put(Drawing::Words { panel, space });
        }
        let middle = (left + right) / 2;
        let room = wide - Length::mm(1);
        let number = panel.panel.number.to_string();
        let full = panel.panel.to_string();
        let top = self.head + Length::mm(2);
        let bold = Look::of(100, Emphasis::Bold, 0);
        for words in [&full, &number] {
            if let Some(look) = self.pages.setter.smaller(words, room, bold, 65) {
                self.pages.centred(words, (middle, top), look);
                break;
            }
        }
        let role = Look::of(85, Emphasis::Plain, 0);
        if let Some(look) = self.pages.setter.smaller(panel.role.word(), room, role, 60) {
            let at = (middle, foot - Length::mm(7));
            self.pages.centred(panel.role.word(), at, look);
        }
        let behind = strip.behind(panel.panel);
        let behind = behind.filter(|behind| strip.sides().contains(&behind.side));
        if let Some(behind) = behind {
            let ways = [format!("behind: {behind}"), behind.to_string()];
            let found = ways.iter().find_map(|words| {
                let look = self.pages.setter.smaller(words, room, Look::TINY, 60);
                Some((words, look?))
            });
            if let Some((words, look)) = found {
                let at = (middle, foot - Length::mm(11));
                self.pages.centred(words, at, look);
            }
        }
        self.picture(panel, middle, room);
        if strip.outside().contains(&panel.panel) {
            let thick = Length::mm(1);
            let at = [left + thick, foot - Length::mm(3), wide - thick * 2, thick];
            if wide > thick * 3 {
                self.pages.boxed(at, Some(0.0), None);
            }
        }
    }

    /// The name of a panel's picture, at the foot of the panel or above the words that stand there.
    fn picture(&mut self, panel: &LaidPanel, middle: Length, room: Length) {
        let Some(name) = panel.picture_label() else {
            return;
        };
        let height = panel.size.1;
        let lowest = panel
            .line_boxes()
            .map(|((_, top), (_, height))| top + height);
        let lowest = lowest.fold(Length::ZERO, Length::max);
        let highest = panel.line_boxes().map(|((_, top), _)| top);
        let highest = highest.fold(height, Length::min);
        let (from, to) = match (panel.lines.is_empty(), highest > height - lowest) {
            (true, _) => (Length::ZERO, height),
            (false, true) => (Length::ZERO, highest),
            (false, false) => (lowest, height),
        };
        let look = Look::of(85, Emphasis::Italic, 0);
        let high = self.scaled(to - from);
        if high < look.size() * 3 / 2 {
            return;
        }
        let (words, look) = self.pages.setter.fitted(name, room, look, 60);
        let y = self.head - self.scaled((from + to) / 2) - look.size() / 3;
        self.pages.centred(&words, (middle, y), look);
    }

    /// The folds and the ends of the row.
    fn folds(&mut self) {
        let strip = &self.guide.layout.strip;
        let (top, foot) = (self.head, self.head - self.high);
        let (from, to) = (self.x(self.row.from), self.x(self.row.to));
        for y in [top, foot] {
            self.pages.rule((from, y), (to, y), 0.0, &[]);
        }
        for end in [Length::ZERO, strip.length()] {
            if end == self.row.from || end == self.row.to {
                let x = self.x(end);
                self.pages.rule((x, foot), (x, top), 0.0, &[]);
            }
        }
        for k in 1..strip.paper().panels.per_side {
            let Some(kind) = strip.fold_seen(self.row.side, k) else {
                continue;
            };
            let along = between(self.guide, self.row.side, k);
            if along < self.row.from || along > self.row.to {
                continue;
            }
            let dashes = match kind {
                FoldKind::Valley => VALLEY,
                FoldKind::Mountain => MOUNTAIN,
            };
            let x = self.x(along);
            let ends = ((x, top + OVER), (x, foot - OVER));
            self.pages.rule(ends.0, ends.1, 0.0, dashes);
        }
    }

    fn spreads(&mut self) {
        let inset = Length::mm(1);
        let y = self.head - self.high - Length::mm(3);
        for (one, other) in self.guide.layout.strip.spreads(self.row.side) {
            let both = [one, other].map(|panel| self.row.panels.contains(&panel));
            if both != [true, true] {
                continue;
            }
            let (one, other) = (self.edges(one), self.edges(other));
            let (from, to) = (one.0.min(other.0) + inset, one.1.max(other.1) - inset);
            self.pages.rule((from, y), (to, y), 0.0, &[]);
            for x in [from, to] {
                self.pages
                    .rule((x, y), (x, y + Length::mm(3) / 2), 0.0, &[]);
            }
        }
    }

    fn joins(&mut self) {
        let joins = &self.guide.sheets.joins;
        for (at, join) in joins.iter().enumerate() {
            self.zone(join, at + 1);
            let strip = &self.guide.layout.strip;
            let along = strip.across(self.row.side, join.along);
            if along >= self.row.from && along <= self.row.to {
                let x = self.x(along) - EDGE / 2;
                let over = Length::mm(2);
                let foot = self.head - self.high - over;
                let at = [x, foot, EDGE, self.high + over + NUMBERS + SHEETS - OVER];
                self.pages.boxed(at, Some(0.0), None);
            }
        }
        if joins.is_empty() {
            return;
        }
        let y = self.head + NUMBERS + Length::mm(1);
        for sheet in &self.guide.sheets.sheets {
            let strip = &self.guide.layout.strip;
            let edges = [sheet.from, sheet.to].map(|at| strip.across(self.row.side, at));
            let from = edges[0].min(edges[1]).max(self.row.from);
            let to = edges[0].max(edges[1]).min(self.row.to);
            if from >= to {
                continue;
            }
            let (from, to) = (self.x(from), self.x(to));
            let words = format!("sheet {}", sheet.number);
            // At either end the number of a join may stand.
            let number = self.pages.setter.wide("00", Look::SMALL_BOLD);
            let room = to - from - (number + CLEAR * 2) * 2;
            let look = self
                .pages
                .setter
                .smaller(&words, room, Look::SMALL_BOLD, 60);
            if let Some(look) = look {
                self.pages.centred(&words, ((from + to) / 2, y), look);
            }
        }
    }

    /// Where a join's tab or tissue lies: hatched on the side where it is seen, its outline dashed on the other.
    fn zone(&mut self, join: &Join, number: usize) {
        let strip = &self.guide.layout.strip;
        let side = self.row.side;
        let zone = join.zone();
        let zone = [zone.0, zone.1].map(|at| strip.across(side, at));
        let from = zone[0].min(zone[1]).max(self.row.from);
        let to = zone[0].max(zone[1]).min(self.row.to);
        if from >= to {
            return;
        }
        let (from, to) = (self.x(from), self.x(to));
        let foot = self.head - self.high;
        let seen = match join.kind {
            JoinKind::Hinge => join.tissue_on,
            _ => Side::Back,
        };
        if seen == side {
            self.pages.hatched([from, foot, to - from, self.high], 0.45);
        } else {
            for x in [from, to] {
                self.pages
                    .rule((x, foot), (x, self.head), 0.45, &[1.0, 1.5]);
            }
        }
        // The join's number stands beside its fold, clear of the panel's name.
        let fold = self.x(strip.across(side, join.along));
        let y = self.head + NUMBERS + Length::mm(1);
        let words = number.to_string();
        match (from + to) / 2 > fold {
            true => {
                let at = (fold + CLEAR, y);
                self.pages.words(&words, at, Look::SMALL_BOLD);
            }
            false => self
                .pages
                .ending(&words, (fold - CLEAR, y), Look::SMALL_BOLD),
        }
    }
}

/// Where the fold after panel `k` of a side lies, from that side's left edge.
fn between(guide: &Guide<'_>, side: Side, k: u16) -> Length {
    let strip = &guide.layout.strip;
    let panel = |number| strip.left_of(PanelName { side, number });
    panel(k).max(panel(k + 1))
}
