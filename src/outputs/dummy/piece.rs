//! One face of a piece: its panels with their words and pictures; upon them lie the marks.

use super::ForDummy;
use super::faces::PieceFace;
use super::fit::Fitted;
use crate::layout::LaidPanel;
use crate::names::{Ink, Length, PageSpace, Role, Side};
use crate::outputs::scans::{self, OnPage};
use crate::outputs::sheet::TINT;
use crate::outputs::words::{LabelSetter, Look};
use crate::paper::Sheet;
use crate::pdf::{Drawing, Paint, Within};
use crate::typeface::Emphasis;

/// How high a panel's number stands above its foot.
const NUMBER: Length = Length::from_units(Length::mm(5).units() / 2);
const SMALL: Look = Look::of(60, Emphasis::Plain, 450);
const NAME: Look = Look::of(80, Emphasis::Italic, 300);
/// The darkness below words that are reversed out.
const DARK: f32 = 0.25;

pub(super) struct Piece<'a, 'b> {
    pub asked: &'a ForDummy<'a>,
    pub fitted: &'b Fitted,
    pub setter: &'b LabelSetter,
    pub sheet: &'b Sheet,
    pub face: PieceFace,
    pub on: OnPage,
}

impl<'a> Piece<'a, '_> {
    pub fn draw(&self, drawings: &mut Vec<Drawing<'a>>) {
        let (from, to) = self.shown();
        self.pictures((from, to), drawings);
        self.prints((from, to), drawings);
        for panel in self.panels(from, to) {
            self.words(panel, (from, to), drawings);
        }
        for panel in self.panels(self.sheet.from, self.sheet.to) {
            self.number(panel, drawings);
        }
        self.folds(drawings);
        self.tabs(drawings);
        if self.face != PieceFace::Behind {
            self.outline(drawings);
            self.heading(drawings);
        }
    }

    /// What of the strip this face shows.
    fn shown(&self) -> (Length, Length) {
        match self.face {
            PieceFace::Front | PieceFace::Apart => (self.sheet.from, self.sheet.to),
            PieceFace::Behind => self.fitted.pieces.printed(self.sheet, Side::Back),
        }
    }

    /// Where a panel lies along the strip.
    fn along(&self, panel: &LaidPanel) -> (Length, Length) {
        let strip = &self.asked.layout.strip;
        let left = strip.left_of(panel.panel);
        let ends = [left, left + panel.size.0].map(|at| strip.across(self.on.side, at));
        (ends[0].min(ends[1]), ends[0].max(ends[1]))
    }

    /// The panels of this side that lie at least in part in a stretch.
    fn panels(&self, from: Length, to: Length) -> impl Iterator<Item = &'a LaidPanel> {
        let panels = self.asked.layout.panels.iter();
        let here = panels.filter(|panel| panel.panel.side == self.on.side);
        here.filter(move |panel| {
            let (begins, ends) = self.along(panel);
            begins < to && from < ends
        })
    }

    pub(super) fn foot(&self) -> Length {
        self.on.head - self.height()
    }

    pub(super) fn height(&self) -> Length {
        self.on.scaled(self.asked.layout.strip.paper().panel_height)
    }

    /// Flat tints with their names, where there are no scans.
    fn pictures(&self, (from, to): (Length, Length), drawings: &mut Vec<Drawing<'a>>) {
        for panel in self.panels(from, to) {
            let reversed = panel.lines.iter().any(|line| line.ink == Ink::ReversedOut);
            let scanned = |name: &String| self.asked.scans.contains_key(name);
            let tint = match (&panel.picture, panel.role) {
                (Some(name), _) if scanned(name) => continue,
                _ if reversed => DARK,
                (Some(_), _) | (None, Role::Picture) => TINT,
                (None, Role::PasteDown) => 0.95,
                (None, _) => continue,
            };
            let (begins, ends) = self.along(panel);
            let (left, width) = self.on.stretch(begins.max(from), ends.min(to));
            drawings.push(Drawing::Box {
                at: [left, self.foot(), width, self.height()],
                fill: Some(Paint::Grey(tint)),
                stroke: None,
            });
            let named = panel.picture_label().filter(|_| !panel.goes_on());
            let name = match panel.role {
                Role::PasteDown => Some("pasted down"),
                _ => named,
            };
            if let Some(name) = name.filter(|_| self.is_whole(panel)) {
                let room = width - Length::mm(4);
                let (name, look) = self.setter.fitted(name, room, NAME, 50);
                let y = match panel.lines.is_empty() {
                    true => self.foot() + self.height() / 2,
                    false => self.foot() + NUMBER + Length::mm(4),
                };
                self.about(&name, (left + width / 2, y), look, drawings);
            }
        }
    }

    /// Scans, without their bleed.
    fn prints(&self, stretch: (Length, Length), drawings: &mut Vec<Drawing<'a>>) {
        let (left, width) = self.on.stretch(stretch.0, stretch.1);
        let mut found = Vec::new();
        let (layout, scans) = (self.asked.layout, self.asked.scans);
        scans::draw(layout, scans, &self.on, stretch, &mut found);
        if found.is_empty() {
            return;
        }
        let whole = [left, self.foot(), width, self.height()];
        drawings.push(Drawing::Begin(Within::Clip(whole)));
        drawings.append(&mut found);
        drawings.push(Drawing::End);
    }

    /// Whether the piece itself, not a tab of it, has the panel.
    fn is_whole(&self, panel: &LaidPanel) -> bool {
        let (from, to) = self.along(panel);
        self.sheet.from <= from && to <= self.sheet.to
    }

    /// A panel's words; those of which a part lies elsewhere are cut off where that begins.
    fn words(
        &self,
        panel: &'a LaidPanel,
        (from, to): (Length, Length),
        drawings: &mut Vec<Drawing<'a>>,
    ) {
        if panel.lines.is_empty() {
            return;
        }
        let (begins, ends) = self.along(panel);
        let (left, _) = self.on.stretch(begins, ends);
        let space = PageSpace::placed(left, self.on.head, self.on.scale);
        let words = Drawing::Words { panel, space };
        if from <= begins && ends <= to {
            drawings.push(words);
            return;
        }
        let (left, width) = self.on.stretch(begins.max(from), ends.min(to));
        drawings.push(Drawing::Begin(Within::Clip([
            left,
            self.foot(),
            width,
            self.height(),
        ])));
        if self.is_whole(panel) {
            drawings.push(words);
        } else {
            // What a tab repeats of its neighbour is looked at, and read where the panel is.
            drawings.extend(panel.lines.iter().map(|line| Drawing::Label {
                line: Box::new(line.clone()),
                space,
            }));
        }
        drawings.push(Drawing::End);
    }

    /// The panel's name, small at its foot, in the middle of what is seen of it here.
    fn number(&self, panel: &LaidPanel, drawings: &mut Vec<Drawing<'a>>) {
        let (begins, ends) = self.along(panel);
        let (from, to) = match self.face {
            PieceFace::Front | PieceFace::Apart => (self.sheet.from, self.sheet.to),
            PieceFace::Behind => self.fitted.pieces.visible(self.sheet, Side::Back),
        };
        let (left, width) = self.on.stretch(begins.max(from), ends.min(to));
        let reversed = panel.lines.iter().any(|line| line.ink == Ink::ReversedOut);
        let look = Look {
            grey: if reversed { 900 } else { SMALL.grey },
            ..SMALL
        };
        let name = panel.panel.to_string();
        let wide = self.setter.wide(&name, look) + Length::mm(2);
        let middle = left + width / 2;
        let scanned = |name: &String| self.asked.scans.contains_key(name);
        if panel.picture.as_ref().is_some_and(scanned) {
            // A label upon a print needs white below it.
            drawings.push(Drawing::Box {
                at: [
                    middle - wide / 2,
                    self.foot() + NUMBER - Length::mm(1),
                    wide,
                    Length::mm(3),
                ],
                fill: Some(Paint::Grey(1.0)),
                stroke: None,
            });
        }
        self.about(&name, (middle, self.foot() + NUMBER), look, drawings);
    }

    pub(super) fn about(
        &self,
        words: &str,
        (middle, y): (Length, Length),
        look: Look,
        drawings: &mut Vec<Drawing<'a>>,
    ) {
        let at = (middle - self.setter.wide(words, look) / 2, y);
        let line = Box::new(self.setter.line(words, at, look));
        drawings.push(Drawing::Label { line, space: PLAIN });
    }
}

/// Labels are placed in the page's own lengths.
pub(super) const PLAIN: PageSpace = PageSpace::placed(Length::ZERO, Length::ZERO, (1, 1));
