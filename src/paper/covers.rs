//! The sizes that covers are cut to.
//!
//! Measures as bookbinders usually take them (common practice): boards go beyond the panels by the square at head and foot
//! and at the edge where no fold is, and are flush at the fold; the covering material is turned in all round, its corners
//! mitred at one and a half times the board's thickness from the board's. Where the panels are odd in number, the two
//! ends of the strip lie at opposite edges of the closed book: there boards go beyond at both, so that they lie on each
//! other.

use super::ClosedBook;
use crate::names::{Cover, Direction, Length};
use crate::plan::{BoardsPlan, Paper, Plan, WrapperPlan};

/// A board and what it is covered with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Board {
    /// Width and height.
    pub size: (Length, Length),
    /// Width and height of the covering material.
    pub material: (Length, Length),
    /// How far its corners are cut off along both edges.
    pub mitre: Length,
}

/// The two boards of a book.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Boards {
    /// What the plan asks of them.
    pub plan: BoardsPlan,
    /// Whether they go beyond the panels at the fold too, as they must where the panels are odd in number.
    pub beyond_fold: bool,
    /// The board of front 1's end.
    pub first: Board,
    /// The board of the other end.
    pub last: Board,
}

impl Boards {
    /// The boards of a strip.
    pub fn new(paper: &Paper, plan: BoardsPlan) -> Boards {
        let beyond_fold = !paper.panels.per_side.is_multiple_of(2);
        let squares = if beyond_fold { 2 } else { 1 };
        let board = |end: Length| {
            let wide = paper.panel_width.max(end) + plan.square * squares;
            board(paper, plan, wide)
        };
        Boards {
            plan,
            beyond_fold,
            first: board(paper.ends.first),
            last: board(paper.ends.last),
        }
    }
}

fn board(paper: &Paper, plan: BoardsPlan, wide: Length) -> Board {
    let size = (wide, paper.panel_height + plan.square * 2);
    // The cut runs at 45° and passes the board's corner at 1.5 t: along the material's edges that is
    // 2 × turn-in - 1.5 t × √2.
    let passes = plan.thickness.scaled(2_121_320, 1_000_000);
    Board {
        size,
        material: (size.0 + plan.turn_in * 2, size.1 + plan.turn_in * 2),
        mitre: plan.turn_in * 2 - passes,
    }
}

/// A wrapper, folded from one piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wrapper {
    /// Whether it is a closed band, its ends pasted over each other, and not a cover with flaps.
    pub is_band: bool,
    /// Its height.
    pub height: Length,
    /// The name and the width of each part that it is folded to, from left to right with its outside up.
    pub pieces: Vec<(&'static str, Length)>,
    /// The spine it is folded for: between the pressed and the loose book; nothing where the paper's thickness is not known.
    pub spine: Option<Length>,
}

impl Wrapper {
    /// The wrapper of a closed book.
    pub fn new(paper: &Paper, plan: WrapperPlan, closed: &ClosedBook) -> Wrapper {
        let spine = closed.thickness.map(|(least, most)| (least + most) / 2);
        let wide = paper.widest();
        let back = spine.unwrap_or(Length::ZERO);
        let (height, mut pieces) = match plan {
            WrapperPlan::Folded { flap } => (
                paper.panel_height,
                vec![
                    ("flap", flap),
                    ("back", wide),
                    ("spine", back),
                    ("front", wide),
                    ("flap", flap),
                ],
            ),
            WrapperPlan::Band { height, overlap } => (
                height,
                vec![
                    ("back", wide),
                    ("spine", back),
                    ("front", wide),
                    ("fore-edge", back),
                    ("overlap", overlap),
                ],
            ),
        };
        // The front cover of a book that reads from right to left lies at the left of the spine.
        if paper.reads == Direction::RightToLeft {
            pieces.reverse();
        }
        Wrapper {
            is_band: matches!(plan, WrapperPlan::Band { .. }),
            height,
            pieces,
            spine,
        }
    }

    /// How long it is cut.
    pub fn length(&self) -> Length {
        self.pieces.iter().map(|(_, wide)| *wide).sum()
    }
}

/// What the cover of a book is made of, each with its cut sizes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CutCover {
    /// The outside faces themselves: nothing more is cut.
    Itself,
    /// Boards that the outside faces are pasted on.
    Boards(Boards),
    /// A wrapper around the closed book.
    Wrapper(Wrapper),
}

impl CutCover {
    /// The cover that a plan asks for.
    pub fn new(plan: &Plan, closed: &ClosedBook) -> CutCover {
        match plan.paper.cover {
            Cover::SelfCover => CutCover::Itself,
            Cover::Boards => CutCover::Boards(Boards::new(&plan.paper, plan.boards)),
            Cover::Wrapper => CutCover::Wrapper(Wrapper::new(&plan.paper, plan.wrapper, closed)),
        }
    }
}
