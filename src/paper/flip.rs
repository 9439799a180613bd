//! Which way the printer has to turn the paper.

use crate::names::{Length, Turned};

/// Which edge of a sheet the printer's duplex setting turns it about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flip {
    /// About its short edge (IPP `two-sided-short-edge`).
    ShortEdge,
    /// About its long edge (IPP `two-sided-long-edge`).
    LongEdge,
}

impl Flip {
    /// The setting that a page of that width and height needs, so that its back lies behind its front when the reader turns the strip
    /// over in that way. Both pages stand upright in the file: it is the setting that turns, never the file.
    pub fn of(page: (Length, Length), turned: Turned) -> Flip {
        let wide = page.0 > page.1;
        match (turned, wide) {
            // The sheet is turned sideways, about an upright edge.
            (Turned::HeadToHead, true) | (Turned::HeadToFoot, false) => Flip::ShortEdge,
            (Turned::HeadToHead, false) | (Turned::HeadToFoot, true) => Flip::LongEdge,
        }
    }

    /// `short edge` or `long edge`.
    pub const fn words(self) -> &'static str {
        match self {
            Flip::ShortEdge => "short edge",
            Flip::LongEdge => "long edge",
        }
    }
}
