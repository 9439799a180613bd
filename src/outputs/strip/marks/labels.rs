//! Words beside the marks: which sheet this is, what the marks mean, which tab and what is spare.

use super::Marks;
use crate::layout::{LabelStyle, LaidLine, Stands, label};
use crate::names::{Ink, Length, PageSpace, PanelName, PanelPoint};
use crate::paper::MARK;
use crate::pdf::Drawing;
use crate::typeface::Emphasis;

/// The slug's size in points, and the least one.
pub(super) const SLUG: i64 = 6;
const LEAST: i64 = 4;
/// How far words keep from the folds beside them.
const INSET: Length = Length::mm(4);
const LEGEND: &str = "dashed: valley · dash-dot: mountain · triangle: score on this side";
const SPARE: &str = "spare";

impl Marks<'_> {
    /// The title, the sheet and the side, below the first panel from the left; below the last one what the marks mean.
    pub(super) fn slug(&self, slug: &str, drawings: &mut Vec<Drawing<'_>>) {
        let strip = &self.asked.layout.strip;
        let ends = [self.sheet.panels.0, self.sheet.panels.1].map(|number| {
            let panel = PanelName::front(number);
            let from = strip.left_of(panel);
            self.on.stretch(from, from + strip.width_of(panel))
        });
        let (first, last) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
        self.fitted(slug, first, drawings);
        if last != first && self.wide(LEGEND, LEAST) < last.1 - INSET * 2 {
            self.fitted(LEGEND, last, drawings);
        }
    }

    /// Words below a panel, or above it where crosses are below, as small as they need to be.
    fn fitted(&self, slug: &str, (left, width): (Length, Length), drawings: &mut Vec<Drawing<'_>>) {
        let at = (left + INSET, self.label_y());
        let room = width - INSET * 2;
        let mut points = SLUG;
        while points > LEAST && self.wide(slug, points) > room {
            points -= 1;
        }
        let mut shown: String = slug.to_string();
        let mut rest = slug.chars();
        // The end says which sheet and side it is: a long title gives way.
        while self.wide(&shown, points) > room && rest.next().is_some() {
            shown = format!("…{}", rest.as_str().trim_start());
        }
        self.words(&shown, at, points, drawings);
    }

    /// Where words beside the marks stand: below the panels, or above them where crosses are below.
    fn label_y(&self) -> Length {
        let out = self.off + MARK / 2;
        let middle = match self.heads_at_feet() {
            false => self.foot - out,
            true => self.head + out,
        };
        middle - Length::mm(1)
    }

    /// The number of a join beside its tab.
    pub(super) fn tabs(&self, drawings: &mut Vec<Drawing<'_>>) {
        let (from, to) = self.sheet.cut();
        let (own_from, own_to) = (self.sheet.from, self.sheet.to);
        for (number, join) in (1..).zip(&self.asked.sheets.joins) {
            let zone = if join.along == own_from && from < own_from {
                (from, own_from)
            } else if join.along == own_to && own_to < to {
                (own_to, to)
            } else {
                continue;
            };
            let (left, width) = self.on.stretch(zone.0, zone.1);
            let words = format!("tab {number}");
            // A triangle may stand beside the fold.
            if self.wide(&words, LEAST + 1) + Length::mm(5) > width {
                continue;
            }
            let x = left + width / 2 - self.wide(&words, LEAST + 1) / 2;
            let at = (x, self.label_y());
            self.words(&words, at, LEAST + 1, drawings);
        }
    }

    /// What lies between the two cuts at the strip's end.
    pub(super) fn spare(&self, drawings: &mut Vec<Drawing<'_>>) {
        let (from, to) = self.sheet.cut();
        let spare = self.sheet.spare;
        for (begin, end) in [(from - spare.0, from), (to, to + spare.1)] {
            let (left, width) = self.on.stretch(begin, end);
            let wide = self.wide(SPARE, LEAST);
            if width > wide + Length::mm(1) / 2 {
                let at = (left + (width - wide) / 2, self.label_y());
                self.words(SPARE, at, LEAST, drawings);
            }
        }
    }

    fn wide(&self, words: &str, points: i64) -> Length {
        self.set(words, (Length::ZERO, Length::ZERO), points).width
    }

    fn set(&self, words: &str, at: (Length, Length), points: i64) -> LaidLine {
        let style = LabelStyle {
            size: Length::pt(points),
            stress: Emphasis::Plain,
            grey: 0,
            stands: Stands::From,
        };
        let point = PanelPoint { x: at.0, y: -at.1 };
        let mut line = label(self.asked.typeface, words, point, style);
        line.ink = Ink::Black;
        line
    }

    pub(super) fn words(
        &self,
        words: &str,
        at: (Length, Length),
        points: i64,
        drawings: &mut Vec<Drawing<'_>>,
    ) {
        let space = PageSpace::placed(Length::ZERO, Length::ZERO, (1, 1));
        let line = Box::new(self.set(words, at, points));
        drawings.push(Drawing::Label { line, space });
    }
}
