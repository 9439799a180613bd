//! Paragraphs from widths: words, spaces and hyphens put one after another give the points.

use versefold::names::Length;
use versefold::setting::line_breaks::{Point, Slack};

/// A paragraph that is being put together, in any unit.
pub struct Builder {
    points: Vec<Point>,
    /// Width, stretch and shrink so far, and the number of spaces.
    width: i64,
    stretch: i64,
    shrink: i64,
    spaces: u32,
}

/// A word space: width, stretch, shrink.
pub type Space = (i64, i64, i64);

impl Builder {
    pub fn new() -> Builder {
        Builder {
            points: vec![Point::default()],
            width: 0,
            stretch: 0,
            shrink: 0,
            spaces: 0,
        }
    }

    fn slack(&self) -> Slack {
        Slack {
            stretch: Length::from_units(self.stretch),
            shrink: Length::from_units(self.shrink),
        }
    }

    /// A point here, ending lines at `end`.
    fn point(&self, end: i64, penalty: i32, hyphen: bool) -> Point {
        Point {
            end: Length::from_units(end),
            start: Length::from_units(self.width),
            slack_to_end: self.slack(),
            slack_to_start: self.slack(),
            words_to_end: self.spaces,
            words_to_start: self.spaces,
            penalty,
            hyphen,
        }
    }

    /// Letters that no break parts.
    pub fn letters(&mut self, width: i64) {
        self.width += width;
    }

    /// A space that a line may be broken at; `hang` of what stands before it may hang out there.
    pub fn space(&mut self, (width, stretch, shrink): Space, hang: i64, penalty: i32) {
        let mut point = self.point(self.width - hang, penalty, false);
        self.width += width;
        self.stretch += stretch;
        self.shrink += shrink;
        self.spaces += 1;
        point.start = Length::from_units(self.width);
        point.slack_to_start = self.slack();
        point.words_to_start = self.spaces;
        self.points.push(point);
    }

    /// A place where a word may be divided, with a hyphen of this width added.
    pub fn division(&mut self, hyphen: i64, penalty: i32) {
        self.points
            .push(self.point(self.width + hyphen, penalty, true));
    }

    /// A break between letters that adds nothing: behind a hard hyphen, or behind a dash.
    pub fn seam(&mut self, penalty: i32, hyphen: bool) {
        self.points.push(self.point(self.width, penalty, hyphen));
    }

    /// The paragraph, ended.
    pub fn end(mut self) -> Vec<Point> {
        self.points.push(self.point(self.width, 0, false));
        self.points
    }
}
