//! Paper and sheets: what a press takes, how sheets are joined, how folds are scored.

use super::Length;

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
    /// The thickness of one leaf, measured or otherwise worked out: grammage in g/m² ÷ 1000 × bulk in cm³/g gives millimetres
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
