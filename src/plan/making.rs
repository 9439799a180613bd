//! How the strip is made: its paper, its sheets and joins, its score lines, its cover, and motifs that cross from
//! panel to panel. None of it has a say in how words are set.

use std::path::PathBuf;

use super::PanelName;
use crate::names::Length;
use crate::names::Location;

/// What is known of the paper itself.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Stock {
    /// Thickness of one leaf.
    pub thickness: Option<Length>,
    /// Grams per square metre.
    pub grammage: Option<u32>,
    /// Apparent specific volume in thousandths of a cubic centimetre per gram (ISO 534).
    pub bulk: Option<u32>,
}

impl Stock {
    /// The thickness of one leaf, measured or else worked out: grammage in g/m² ÷ 1000 × bulk in cm³/g gives millimetres
    /// (ISO 534).
    pub fn leaf(&self) -> Option<Length> {
        let worked_out = || {
            let (grammage, bulk) = (self.grammage?, self.bulk?);
            // g/m² × cm³/g is 1/1000 mm; bulk is in thousandths.
            let millionths = i64::from(grammage) * i64::from(bulk);
            Some(Length::mm(1).scaled(millionths, 1_000_000))
        };
        self.thickness.or_else(worked_out)
    }
}

/// How folds are scored.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Score {
    /// Pressed, so that a bead rises on the inside of the fold.
    #[default]
    Crease,
    /// Cut lightly on the outside of the fold, as board is.
    Cut,
}

impl Score {
    /// `crease` or `cut`.
    pub const fn word(self) -> &'static str {
        match self {
            Score::Crease => "crease",
            Score::Cut => "cut",
        }
    }
}

/// Which way the paper's fibres lie in a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grain {
    /// Along the sheet's long side.
    Long,
    /// Along its short side.
    Short,
}

/// How two sheets are joined at a fold.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum JoinKind {
    /// One sheet has a tab that is pasted behind the other.
    #[default]
    Tab,
    /// A strip of tissue is pasted over the fold.
    Hinge,
    /// One sheet has a panel more, which is pasted wholly behind the other's first.
    Doubled,
}

impl JoinKind {
    /// `tab`, `hinge` or `doubled`.
    pub const fn word(self) -> &'static str {
        match self {
            JoinKind::Tab => "tab",
            JoinKind::Hinge => "hinge",
            JoinKind::Doubled => "doubled",
        }
    }
}

/// A sheet that a press or printer takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetSize {
    /// Its name, if it has one.
    pub name: Option<String>,
    /// Its longer side.
    pub long: Length,
    /// Its shorter side.
    pub short: Length,
}

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
    pub profile: PathBuf,
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

/// A motif that goes from a panel to one that it meets.
#[derive(Clone, Debug, PartialEq)]
pub struct Crossover {
    /// Where it begins.
    pub from: PanelName,
    /// Where it goes on.
    pub to: PanelName,
    /// The heights between which it crosses, from the panels' heads; top first.
    pub heights: (Length, Length),
    /// Where the plan says so.
    pub place: Location,
}
