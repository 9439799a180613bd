//! What is drawn upon a face of a piece: where to cut and to fold, and what is pasted where.

use super::faces::{CUT, FAINT, PieceFace};
use super::fit::BETWEEN;
use super::piece::{PLAIN, Piece};
use crate::names::{FoldKind, Length, Side};
use crate::outputs::sheet::{MOUNTAIN, VALLEY};
use crate::outputs::words::Look;
use crate::paper::{Join, scored};
use crate::pdf::{Drawing, Paint};
use crate::typeface::Emphasis;

/// How far apart the lines of a hatched tab are.
const HATCH: Length = Length::mm(3);
const MARK: Look = Look::of(90, Emphasis::Bold, 0);
const HEADING: Look = Look::of(80, Emphasis::Plain, 0);

impl<'a> Piece<'a, '_> {
    /// Folds right across, as they are seen on this face.
    pub(super) fn folds(&self, drawings: &mut Vec<Drawing<'a>>) {
        for fold in scored(&self.asked.layout.strip, self.sheet) {
            // A back that is pasted on has no tab to fold.
            if fold.has_tab && self.face == PieceFace::Apart {
                continue;
            }
            let seen = match self.on.side {
                Side::Front => fold.kind,
                Side::Back => fold.kind.other(),
            };
            let x = self.on.x(fold.along);
            drawings.push(Drawing::Rule {
                from: (x, self.on.head),
                to: (x, self.foot()),
                paint: FAINT,
                dashes: match seen {
                    FoldKind::Valley => VALLEY,
                    FoldKind::Mountain => MOUNTAIN,
                },
            });
        }
    }

    /// The joins of this piece, each with its number.
    fn joins(&self) -> impl Iterator<Item = (usize, &Join)> {
        let joins = (1..).zip(&self.fitted.pieces.joins);
        joins.filter(|(_, join)| join.along == self.sheet.from || join.along == self.sheet.to)
    }

    /// On the front the tabs, hatched, with their numbers; on the back where a neighbour's tab is pasted.
    pub(super) fn tabs(&self, drawings: &mut Vec<Drawing<'a>>) {
        for (number, join) in self.joins() {
            let (from, to) = join.zone();
            let on_me = self.sheet.from <= from && to <= self.sheet.to;
            let (left, width) = self.on.stretch(from, to);
            match (self.face, on_me) {
                (PieceFace::Front, false) => {
                    self.hatch((left, width), drawings);
                    let middle = self.foot() + self.height() / 2;
                    self.upon(&number.to_string(), (left + width / 2, middle), drawings);
                }
                (PieceFace::Behind, true) => {
                    drawings.push(Drawing::Box {
                        at: [left, self.foot(), width, self.height()],
                        fill: None,
                        stroke: Some(FAINT),
                    });
                    let middle = self.foot() + self.height() / 2;
                    self.upon(&number.to_string(), (left + width / 2, middle), drawings);
                }
                _ => {}
            }
        }
    }

    /// Slanting lines over a tab.
    fn hatch(&self, (left, width): (Length, Length), drawings: &mut Vec<Drawing<'a>>) {
        let (foot, head) = (self.foot(), self.on.head);
        let mut y = foot - width;
        while y < head {
            // From (left, y) upwards to the right, as far as it lies on the tab.
            let begin = (left + (foot - y).max(Length::ZERO), y.max(foot));
            let over = (y + width - head).max(Length::ZERO);
            let end = (left + width - over, y + width - over);
            drawings.push(Drawing::Rule {
                from: begin,
                to: end,
                paint: Paint::Grey(0.7),
                dashes: &[],
            });
            y += HATCH;
        }
    }

    /// Where to cut: all round.
    pub(super) fn outline(&self, drawings: &mut Vec<Drawing<'a>>) {
        let (from, to) = match self.face {
            PieceFace::Apart => (self.sheet.from, self.sheet.to),
            _ => self.sheet.cut(),
        };
        let (left, width) = self.on.stretch(from, to);
        drawings.push(Drawing::Box {
            at: [left, self.foot(), width, self.height()],
            fill: None,
            stroke: Some(CUT),
        });
    }

    /// Above the piece: its number, and its panels.
    pub(super) fn heading(&self, drawings: &mut Vec<Drawing<'a>>) {
        let number = self.sheet.number;
        let words = match self.face {
            PieceFace::Apart => format!("back of piece {number}"),
            _ => format!("piece {number}"),
        };
        let (left, _) = self.on.stretch(self.sheet.from, self.sheet.to);
        let at = (left, self.on.head + BETWEEN / 5);
        let line = Box::new(self.setter.line(&words, at, HEADING));
        drawings.push(Drawing::Label { line, space: PLAIN });
    }

    /// A number with white below it.
    fn upon(&self, words: &str, (middle, y): (Length, Length), drawings: &mut Vec<Drawing<'a>>) {
        let half = self.setter.wide(words, MARK) / 2 + Length::mm(1);
        drawings.push(Drawing::Box {
            at: [
                middle - half,
                y - Length::mm(1),
                half * 2,
                MARK.size() + Length::mm(1),
            ],
            fill: Some(Paint::Grey(1.0)),
            stroke: None,
        });
        self.about(words, (middle, y), MARK, drawings);
    }
}
