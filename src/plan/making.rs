//! How the strip is made: its sheets and joins, and its cover. None of it has a say in how words are set.

use crate::names::{Grain, JoinKind, Length, Location, SheetSize};

/// How the strip is cut from sheets.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetsPlan {
    /// The sheet; nothing where the strip's own height decides.
    pub size: Option<SheetSize>,
    /// The longest sheet.
    pub longest: Option<Length>,
    /// The grain of the sheet.
    pub grain: Option<Grain>,
    /// How sheets are joined.
    pub join: JoinKind,
    /// How wide a tab is, or the tissue of a hinge.
    pub tab: Length,
    /// Whether the author says so.
    pub tab_asked: bool,
    /// How far art goes under a neighbour at a join.
    pub under_run: Length,
    /// What the press cannot print along the edges of a sheet.
    pub gripper: Length,
    /// Paper left beyond the last panel, trimmed off when the strip is folded.
    pub spare: Length,
    /// The printing condition that PDF/X-4 files are made for.
    pub intent: Option<IntentPlan>,
    /// Where the plan speaks of sheets.
    pub place: Option<Location>,
}

impl Default for SheetsPlan {
    fn default() -> SheetsPlan {
        SheetsPlan {
            size: None,
            longest: None,
            grain: None,
            join: JoinKind::Tab,
            tab: Length::mm(12),
            tab_asked: false,
            under_run: Length::mm(3) / 2,
            gripper: Length::mm(5),
            spare: Length::mm(5),
            intent: None,
            place: None,
        }
    }
}

/// The output intent of PDF/X-4 files.
#[derive(Clone, Debug, PartialEq)]
pub struct IntentPlan {
    /// The ICC profile inside the book's folder.
    pub profile: String,
    /// What the printing condition is called.
    pub condition: Option<String>,
    /// Where the plan names the profile.
    pub place: Location,
}

/// Boards that the outside faces are pasted on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BoardsPlan {
    /// Their thickness.
    pub thickness: Length,
    /// How far they go beyond the panels at head and foot and where no fold is.
    pub square: Length,
    /// How far the covering material is turned in.
    pub turn_in: Length,
}

impl Default for BoardsPlan {
    fn default() -> BoardsPlan {
        BoardsPlan {
            thickness: Length::mm(2),
            square: Length::mm(3),
            turn_in: Length::mm(15),
        }
    }
}

/// The kinds of wrapper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WrapperKind {
    /// A cover folded around the book.
    Folded,
    /// A closed band.
    Band,
}

/// A wrapper around the closed book.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WrapperPlan {
    /// A closed band around the book: its height, and how far its ends overlap.
    Band {
        /// How high it is.
        height: Length,
        /// How far its ends lie over each other.
        overlap: Length,
    },
    /// A cover folded around the book, with flaps that turn in.
    Folded {
        /// How wide each flap is.
        flap: Length,
    },
}
