//! The nouns that every room speaks of: lengths, panels, sides, folds, roles, inks, and what can be wrong with a book.
//!
//! Nothing here knows a file, a font or a manuscript; every other room may import this one.

mod crossover;
mod date;
mod direction;
mod fault;
mod fold;
mod half_lines;
mod ink;
mod length;
mod lines_run;
mod measure;
mod panel;
mod phrase;
mod role;
mod sheet;
mod space;
mod text;

pub use crossover::Crossover;
pub use date::Date;
pub use direction::Direction;
pub use fault::{Deed, Fault, Faults, Location, Source, nearest};
pub use fold::{Cover, FoldKind, Turned};
pub use half_lines::HalfLines;
pub use ink::Ink;
pub use length::{Length, decimals};
pub use lines_run::LinesRun;
pub use measure::{Measure, MeasureError, Unit};
pub use panel::{Edge, PanelName, PanelSet, Side, Sides, panel_list};
pub use phrase::{and_list, capitalized};
pub use role::Role;
pub use sheet::{Grain, JoinKind, Score, SheetSize, Stock};
pub use space::{PageSpace, PanelPoint, PdfPoint};
pub use text::{Feature, SetAs, Vertical, stands_in_a_name};
