//! The scans of a book's pictures, and where they lie along the strip.

use std::collections::BTreeMap;

use crate::art::{Art, Fit};
use crate::layout::Layout;
use crate::names::{Length, Side};
use crate::pdf::{Drawing, Within};

/// A picture file that was read for a picture of the book.
#[derive(Debug)]
pub struct Scan {
    /// The file.
    pub art: Art,
    /// Whether it shows the bleed too.
    pub fit: Fit,
    /// How far it runs over the folds at its ends, onto its neighbours.
    pub runs_over: Length,
}

/// The scans, by the names of their pictures.
pub type Scans = BTreeMap<String, Scan>;

/// How a side of the strip lies on a page: lengths along the strip are measured from its left edge as seen from the front.
#[derive(Clone, Copy, Debug)]
pub(super) struct OnPage {
    pub side: Side,
    /// Where the strip's left edge, as seen from the front, would lie on the page.
    pub zero: Length,
    /// Whether what lies farther along the strip lies farther to the left.
    pub leftwards: bool,
    /// Where the panels' heads lie on the page.
    pub head: Length,
    /// How large the strip is on the page, as a fraction.
    pub scale: (i64, i64),
}

impl OnPage {
    /// A length of the strip on the page.
    pub fn scaled(&self, length: Length) -> Length {
        length.scaled(self.scale.0, self.scale.1)
    }

    /// Where a point along the strip lies, from the page's left.
    pub fn x(&self, along: Length) -> Length {
        let along = self.scaled(along);
        match self.leftwards {
            true => self.zero - along,
            false => self.zero + along,
        }
    }

    /// Where a stretch of the strip begins on the page, and how wide it is.
    pub fn stretch(&self, from: Length, to: Length) -> (Length, Length) {
        let ends = (self.x(from), self.x(to));
        let left = ends.0.min(ends.1);
        (left, ends.0.max(ends.1) - left)
    }
}

/// A picture of a side: its panels, and where they lie along the strip.
struct Placed<'a> {
    name: &'a str,
    from: Length,
    to: Length,
}

/// The pictures of a side, in the order of their panels.
fn placed(layout: &Layout, side: Side) -> Vec<Placed<'_>> {
    let strip = &layout.strip;
    let mut found = Vec::new();
    for panel in layout
        .panels
        .iter()
        .filter(|panel| panel.panel.side == side)
    {
        let (Some(name), false) = (&panel.picture, panel.goes_on()) else {
            continue;
        };
        let ends = panel.picture_panels.iter().flat_map(|&panel| {
            let left = strip.left_of(panel);
            [left, left + strip.width_of(panel)].map(|at| strip.across(side, at))
        });
        let from = ends.clone().min().unwrap_or_default();
        let to = ends.max().unwrap_or_default();
        found.push(Placed { name, from, to });
    }
    found
}

/// Draws the scans of a side where they lie within a stretch of the strip. Art goes beyond the head and the foot by the
/// bleed, and beyond the ends of the strip; at folds it stops, but for what it runs over.
pub(super) fn draw<'a>(
    layout: &Layout,
    scans: &'a Scans,
    on: &OnPage,
    (from, to): (Length, Length),
    drawings: &mut Vec<Drawing<'a>>,
) {
    let paper = layout.strip.paper();
    let mut found: Vec<(Placed<'_>, &Scan)> = placed(layout, on.side)
        .into_iter()
        .filter_map(|placed| scans.get(placed.name).map(|scan| (placed, scan)))
        .collect();
    // What runs over lies upon its neighbours.
    found.sort_by_key(|(_, scan)| scan.runs_over > Length::ZERO);
    for (placed, scan) in found {
        let with = match scan.fit {
            Fit::WithBleed => paper.bleed,
            Fit::Trimmed => Length::ZERO,
        };
        let over = |at_end: bool| {
            if at_end {
                with
            } else {
                scan.runs_over.min(with)
            }
        };
        let begins = placed.from - over(placed.from == Length::ZERO);
        let ends = placed.to + over(placed.to == layout.strip.length());
        let (seen_from, seen_to) = (begins.max(from), ends.min(to));
        if seen_from >= seen_to {
            continue;
        }
        let height = paper.panel_height + with * 2;
        let foot = on.head + on.scaled(with) - on.scaled(height);
        let (left, width) = on.stretch(seen_from, seen_to);
        drawings.push(Drawing::Begin(Within::Clip([
            left,
            foot,
            width,
            on.scaled(height),
        ])));
        let (left, width) = on.stretch(placed.from - with, placed.to + with);
        drawings.push(Drawing::Picture {
            art: &scan.art,
            at: [left, foot, width, on.scaled(height)],
            turned: false,
        });
        drawings.push(Drawing::End);
    }
}
