//! Pages that fill from the top, in one column or two.

use crate::names::{Length, PageSpace};
use crate::outputs::words::{LabelSetter, Look};
use crate::pdf::{Drawing, Page, Paint};
use crate::typeface::{Emphasis, Typeface};

/// A page: ISO 216 A4, lying.
pub(super) const PAGE: (Length, Length) = (Length::mm(297), Length::mm(210));
/// What stays white at the left and at the right.
const SIDE: Length = Length::mm(14);
/// Where columns begin and end, from the page's foot.
const TOP: Length = Length::mm(190);
const FOOT: Length = Length::mm(10);
/// Where the title stands on each page.
const HEADER: Length = Length::mm(198);
const GUTTER: Length = Length::mm(12);

/// A point of the page, from its bottom-left corner.
pub(super) type Point = (Length, Length);

/// The pages so far, and where the next thing goes.
pub(super) struct Pages<'a> {
    pub setter: LabelSetter,
    pages: Vec<Vec<Drawing<'a>>>,
    columns: i64,
    column: i64,
    top: Length,
    y: Length,
}

impl<'a> Pages<'a> {
    pub fn new(typeface: &Typeface) -> Pages<'a> {
        Pages {
            setter: LabelSetter::new(typeface),
            pages: vec![Vec::new()],
            columns: 1,
            column: 0,
            top: TOP,
            y: TOP,
        }
    }

    /// From here on in so many columns: below what is there if so much room is left, else on the next page.
    pub fn in_columns(&mut self, columns: i64, least: Length) {
        if self.column > 0 || self.y - FOOT < least {
            self.next_page();
        }
        self.columns = columns;
        self.column = 0;
        self.top = self.y;
    }

    fn next_page(&mut self) {
        self.pages.push(Vec::new());
        (self.column, self.top, self.y) = (0, TOP, TOP);
    }

    /// The left edge of the column.
    pub fn left(&self) -> Length {
        SIDE + (self.width() + GUTTER) * self.column
    }

    /// The width of the column.
    pub fn width(&self) -> Length {
        (PAGE.0 - SIDE * 2 - GUTTER * (self.columns - 1)) / self.columns
    }

    /// Where the next thing begins, from the page's foot.
    pub fn y(&self) -> Length {
        self.y
    }

    /// What is left of the column.
    pub fn room(&self) -> Length {
        self.y - FOOT
    }

    /// The most that a column can hold.
    pub fn whole() -> Length {
        TOP - FOOT
    }

    /// Goes on to the next column or page where less than this is left; whether it did.
    pub fn need(&mut self, height: Length) -> bool {
        if self.room() >= height || self.y == self.top && self.top == TOP {
            return false;
        }
        match self.column + 1 < self.columns {
            true => (self.column, self.y) = (self.column + 1, self.top),
            false => self.next_page(),
        }
        true
    }

    pub fn down(&mut self, height: Length) {
        self.y -= height;
    }

    /// Draws something on the page.
    pub fn put(&mut self, drawing: Drawing<'a>) {
        if let Some(page) = self.pages.last_mut() {
            page.push(drawing);
        }
    }

    /// Words from a point on; how wide they are.
    pub fn words(&mut self, words: &str, at: Point, look: Look) -> Length {
        let line = self.setter.line(words, at, look);
        let width = line.width;
        // Labels are set in a space whose origin is the page's bottom-left corner.
        let space = PageSpace::placed(Length::ZERO, Length::ZERO, (1, 1));
        let line = Box::new(line);
        if !words.is_empty() {
            self.put(Drawing::Label { line, space });
        }
        width
    }

    /// Words centred about a point.
    pub fn centred(&mut self, words: &str, at: Point, look: Look) {
        let half = self.setter.wide(words, look) / 2;
        self.words(words, (at.0 - half, at.1), look);
    }

    /// Words that end at a point.
    pub fn ending(&mut self, words: &str, at: Point, look: Look) {
        let width = self.setter.wide(words, look);
        self.words(words, (at.0 - width, at.1), look);
    }

    pub fn rule(&mut self, from: Point, to: Point, grey: f32, dashes: &'static [f32]) {
        self.put(Drawing::Rule {
            from,
            to,
            paint: Paint::Grey(grey),
            dashes,
        });
    }

    /// A rectangle: left, bottom, width, height; filled, with an outline, or both.
    pub fn boxed(&mut self, at: [Length; 4], fill: Option<f32>, stroke: Option<f32>) {
        self.put(Drawing::Box {
            at,
            fill: fill.map(Paint::Grey),
            stroke: stroke.map(Paint::Grey),
        });
    }

    /// The outline of a shape with corners.
    pub fn outline(&mut self, points: Vec<Point>) {
        self.put(Drawing::Path {
            points,
            closed: true,
            fill: None,
            stroke: Some(Paint::Grey(0.0)),
            dashes: &[],
        });
    }

    pub fn gap(&mut self, height: Length) {
        if self.y < self.top {
            self.down(height);
        }
    }

    /// A heading, never without some lines below it.
    pub fn heading(&mut self, words: &str) {
        self.gap(Length::mm(4));
        self.need(Length::mm(30));
        self.set(words, Look::HEADING);
        self.down(Length::mm(1));
    }

    /// A lesser heading.
    pub fn subheading(&mut self, words: &str) {
        self.gap(Length::mm(2));
        self.need(Length::mm(24));
        self.set(words, Look::SUBHEADING);
        self.down(Length::mm(1) / 2);
    }

    fn set(&mut self, words: &str, look: Look) {
        for line in self.setter.lines(words, self.width(), Length::ZERO, look) {
            self.down(look.leading());
            self.words(&line, (self.left(), self.y), look);
        }
    }

    /// A paragraph.
    pub fn paragraph(&mut self, words: &str) {
        self.led("", words);
    }

    /// A paragraph that begins with bold words.
    pub fn led(&mut self, lead: &str, words: &str) {
        self.body(Length::ZERO, "", lead, words);
    }

    /// A step: its number hangs before it.
    pub fn step(&mut self, number: usize, words: &str) {
        self.body(Length::mm(6), &format!("{number}"), "", words);
    }

    /// An entry of a list.
    pub fn item(&mut self, lead: &str, words: &str) {
        self.body(Length::mm(6), "–", lead, words);
    }

    fn body(&mut self, indent: Length, sign: &str, lead: &str, words: &str) {
        let look = Look::BODY;
        let led = match lead {
            "" => Length::ZERO,
            _ => self.setter.wide(&format!("{lead} "), Look::LEAD) + Length::mm(1) / 2,
        };
        let room = self.width() - indent;
        let lines = self.setter.lines(words, room, led, look);
        // No line of a paragraph stands alone on another page.
        let few = if lines.len() <= 3 { lines.len() } else { 2 };
        let mut left = lines.len();
        for (at, line) in lines.iter().enumerate() {
            let together = match (at, left) {
                (0, _) => few,
                (_, 2) => 2,
                _ => 1,
            };
            self.need(look.leading() * together as i64);
            self.down(look.leading());
            let (x, y) = (self.left() + indent, self.y);
            if at == 0 {
                self.words(sign, (self.left(), y), look);
                self.words(lead, (x, y), Look::LEAD);
            }
            let x = if at == 0 { x + led } else { x };
            self.words(line, (x, y), look);
            left -= 1;
        }
        self.down(Length::mm(8) / 5);
    }

    /// The pages, each with the book's title and its number.
    pub fn finish(mut self, title: &str) -> Vec<Page<'a>> {
        let count = self.pages.len();
        let drawn = std::mem::take(&mut self.pages);
        let mut pages = Vec::with_capacity(count);
        for (at, drawings) in drawn.into_iter().enumerate() {
            self.pages = vec![drawings];
            let number = format!("page {} of {count}", at + 1);
            let right = PAGE.0 - SIDE;
            let taken = self.setter.wide(&number, Look::BODY) + Length::mm(10);
            self.ending(&number, (right, HEADER), Look::BODY);
            let kind = "folding guide";
            let kind_wide = self.setter.wide(kind, Look::BODY) + Length::mm(5);
            let bold = Look::of(150, Emphasis::Bold, 0);
            let room = right - SIDE - taken - kind_wide;
            let (words, look) = self.setter.fitted(title, room, bold, 90);
            let wide = self.words(&words, (SIDE, HEADER), look);
            self.words(kind, (SIDE + wide + Length::mm(4), HEADER), Look::BODY);
            let line = HEADER - Length::mm(3);
            self.rule((SIDE, line), (right, line), 0.0, &[]);
            pages.push(Page {
                size: PAGE,
                boxes: None,
                drawings: self.pages.remove(0),
                mirrored: false,
            });
        }
        pages
    }
}
