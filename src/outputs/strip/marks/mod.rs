//! Marks outside the trim: where to cut, fold and score, how to register, and what sheet this is.

mod labels;

use super::ForSheets;
use crate::names::{FoldKind, Length, PanelName, Side, Turned};
use crate::outputs::scans::OnPage;
use crate::outputs::sheet::{MOUNTAIN, VALLEY};
use crate::outputs::words::letter;
use crate::paper::{MARK, Sheet, scored};
use crate::pdf::{Drawing, Paint};
use labels::SLUG;

/// Register marks: the ring's radius, and how far the cross goes beyond it.
const RING: Length = Length::from_units(Length::mm(3).units() / 2);
const CROSS: Length = Length::mm(1);

/// Draws the marks of one side of a sheet.
pub(super) struct Marks<'a> {
    asked: &'a ForSheets<'a>,
    sheet: &'a Sheet,
    on: &'a OnPage,
    paint: Paint,
    /// How far from the trim marks begin.
    off: Length,
    head: Length,
    foot: Length,
}

impl<'a> Marks<'a> {
    pub fn new(
        asked: &'a ForSheets<'a>,
        sheet: &'a Sheet,
        on: &'a OnPage,
        paint: Paint,
    ) -> Marks<'a> {
        let height = asked.layout.strip.paper().panel_height;
        Marks {
            asked,
            sheet,
            on,
            paint,
            off: asked.sheets.bleed.max(Length::mm(2)),
            head: on.head,
            foot: on.head - height,
        }
    }

    pub fn draw(&self, slug: &str, drawings: &mut Vec<Drawing<'_>>) {
        self.cuts(drawings);
        self.folds(drawings);
        self.registers(drawings);
        self.crossovers(drawings);
        self.slug(slug, drawings);
        self.tabs(drawings);
        self.spare(drawings);
    }

    /// Where the paper ends on the page with what is spare: left and right.
    fn paper(&self) -> (Length, Length) {
        let (from, to) = self.sheet.cut();
        let (left, width) = self
            .on
            .stretch(from - self.sheet.spare.0, to + self.sheet.spare.1);
        (left, left + width)
    }

    fn rule(
        &self,
        from: (Length, Length),
        to: (Length, Length),
        dashes: &'static [f32],
    ) -> Drawing<'static> {
        Drawing::Rule {
            from,
            to,
            paint: self.paint.clone(),
            dashes,
        }
    }

    /// A line above the head and one below the foot.
    fn upright(&self, x: Length, dashes: &'static [f32], drawings: &mut Vec<Drawing<'_>>) {
        let (near, far) = (self.off, self.off + MARK);
        drawings.push(self.rule((x, self.head + near), (x, self.head + far), dashes));
        drawings.push(self.rule((x, self.foot - near), (x, self.foot - far), dashes));
    }

    /// Corner marks where the paper is cut; where some of it is spare, where it is cut first too.
    fn cuts(&self, drawings: &mut Vec<Drawing<'_>>) {
        let (from, to) = self.sheet.cut();
        let mut cuts = vec![self.on.x(from), self.on.x(to)];
        let (left, right) = self.paper();
        cuts.extend([left, right]);
        cuts.sort_unstable();
        cuts.dedup();
        for x in cuts {
            self.upright(x, &[], drawings);
        }
        for y in [self.head, self.foot] {
            for (edge, out) in [(left, -Length::mm(1)), (right, Length::mm(1))] {
                let out = |far: Length| edge + out.scaled(far.units(), Length::mm(1).units());
                drawings.push(self.rule((out(self.off), y), (out(self.off + MARK), y), &[]));
            }
        }
    }

    /// Folds as they are seen on this side; a small triangle says that a fold is scored on this side.
    fn folds(&self, drawings: &mut Vec<Drawing<'_>>) {
        for fold in scored(&self.asked.layout.strip, self.sheet) {
            let seen = match self.on.side {
                Side::Front => fold.kind,
                Side::Back => fold.kind.other(),
            };
            let dashes = match seen {
                FoldKind::Valley => VALLEY,
                FoldKind::Mountain => MOUNTAIN,
            };
            let x = self.on.x(fold.along);
            self.upright(x, dashes, drawings);
            if fold.on == self.on.side {
                // The triangle stands beside the mark and points at it.
                let (near, far, half) = (Length::mm(1) / 2, Length::mm(2), Length::mm(3) / 4);
                for y in [
                    self.head + self.off + MARK / 2,
                    self.foot - self.off - MARK / 2,
                ] {
                    drawings.push(Drawing::Path {
                        points: vec![(x + near, y), (x + far, y - half), (x + far, y + half)],
                        closed: true,
                        fill: Some(self.paint.clone()),
                        stroke: None,
                        dashes: &[],
                    });
                }
            }
        }
    }

    /// Whether this side's heads lie behind the other's feet: then its crosses and its words change places, so that
    /// crosses lie behind crosses.
    fn heads_at_feet(&self) -> bool {
        self.on.side == Side::Back && self.asked.layout.strip.paper().turned == Turned::HeadToFoot
    }

    /// A ring with a cross at the middle of either end, and above the first and the last panel.
    fn registers(&self, drawings: &mut Vec<Drawing<'_>>) {
        let (left, right) = self.paper();
        let out = self.off + MARK / 2;
        let middle = (self.head + self.foot) / 2;
        let strip = &self.asked.layout.strip;
        let y = match self.heads_at_feet() {
            false => self.head + out,
            true => self.foot - out,
        };
        let above = [self.sheet.panels.0, self.sheet.panels.1].map(|number| {
            let panel = PanelName::front(number);
            self.on.x(strip.left_of(panel) + strip.width_of(panel) / 2)
        });
        let mut places = vec![(left - out, middle), (right + out, middle), (above[0], y)];
        if above[1] != above[0] {
            places.push((above[1], y));
        }
        for (x, y) in places {
            drawings.push(Drawing::Ring {
                centre: (x, y),
                radius: RING,
                paint: self.paint.clone(),
            });
            let reach = RING + CROSS;
            drawings.push(self.rule((x - reach, y), (x + reach, y), &[]));
            drawings.push(self.rule((x, y - reach), (x, y + reach), &[]));
        }
    }

    /// Ticks where a motif crosses the edge of this sheet, each pair with its letter.
    fn crossovers(&self, drawings: &mut Vec<Drawing<'_>>) {
        let strip = &self.asked.layout.strip;
        let (left, right) = self.paper();
        for (at, crossover) in self.asked.crossovers.iter().enumerate() {
            let Some(along) = strip.meeting(crossover.from, crossover.to) else {
                continue;
            };
            let edge = along == self.sheet.from || along == self.sheet.to;
            let panels = [crossover.from, crossover.to];
            let here = panels.into_iter().find(|panel| panel.side == self.on.side);
            let Some(panel) = here.filter(|_| edge) else {
                continue;
            };
            let (top, foot) = strip.heights_on(crossover, panel);
            let at_left = self.on.x(along) < (left + right) / 2;
            let (edge, out) = match at_left {
                true => (left, -1),
                false => (right, 1),
            };
            for height in [top, foot] {
                let y = self.head - height;
                let x = |far: Length| edge + far * out;
                drawings.push(self.rule((x(self.off), y), (x(self.off + MARK / 2), y), &[]));
            }
            let y = self.head - (top + foot) / 2;
            let x = edge + (self.off + MARK / 2) * out - Length::mm(1);
            self.words(&letter(at), (x, y + Length::mm(4)), SLUG, drawings);
        }
    }
}
