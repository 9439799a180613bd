//! The stack: how lines stand under each other. It is the only place that adds space.
//!
//! Words fill a *column* from its head down: a plain text area, whose depth is counted in half lines, or a shaped one,
//! whose lines are slots that lie in boxes ([`Boxes`]). How much space stands between two lines is told by
//! [`space_between`], and where that vanishes by [`Boxes::below`]. What each row takes of a column is known for every
//! slot that it may come to ([`Takes`]), that of a paragraph line by line ([`Line`]); in a plain column all slots are
//! alike, and one stands for all. [`Walk`] goes down the lines from a place and tells where a panel may end; all that
//! asks how deep words are, or where a row stands, asks a [`Stack`].
//!
//! It speaks whole numbers only, and knows no fonts and no files.

mod baselines;
mod boxes;
mod space;
mod walk;

pub use baselines::{Baselines, below_a_line};
pub use boxes::Boxes;
pub use space::{HeadingSpace, Neighbours, SpaceAsked, Spaced, space_between, space_on_panels};
pub use walk::{Standing, Stop, Walk};

use std::ops::Range;

use crate::names::HalfLines;

/// The rows of a part, as they stand in each of the part's columns. A place is where a panel may begin: before a row, or
/// within a paragraph.
#[derive(Clone, Debug, Default, PartialEq, Hash)]
pub struct Stack {
    /// By place: the space that is asked above it.
    pub spaces: Vec<HalfLines>,
    /// What the rows take of each column.
    pub columns: Vec<Filled>,
}

/// What the rows of a part take of a column.
#[derive(Clone, Debug, Default, PartialEq, Hash)]
pub struct Filled {
    /// The column's slots.
    pub boxes: Boxes,
    /// By place: what begins there.
    pub starts: Vec<Start>,
    /// What rows take when they come to the column's slots.
    pub takes: Vec<Takes>,
    /// The lines of paragraphs. Those from different places may share their last ones.
    pub lines: Vec<Line>,
}

/// What begins at a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Start {
    /// A row or a paragraph: which of the column's `takes` it has on the first slot. Those on the others follow it, and last
    /// the one beyond all; of a plain column that is the only one.
    Row(u32),
    /// What follows within a paragraph: its first line where a panel begins with it.
    Within(u32),
}

/// What a row takes of a column when it comes to a slot.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Takes {
    /// What is left empty above it.
    pub skip: HalfLines,
    /// Its height, if it is no paragraph.
    pub height: HalfLines,
    /// The first of its lines, if it is one.
    pub line: Option<u32>,
}

/// A line of a paragraph.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Line {
    /// The place where it ends; nothing where no panel may end.
    pub to: Option<u32>,
    /// The line below it; nothing at the paragraph's end.
    pub next: Option<u32>,
    /// Its height.
    pub height: HalfLines,
}

impl Filled {
    /// Rows of these heights in a plain column, none of them a paragraph.
    pub fn plain(heights: impl IntoIterator<Item = HalfLines>) -> Filled {
        let takes = heights.into_iter().map(|height| Takes {
            height,
            ..Takes::default()
        });
        let takes: Vec<Takes> = takes.collect();
        Filled {
            starts: (0..takes.len() as u32).map(Start::Row).collect(),
            takes,
            ..Filled::default()
        }
    }

    /// What the row takes whose first is `first`, when it comes to a slot.
    fn takes(&self, first: u32, slot: usize) -> Takes {
        let at = first as usize + slot.min(self.boxes.slots());
        self.takes.get(at).copied().unwrap_or_default()
    }
}

impl Stack {
    /// Goes down the lines of a column from a place, which stands at its head.
    pub fn walk(&self, column: usize, from: usize) -> Walk<'_> {
        Walk::new(&self.spaces, &self.columns[column], from)
    }

    /// Where the rows between two places stand on a panel that begins with the first of them.
    pub fn standing(&self, column: usize, places: Range<usize>) -> Vec<Standing> {
        self.walk(column, places.start).standing(places.end)
    }

    /// All spaces together.
    pub fn all_space(&self) -> u64 {
        self.spaces.iter().copied().map(u64::from).sum()
    }
}
