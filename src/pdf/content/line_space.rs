//! Where the runs of a panel's lines lie on a page, and which way their glyphs are turned there.

use crate::layout::{GlyphRun, LaidLine};
use crate::names::{Length, LinesRun, PageSpace, PdfPoint};
use crate::typeface::BELOW;

/// A panel on a page, as lines have it.
pub(in crate::pdf) struct LineSpace<'a> {
    space: &'a PageSpace,
    panel_width: Length,
}

impl<'a> LineSpace<'a> {
    /// A panel so wide that lies there on a page.
    pub fn on(space: &'a PageSpace, panel_width: Length) -> LineSpace<'a> {
        LineSpace { space, panel_width }
    }

    /// Where a run of a line begins.
    pub fn start(&self, line: &LaidLine, run: &GlyphRun) -> PdfPoint {
        self.point(line, (run.x, run.baseline))
    }

    /// Where a point of a line lies, so far along it and so far on.
    pub fn point(&self, line: &LaidLine, at: (Length, Length)) -> PdfPoint {
        self.space.point(line.lines_run.point(at, self.panel_width))
    }

    /// Where an upright run begins in the middle of its line.
    pub fn start_of_middle(&self, line: &LaidLine, run: &GlyphRun) -> PdfPoint {
        let middle = run.size * (50 - BELOW) / 100;
        self.point(line, (run.x, run.baseline - middle))
    }

    /// A length of the panel in points of the page.
    pub fn length(&self, length: Length) -> f32 {
        self.space.length(length)
    }
}

/// How what is measured along a line and above its baseline is turned on a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::pdf) enum Turn {
    /// Not at all.
    None,
    /// By a quarter to the right: along the line is down, and above it to the right.
    Right,
}

impl Turn {
    /// The turn of lines that run this way.
    pub fn of(lines_run: LinesRun) -> Turn {
        match lines_run {
            LinesRun::Across => Turn::None,
            LinesRun::Down => Turn::Right,
        }
    }

    /// The turn of a run's glyphs: upright ones are not turned with their line.
    pub fn of_glyphs(line: &LaidLine, run: &GlyphRun) -> Turn {
        match run.upright {
            true => Turn::None,
            false => Turn::of(line.lines_run),
        }
    }

    /// What lies so far along a line and so far above it, to the right and upwards on the page.
    pub fn turned(self, (along, above): (f64, f64)) -> (f64, f64) {
        match self {
            Turn::None => (along, above),
            Turn::Right => (above, -along),
        }
    }

    /// The matrix that turns so and moves to a point (ISO 32000-1, 8.3.3).
    pub fn matrix(self, (x, y): (f32, f32)) -> [f32; 6] {
        match self {
            Turn::None => [1.0, 0.0, 0.0, 1.0, x, y],
            Turn::Right => [0.0, -1.0, 1.0, 0.0, x, y],
        }
    }
}
