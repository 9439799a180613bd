//! Which way lines run on a panel: the one place where a line becomes a place on it.
//!
//! Whoever sets, stacks, divides or proves lines measures along a line, and in the direction in which lines follow each
//! other. Of lines that run across these are to the right and down, from the panel's top-left corner; of lines that run
//! down they are down and to the left, from its top-right corner: as on a panel that is turned by a quarter.

use super::{Length, PanelPoint};

/// Which way lines run.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum LinesRun {
    /// Across, and follow each other from the head down.
    #[default]
    Across,
    /// Down, and follow each other from right to left.
    Down,
}

impl LinesRun {
    /// The word that files call it by.
    pub fn word(self) -> &'static str {
        match self {
            LinesRun::Across => "across",
            LinesRun::Down => "down",
        }
    }

    /// Whether they run down.
    pub fn is_down(self) -> bool {
        self == LinesRun::Down
    }

    /// A panel's width and height as lines have it: how far it reaches along them, and in the direction in which they
    /// follow each other.
    pub fn seen(self, (width, height): (Length, Length)) -> (Length, Length) {
        match self {
            LinesRun::Across => (width, height),
            LinesRun::Down => (height, width),
        }
    }

    /// The point of a panel so wide that lies so far along a line, and so far on in the direction in which lines follow
    /// each other.
    pub fn point(self, (along, on): (Length, Length), panel_width: Length) -> PanelPoint {
        match self {
            LinesRun::Across => PanelPoint { x: along, y: on },
            LinesRun::Down => PanelPoint {
                x: panel_width - on,
                y: along,
            },
        }
    }

    /// The left edge and the top, and the width and height, of a rectangle on a panel so wide that begins so far along a
    /// line and so far on, and reaches so far in both directions.
    pub fn rectangle(
        self,
        (along, on): (Length, Length),
        (length, depth): (Length, Length),
        panel_width: Length,
    ) -> ((Length, Length), (Length, Length)) {
        match self {
            LinesRun::Across => ((along, on), (length, depth)),
            LinesRun::Down => ((panel_width - on - depth, along), (depth, length)),
        }
    }

    /// The rectangle of a panel so wide, by its left edge, top, width and height, as lines have it: where it begins along
    /// a line and in the direction in which lines follow each other, and how far it reaches in both.
    pub fn rectangle_seen(
        self,
        (left, top): (Length, Length),
        (width, height): (Length, Length),
        panel_width: Length,
    ) -> ((Length, Length), (Length, Length)) {
        match self {
            LinesRun::Across => ((left, top), (width, height)),
            LinesRun::Down => ((top, panel_width - left - width), (height, width)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rectangle_lies_where_its_corners_do() {
        let mm = Length::mm;
        let (at, size, wide) = ((mm(14), mm(11)), (mm(100), mm(17)), mm(70));
        for run in [LinesRun::Across, LinesRun::Down] {
            let ((left, top), (width, height)) = run.rectangle(at, size, wide);
            let ends = [at, (at.0 + size.0, at.1 + size.1)].map(|end| run.point(end, wide));
            let [one, other] = ends;
            assert_eq!((left, top), (one.x.min(other.x), one.y.min(other.y)));
            assert_eq!(left + width, one.x.max(other.x));
            assert_eq!(top + height, one.y.max(other.y));
            let seen = run.rectangle_seen((left, top), (width, height), wide);
            assert_eq!(seen, (at, size));
        }
        // A hand's breadth from the head, the second millimetre from the right.
        let point = LinesRun::Down.point((mm(80), mm(2)), wide);
        assert_eq!((point.x, point.y), (mm(68), mm(80)));
    }
}
