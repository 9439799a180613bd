//! Lines and areas: all are artifacts, for none of them is read.

use pdf_writer::Name;
use pdf_writer::types::{ArtifactType, ColorSpaceOperand};

use super::{PagePen, note};
use crate::names::Length;
use crate::pdf::Paint;
use crate::pdf::inks::REGISTRATION;

/// How wide lines are, in points.
const LINE: f64 = 0.5;
/// How wide the edges of boxes are, in points.
const EDGE: f64 = 0.4;
/// How far the handles of a curve lie from its ends, in radii, where four of them make a circle: 4 (√2 − 1) ÷ 3.
const HANDLE: f64 = 0.552_284_749_830_793_4;

impl PagePen<'_> {
    pub(in crate::pdf) fn begin_artifact(&mut self) {
        self.content
            .begin_marked_content_with_properties(Name(b"Artifact"))
            .properties()
            .artifact()
            .kind(ArtifactType::Layout);
    }

    pub(super) fn boxed(&mut self, at: [Length; 4], fill: Option<&Paint>, stroke: Option<&Paint>) {
        let [left, bottom, width, height] = at.map(|length| self.pt(length));
        let edge = self.line(EDGE);
        self.begin_artifact();
        if let Some(paint) = fill {
            self.fill_with(paint);
            self.content.rect(left, bottom, width, height);
            self.content.fill_nonzero();
        }
        if let Some(paint) = stroke {
            self.stroke_with(paint);
            self.content
                .set_line_width(edge)
                .rect(left, bottom, width, height)
                .stroke();
        }
        self.content.end_marked_content();
    }

    pub(super) fn rule(
        &mut self,
        from: (Length, Length),
        to: (Length, Length),
        paint: &Paint,
        dashes: &[f32],
    ) {
        self.drawn_line(paint, dashes, |pen| {
            pen.line_through(&[from, to], false);
            pen.content.stroke();
        });
    }

    pub(super) fn ring(&mut self, centre: (Length, Length), radius: Length, paint: &Paint) {
        let [x, y, r] = [centre.0, centre.1, radius].map(|length| length.as_pt() / self.unit);
        self.drawn_line(paint, &[], |pen| {
            pen.circle([x, y, r]);
            pen.content.close_and_stroke();
        });
    }

    /// The path of a circle, by its middle and its radius in the page's units.
    pub(super) fn circle(&mut self, [x, y, r]: [f64; 3]) {
        let h = r * HANDLE;
        let at = super::rounded;
        self.content.move_to(at(x + r), at(y));
        for [a, b, c, d, e, f] in [
            [r, h, h, r, 0.0, r],
            [-h, r, -r, h, -r, 0.0],
            [-r, -h, -h, -r, 0.0, -r],
            [h, -r, r, -h, r, 0.0],
        ] {
            let (a, c, e) = (at(x + a), at(x + c), at(x + e));
            let (b, d, f) = (at(y + b), at(y + d), at(y + f));
            self.content.cubic_to(a, b, c, d, e, f);
        }
    }

    pub(super) fn path(
        &mut self,
        points: &[(Length, Length)],
        closed: bool,
        fill: Option<&Paint>,
        stroke: Option<&Paint>,
        dashes: &[f32],
    ) {
        if let Some(paint) = fill {
            self.begin_artifact();
            self.fill_with(paint);
            self.line_through(points, closed);
            self.content.fill_nonzero().end_marked_content();
        }
        if let Some(paint) = stroke {
            self.drawn_line(paint, dashes, |pen| {
                pen.line_through(points, closed);
                pen.content.stroke();
            });
        }
    }

    fn line_through(&mut self, points: &[(Length, Length)], closed: bool) {
        for (index, (x, y)) in points.iter().enumerate() {
            let (x, y) = (self.pt(*x), self.pt(*y));
            match index {
                0 => self.content.move_to(x, y),
                _ => self.content.line_to(x, y),
            };
        }
        if closed {
            self.content.close_path();
        }
    }

    /// Draws a line with a state of its own, as an artifact.
    fn drawn_line(&mut self, paint: &Paint, dashes: &[f32], draw: impl FnOnce(&mut Self)) {
        let (width, ink) = (self.line(LINE), self.ink.clone());
        self.begin_artifact();
        self.content.save_state();
        self.stroke_with(paint);
        let dashes = dashes.iter().map(|&dash| self.line(f64::from(dash)));
        let dashes: Vec<f32> = dashes.collect();
        self.content
            .set_line_width(width)
            .set_dash_pattern(dashes, 0.0);
        draw(self);
        self.content.restore_state().end_marked_content();
        self.ink = ink;
    }

    fn fill_with(&mut self, paint: &Paint) {
        match paint {
            Paint::Grey(grey) => {
                self.content.set_fill_gray(*grey);
                self.ink = None;
            }
            Paint::Registration => {
                self.content
                    .set_fill_color_space(ColorSpaceOperand::Named(REGISTRATION))
                    .set_fill_color([1.0]);
                self.drawn.registration = true;
                self.ink = None;
            }
            Paint::Ink(ink) => self.set_ink(ink),
        }
    }

    fn stroke_with(&mut self, paint: &Paint) {
        match paint {
            Paint::Grey(grey) => {
                self.content.set_stroke_gray(*grey);
            }
            Paint::Registration => {
                self.content
                    .set_stroke_color_space(ColorSpaceOperand::Named(REGISTRATION))
                    .set_stroke_color([1.0]);
                self.drawn.registration = true;
            }
            Paint::Ink(ink) => {
                self.inks.apply_to_lines(ink, &mut self.content);
                note(&mut self.drawn.inks, self.inks.index_of(ink));
                // The state that says whether it overprints says so of areas too.
                self.ink = None;
            }
        }
    }

    /// A length of a line in points, in the page's units.
    fn line(&self, points: f64) -> f32 {
        (points / self.unit) as f32
    }
}
