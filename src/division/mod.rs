//! Division: the exact division of the words over the panels, under the author's rules.
//!
//! A [`Problem`] is all that the search knows of a part: how its rows stand under each other ([`crate::stack`]), their
//! signs, what each panel may carry, and the pictures. It holds whole numbers only. [`divide`] finds the [`PartDivision`] of
//! least cost among all that keep the hard rules; each rule is a file in [`rules`](crate::rules).

mod back_to_back;
mod fewest;
mod kinds;
pub mod no_way;
mod search;

pub use back_to_back::{Together, among, best_back_to_back, show_through};
pub use fewest::fewest_of_words;
pub use kinds::{BestDivisions, best_divisions};
pub use no_way::{Conflict, Demand, against, conflict, least_panels};
pub use search::{
    Limits, Pattern, Remembered as RememberedSearches, Work, divide, divide_again, divide_together,
    is_possible,
};

use std::ops::Range;

pub use crate::rules::{
    AreaFacts, Behind, Chosen, ChosenWords, Cost, Ending, PanelFacts, PanelView, Passed,
    PictureFacts, PieceHere, Placed, Problem, RowFacts,
};

use crate::names::{HalfLines, PanelName, Role};
use crate::plan::RuleName;
use crate::rules::{Remembers, weighed};
use crate::stack::Stop;

/// A complete answer: what every panel of every part carries.
#[derive(Clone, Debug, PartialEq)]
pub struct Division {
    /// The parts, in the manuscript's order.
    pub parts: Vec<PartDivision>,
}

impl Division {
    /// The sum of the rules' costs.
    pub fn cost(&self) -> Cost {
        self.parts.iter().map(|part| part.cost).sum()
    }

    /// Whether no other division that keeps the hard rules costs less.
    pub fn proved(&self) -> bool {
        self.parts.iter().all(|part| part.proved)
    }

    /// What no division can cost less than.
    pub fn bound(&self) -> Cost {
        self.parts.iter().map(|part| part.bound).sum()
    }
}

/// One part, divided.
#[derive(Clone, Debug, PartialEq)]
pub struct PartDivision {
    /// Its panels in the part's order.
    pub panels: Vec<PanelDivision>,
    /// The sum of the rules' costs.
    pub cost: Cost,
    /// Whether no other division that keeps the hard rules costs less.
    pub proved: bool,
    /// What no division can cost less than; equal to the cost where that is proved.
    pub bound: Cost,
    /// Rules that had to give way because no division keeps them.
    pub gave_way: Vec<RuleName>,
}

/// What one panel carries.
#[derive(Clone, Debug, PartialEq)]
pub struct PanelDivision {
    /// The panel.
    pub panel: PanelName,
    /// What it carries.
    pub role: Role,
    /// The rows of the part that stand on it.
    pub rows: Range<usize>,
    /// Its picture, by its index among the problem's pictures.
    pub picture: Option<usize>,
    /// What its words take.
    pub used: HalfLines,
    /// How much fits; nothing where no words stand.
    pub capacity: HalfLines,
    /// What each rule in use costs here, noughts left out.
    pub costs: Vec<(RuleName, Cost)>,
}

/// The hard rules, those of `soft` aside, that a panel breaks by itself if it carries this; rules that look at more
/// than one panel are not asked.
pub fn broken_here(
    problem: &Problem,
    soft: &[RuleName],
    panel: usize,
    (role, picture, rows): (Role, Option<usize>, Range<usize>),
) -> Vec<RuleName> {
    let facts = &problem.panels[panel];
    let area = match picture {
        Some(picture) => facts.shared[picture],
        None => facts.area,
    };
    let stop = area.map(|area| problem.stop(area.column, rows.start, rows.end));
    let stop = stop.unwrap_or(Stop::nothing(rows.start));
    let reading = PanelView {
        problem,
        panel,
        role,
        from: rows.start,
        to: rows.end,
        picture,
        begins_picture: picture.is_some(),
        queue: &[],
        placed: Placed::NONE,
        column: area.map(|area| area.column),
        used: stop.used,
        foot: stop.foot,
        capacity: area.map_or(HalfLines::ZERO, |area| area.capacity),
    };
    weighed(problem, soft)
        .into_iter()
        .filter(|weighed| weighed.hard && weighed.rule.remembers(problem) == Remembers::Nothing)
        .filter(|weighed| weighed.rule.read(&reading).broken)
        .map(|weighed| weighed.name)
        .collect()
}
