//! Shapes that words follow in place of margins.

use crate::names::{Length, Location};

/// Where words of a panel stand, as the plan asks for it.
#[derive(Clone, Debug, PartialEq)]
pub enum AreaRequest {
    /// In boxes, one after the other; none lies over another, and all lie on the panel. Never empty.
    Boxes(Vec<BoxRequest>),
    /// Where a picture of the panel is white.
    Mask {
        /// The picture's path from the book's folder.
        file: String,
        /// Where the plan names it.
        place: Location,
    },
}

/// A box that words stand in, measured from the panel's top-left corner.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxRequest {
    /// Its left edge.
    pub left: Length,
    /// Its top.
    pub top: Length,
    /// Its width, above nothing.
    pub width: Length,
    /// Its height, above nothing.
    pub height: Length,
    /// Where the plan describes it.
    pub place: Location,
}

impl BoxRequest {
    /// Whether two boxes lie over each other; they may touch.
    pub fn overlaps(&self, other: &BoxRequest) -> bool {
        self.left < other.left + other.width
            && other.left < self.left + self.width
            && self.top < other.top + other.height
            && other.top < self.top + self.height
    }
}
