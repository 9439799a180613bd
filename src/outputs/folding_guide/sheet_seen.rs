//! A sheet as it lies on the bench with one side up, and the measures of what is scored there.

use super::Guide;
use super::figure::{Measured, measures_high};
use super::page::{Pages, Point};
use crate::names::{Length, PanelName, Side, Turned};
use crate::outputs::sheet::MOUNTAIN;
use crate::outputs::words::{Look, measured, places};
use crate::paper::{ScoredFold, Sheet, Strip};

/// How high a drawn sheet is at least, and at most.
const LOW: Length = Length::mm(5);
const HIGH: Length = Length::mm(8);
/// What its caption takes, below it.
const CAPTION: Length = Length::mm(5);
/// What stays free at both ends of a drawn sheet, for the measures there.
const INSET: Length = Length::mm(5);
const LOOK: Look = Look::SMALL;

/// A sheet with one side up.
pub(super) struct Seen<'a> {
    strip: &'a Strip,
    sheet: &'a Sheet,
    pub side: Side,
    folds: &'a [ScoredFold],
}

/// How it is drawn.
pub(super) struct Drawn {
    /// In how many rows the measures stand.
    rows: usize,
    /// How high all of it is.
    pub high: Length,
}

impl<'a> Seen<'a> {
    pub fn new(
        guide: &Guide<'a>,
        sheet: &'a Sheet,
        side: Side,
        folds: &'a [ScoredFold],
    ) -> Seen<'a> {
        Seen {
            strip: &guide.layout.strip,
            sheet,
            side,
            folds,
        }
    }

    /// Whether the front's left edge is seen at the right.
    fn mirrored(&self) -> bool {
        self.side == Side::Back && self.strip.paper().turned == Turned::HeadToHead
    }

    /// Whether the edge that distances are measured from, the one nearest front 1, lies at the right.
    fn at_right(&self) -> bool {
        self.strip.paper().reads.is_right_to_left() != self.mirrored()
    }

    /// What the edge is called that distances begin at.
    pub fn edge_words(&self) -> &'static str {
        let rtl = self.strip.paper().reads.is_right_to_left();
        let tabs = self.sheet.tabs;
        let is_tab = if rtl { tabs.1 } else { tabs.0 } > Length::ZERO;
        match (self.at_right(), is_tab) {
            (true, true) => "tab’s right edge",
            (true, false) => "right edge",
            (false, true) => "tab’s left edge",
            (false, false) => "left edge",
        }
    }

    /// Where the paper begins along the strip, as it is cut from the sheet.
    fn begin(&self) -> Length {
        self.sheet.cut().0 - self.sheet.spare.0
    }

    /// A length of the sheet in a column of that width.
    fn scaled(&self, length: Length, width: Length) -> Length {
        let room = width - INSET * 2;
        length.scaled(room.units(), self.sheet.paper().units().max(1))
    }

    /// Where a distance along the strip lies in a column.
    fn x(&self, along: Length, (left, width): (Length, Length)) -> Length {
        let from_begin = self.scaled(along - self.begin(), width);
        match self.mirrored() {
            false => left + INSET + from_begin,
            true => left + width - INSET - from_begin,
        }
    }

    /// Where all is measured from, along the strip.
    fn zero(&self) -> Length {
        let (left, right) = self.sheet.cut();
        match self.strip.paper().reads.is_right_to_left() {
            true => right,
            false => left,
        }
    }

    /// What is scored on this side, from left to right, and the edge it is measured from.
    fn points(&self, column: (Length, Length)) -> Vec<Measured> {
        let places = places(self.folds.iter().map(|fold| fold.from_edge));
        let mut points = vec![Measured {
            x: self.x(self.zero(), column),
            words: "0".to_string(),
        }];
        let here = self.folds.iter().filter(|fold| fold.on == self.side);
        points.extend(here.map(|fold| Measured {
            x: self.x(fold.along, column),
            words: measured(fold.from_edge, places),
        }));
        points.sort_by_key(|point| point.x);
        points
    }

    /// How it is drawn; nothing where nothing is scored on this side, or the measures would be crowded.
    pub fn drawn(&self, pages: &Pages<'_>) -> Option<Drawn> {
        let points = self.points((pages.left(), pages.width()));
        if points.len() < 2 {
            return None;
        }
        let rows = pages.rows_of(&points, LOOK)?;
        let high = measures_high(rows, LOOK) + self.paper_high(pages) + CAPTION;
        Some(Drawn { rows, high })
    }

    fn paper_high(&self, pages: &Pages<'_>) -> Length {
        let height = self.strip.paper().panel_height;
        self.scaled(height, pages.width()).max(LOW).min(HIGH)
    }

    pub fn draw(&self, pages: &mut Pages<'_>, drawn: &Drawn) {
        pages.need(drawn.high);
        let column = (pages.left(), pages.width());
        pages.down(measures_high(drawn.rows, LOOK));
        let head = pages.y();
        pages.running(&self.points(column), head, drawn.rows, LOOK);
        let high = self.paper_high(pages);
        self.paper(pages, column, (head - high, head));
        self.names(pages, column, head - high / 2);
        pages.down(high);
        self.caption(pages, column);
        pages.down(CAPTION);
    }

    fn caption(&self, pages: &mut Pages<'_>, column: (Length, Length)) {
        let words = match self.side {
            Side::Front => "Front up",
            Side::Back => "Back up",
        };
        let (x, y): Point = (column.0 + INSET, pages.y() - Length::mm(4));
        let wide = pages.words(words, (x, y), Look::SMALL_BOLD) + Length::mm(2);
        let from = format!("mm from the {}", self.edge_words());
        let (from, look) = pages
            .setter
            .fitted(&from, column.1 - wide - INSET, LOOK, 60);
        pages.words(&from, (x + wide, y), look);
    }

    /// The paper with its tabs, what is spare, and the folds.
    fn paper(
        &self,
        pages: &mut Pages<'_>,
        column: (Length, Length),
        (foot, head): (Length, Length),
    ) {
        let sheet = self.sheet;
        let (left, right) = sheet.cut();
        let begin = self.begin();
        let boxed = |one: Length, other: Length| {
            let (one, other) = (self.x(one, column), self.x(other, column));
            let (from, to) = (one.min(other), one.max(other));
            [from, foot, to - from, head - foot]
        };
        pages.boxed(boxed(begin, begin + sheet.paper()), Some(1.0), Some(0.0));
        for (one, other) in [(begin, left), (right, begin + sheet.paper())] {
            if one < other {
                pages.boxed(boxed(one, other), Some(0.85), None);
            }
        }
        for (one, other) in [(left, sheet.from), (sheet.to, right)] {
            if one < other {
                pages.hatched(boxed(one, other), 0.6);
            }
        }
        // The edge that everything is measured from.
        let thick = Length::mm(1);
        let edge = self.x(self.zero(), column);
        let edge = match self.at_right() {
            true => edge,
            false => edge - thick,
        };
        pages.boxed([edge, foot, thick, head - foot], Some(0.0), None);
        for fold in self.folds {
            let x = self.x(fold.along, column);
            match fold.on == self.side {
                true => pages.rule((x, head), (x, foot - Length::mm(1)), 0.0, MOUNTAIN),
                false => pages.rule((x, head), (x, foot), 0.75, &[]),
            }
        }
    }

    /// The panels' names, where each has room for its own.
    fn names(&self, pages: &mut Pages<'_>, column: (Length, Length), y: Length) {
        for number in self.sheet.panels.0..=self.sheet.panels.1 {
            let front = PanelName::front(number);
            let left = self.strip.left_of(front);
            let right = left + self.strip.width_of(front);
            let (one, other) = (self.x(left, column), self.x(right, column));
            let room = (one - other).max(other - one) - Length::mm(2);
            let seen = match self.side {
                Side::Front => Some(front),
                Side::Back => self.strip.behind(front),
            };
            let ways = seen.map(|seen| [seen.to_string(), seen.number.to_string()]);
            let fits = ways.into_iter().flatten().find_map(|words| {
                let look = pages.setter.smaller(&words, room, LOOK, 65)?;
                Some((words, look))
            });
            if let Some((words, look)) = fits {
                let at = ((one + other) / 2, y - look.size() / 3);
                pages.centred(&words, at, look);
            }
        }
    }
}
