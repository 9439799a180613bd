//! `concertina.toml` read into a [`Plan`].
//!
//! It is read twice over. [`written`] is the plan as the author wrote it, every value with its place;
//! [`check`] turns it into a [`Plan`]. Nothing after this asks what the author wrote. [`sample`] is the plan of a new
//! book, [`schema`] what an editor may complete, [`vary`] the plan at another size, [`change`] with something left
//! out, [`older`] with what held before.

pub mod change;
pub mod check;
pub mod older;
pub mod sample;
pub mod schema;
#[cfg(test)]
mod tests;
pub mod vary;
pub mod written;

use crate::names::{
    Cover, Date, Direction, Feature, FoldKind, Grain, Ink, JoinKind, LinesRun, PanelName, Role,
    Score, SetAs, SheetSize, Side, Sides, Turned, Vertical,
};
use crate::plan::{
    Align, BoardsPlan, Caesura, CapitalsStyle, Hang, MarginsRequest, Opening, Pairing, Percent,
    Plan, SheetsPlan, TypefaceNamed, WrapperKind,
};
