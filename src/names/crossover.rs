//! Motifs that cross from panel to panel.

use super::{Length, Location, PanelName};

/// A motif that goes from a panel to one that it meets.
#[derive(Clone, Debug, PartialEq)]
pub struct Crossover {
    /// The panel that it begins on.
    pub from: PanelName,
    /// The panel that it goes on to.
    pub to: PanelName,
    /// The heights between which it crosses, from the panels' heads; top first.
    pub heights: (Length, Length),
    /// Where the plan says so.
    pub place: Location,
}
