//! Drawing a page's content stream.

mod line_space;
mod shapes;
mod together;
mod within;

use pdf_writer::{Content, Name, Settings, TextStr};

use super::fonts::Fonts;
use super::inks::Inks;
use super::pictures::Pictures;
use super::{ContentGroup, Document, Drawing, Page, SharedObjects, WordsAs, rounded};
use crate::layout::{Dot, LaidLine};
use crate::names::{Ink, Length};
use crate::typeface::Outline;
pub(super) use line_space::{LineSpace, Turn};

/// A drawn page.
#[derive(Default)]
pub(super) struct DrawnPage {
    pub bytes: Vec<u8>,
    /// For each marked content, by its number, the drawing of the page and the line of that drawing: (drawing, line).
    pub marked: Vec<(usize, usize)>,
    pub fonts: Vec<usize>,
    pub inks: Vec<usize>,
    pub pictures: Vec<usize>,
    pub groups: Vec<ContentGroup>,
    /// Whether anything is painted on all plates.
    pub registration: bool,
}

/// Draws a page.
pub(super) fn draw(
    document: &Document<'_>,
    page: &Page<'_>,
    shared: &SharedObjects<'_>,
) -> DrawnPage {
    let mut pen = PagePen {
        content: Content::with_settings(Settings { pretty: false }),
        fonts: &shared.fonts,
        inks: &shared.inks,
        pictures: &shared.pictures,
        words_as: document.words_as,
        unit: page.unit(),
        ink: None,
        open: Vec::new(),
        drawn: DrawnPage::default(),
    };
    if page.mirrored {
        let width = pen.pt(page.size.0);
        pen.content.transform([-1.0, 0.0, 0.0, 1.0, width, 0.0]);
    }
    for (index, drawing) in page.drawings.iter().enumerate() {
        match drawing {
            Drawing::Words { panel, space } => {
                let space = &LineSpace::on(space, panel.size.0);
                let mut number = 0;
                for lines in panel.lines.chunk_by(together::are_one) {
                    pen.words(lines, space, (index, number));
                    number += lines.len();
                }
            }
            Drawing::Label { line, space } => {
                pen.label(line, &LineSpace::on(space, Length::ZERO));
            }
            Drawing::Box { at, fill, stroke } => pen.boxed(*at, fill.as_ref(), stroke.as_ref()),
            Drawing::Rule {
                from,
                to,
                paint,
                dashes,
            } => pen.rule(*from, *to, paint, dashes),
            Drawing::Ring {
                centre,
                radius,
                paint,
            } => pen.ring(*centre, *radius, paint),
            Drawing::Path {
                points,
                closed,
                fill,
                stroke,
                dashes,
            } => pen.path(points, *closed, fill.as_ref(), stroke.as_ref(), dashes),
            Drawing::Picture { art, at, turned } => pen.picture(art, *at, *turned),
            Drawing::Begin(within) => pen.begin(within),
            Drawing::End => pen.end(),
        }
    }
    pen.end_all();
    let mut drawn = pen.drawn;
    drawn.bytes = pen.content.finish().into_vec();
    drawn
}

pub(super) struct PagePen<'a> {
    pub(super) content: Content,
    pub(super) fonts: &'a Fonts<'a>,
    inks: &'a Inks,
    pub(super) pictures: &'a Pictures<'a>,
    words_as: WordsAs,
    /// How many points one unit of the page is.
    unit: f64,
    /// The ink that is set.
    ink: Option<Ink>,
    open: Vec<within::OpenScope>,
    pub(super) drawn: DrawnPage,
}

impl PagePen<'_> {
    /// Draws a line of the book's words, or the lines of a paragraph, as one marked content: `BDC … EMC`.
    fn words(&mut self, lines: &[LaidLine], space: &LineSpace<'_>, at: (usize, usize)) {
        let Some(first) = lines.iter().find(|line| !line.runs.is_empty()) else {
            return;
        };
        self.set_ink(&first.ink);
        let number = self.drawn.marked.len() as i32;
        self.drawn.marked.push(at);
        let mut mark = self
            .content
            .begin_marked_content_with_properties(Name(b"Span"));
        let mut properties = mark.properties();
        properties.identify(number);
        if self.words_as == WordsAs::Paths {
            properties.actual_text(TextStr(&together::joined(lines)));
        }
        drop(properties);
        drop(mark);
        match self.words_as {
            WordsAs::Text => self.show(lines, space),
            WordsAs::Paths => lines.iter().for_each(|line| self.trace(line, space)),
        }
        self.content.end_marked_content();
        self.dots(lines, space);
    }

    /// Fills the dots of lines in the ink that is set, as an artifact: they are no words.
    fn dots(&mut self, lines: &[LaidLine], space: &LineSpace<'_>) {
        let runs = lines
            .iter()
            .flat_map(|line| line.runs.iter().map(move |run| (line, run)));
        let dots = runs.flat_map(|(line, run)| run.dots().into_iter().map(move |dot| (line, dot)));
        let dots: Vec<(&LaidLine, Dot)> = dots.collect();
        if dots.is_empty() {
            return;
        }
        self.begin_artifact();
        for (line, dot) in dots {
            let centre = space.point(line, (dot.centre.x, dot.centre.y));
            let points = [centre.x, centre.y, space.length(dot.radius)];
            self.circle(points.map(|points| f64::from(points) / self.unit));
        }
        self.content.fill_nonzero().end_marked_content();
    }

    fn label(&mut self, line: &LaidLine, space: &LineSpace<'_>) {
        self.set_ink(&line.ink);
        self.begin_artifact();
        self.show(std::slice::from_ref(line), space);
        self.content.end_marked_content();
    }

    fn set_ink(&mut self, ink: &Ink) {
        if self.ink.as_ref() != Some(ink) {
            self.inks.apply(ink, &mut self.content);
            self.ink = Some(ink.clone());
        }
        note(&mut self.drawn.inks, self.inks.index_of(ink));
    }

    /// Shows lines as one text object, `BT … ET`, with a `Tm` for each run.
    fn show(&mut self, lines: &[LaidLine], space: &LineSpace<'_>) {
        self.content.begin_text();
        for line in lines {
            self.show_runs(line, space);
        }
        self.content.end_text();
    }

    /// Fills the outlines of a line's glyphs.
    fn trace(&mut self, line: &LaidLine, space: &LineSpace<'_>) {
        for run in &line.runs {
            let face = &run.face;
            let upem = f64::from(face.metrics().units_per_em.max(1));
            let scale = f64::from(space.length(run.size)) / self.unit / upem;
            let start = space.start(line, run);
            let start = (
                f64::from(start.x) / self.unit,
                f64::from(start.y) / self.unit,
            );
            let turned = Turn::of(line.lines_run);
            let posture = Turn::of_glyphs(line, run);
            let mut pen = 0;
            for glyph in &run.glyphs {
                let at = (f64::from(pen + glyph.dx), f64::from(glyph.dy));
                let off = turned.turned((at.0 * scale, at.1 * scale));
                let origin = (start.0 + off.0, start.1 + off.1);
                self.outline(&face.outline(glyph.id), origin, (scale, posture));
                pen += glyph.advance;
            }
        }
    }

    fn outline(&mut self, pieces: &[Outline], origin: (f64, f64), (scale, turn): (f64, Turn)) {
        let at = |x: f32, y: f32| {
            let off = turn.turned((f64::from(x) * scale, f64::from(y) * scale));
            (rounded(origin.0 + off.0), rounded(origin.1 + off.1))
        };
        let content = &mut self.content;
        for piece in pieces {
            match *piece {
                Outline::Move(a, b) => {
                    let (x, y) = at(a, b);
                    content.move_to(x, y)
                }
                Outline::Line(a, b) => {
                    let (x, y) = at(a, b);
                    content.line_to(x, y)
                }
                Outline::Curve([a, b, c, d, e, f]) => {
                    let [a, c, e] = [at(a, b), at(c, d), at(e, f)];
                    content.cubic_to(a.0, a.1, c.0, c.1, e.0, e.1)
                }
                Outline::Close => content.close_path(),
            };
        }
        if !pieces.is_empty() {
            content.fill_nonzero();
        }
    }

    /// A length in the page's units.
    pub(super) fn pt(&self, length: Length) -> f32 {
        rounded(length.as_pt() / self.unit)
    }

    /// A number of points in the page's units.
    pub(super) fn units(&self, points: f32) -> f32 {
        rounded(f64::from(points) / self.unit)
    }
}

pub(super) fn note<T: PartialEq>(used: &mut Vec<T>, one: T) {
    if !used.contains(&one) {
        used.push(one);
    }
}
