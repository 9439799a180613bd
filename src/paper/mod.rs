//! The strip as paper: folds, spreads, outside faces, and what lies behind what.
//!
//! Valley on the front is mountain on the back. Leafing through a side shows the pairs that its valley
//! folds join; faces in no pair are the outside of the closed book. Everything that speaks of spreads
//! asks here.

mod closed;
mod covers;
mod flip;
mod folding;
mod joins;
mod sheet_layout;
mod sheets;

pub use closed::ClosedBook;
pub use covers::{Board, Boards, CutCover, Wrapper};
pub use flip::Flip;
pub use folding::{ScoredFold, order, scored};
pub use joins::{Join, StripContents};
pub use sheets::{GrainAdvice, LONGEST_PAGE, MARK, Sheet, Sheets};

use crate::names::{Crossover, Direction, Edge, FoldKind, Length, PanelName, Side, Sides, Turned};
use crate::plan::Paper;

/// A fold between two neighbours of the front.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fold {
    /// The front panel before it, in reading order.
    pub after: PanelName,
    /// How far it lies from the strip's left edge, seen from the front. All folds are measured from this
    /// one edge, so that errors do not add up.
    pub from_left: Length,
    /// The fold as seen from the front.
    pub kind: FoldKind,
}

/// Which edges of a panel are folds; the others are trimmed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct FoldedEdges {
    /// The left edge.
    pub left: bool,
    /// The right edge.
    pub right: bool,
}

/// The folded strip.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    paper: Paper,
    folds: Vec<Fold>,
}

impl Strip {
    /// The strip that a plan's paper makes.
    pub fn new(paper: Paper) -> Strip {
        let count = paper.panels.per_side;
        let folds = (1..count)
            .filter_map(|k| {
                let last_left = match paper.reads {
                    Direction::LeftToRight => k,
                    Direction::RightToLeft => count - k,
                };
                let from_left = paper.along(last_left);
                let kind = paper.fold_after(k)?;
                Some(Fold {
                    after: PanelName::front(k),
                    from_left,
                    kind,
                })
            })
            .collect();
        Strip { paper, folds }
    }

    /// The paper it is made of.
    pub fn paper(&self) -> &Paper {
        &self.paper
    }

    /// Its length along the panels.
    pub fn length(&self) -> Length {
        self.paper.along(self.paper.panels.per_side)
    }

    /// How far a panel's left edge lies from the strip's left edge, both seen from the panel's side.
    pub fn left_of(&self, panel: PanelName) -> Length {
        let before = match self.paper.reads {
            Direction::LeftToRight => panel.number.saturating_sub(1),
            Direction::RightToLeft => self.paper.panels.per_side.saturating_sub(panel.number),
        };
        let from_front = |before| self.paper.along(before);
        match (panel.side, self.paper.turned) {
            (Side::Front, _) | (Side::Back, Turned::HeadToFoot) => from_front(before),
            // Seen from the back, the strip's left edge is the right one of the front.
            (Side::Back, Turned::HeadToHead) => {
                self.length() - from_front(self.paper.panels.per_side - before)
            }
        }
    }

    /// How wide a panel is.
    pub fn width_of(&self, panel: PanelName) -> Length {
        self.paper.width_of(panel)
    }

    /// A distance along a side from its left edge, as one from the left edge of the front: the point on the other side
    /// of the paper. Applied twice it is the distance again.
    pub fn across(&self, side: Side, along: Length) -> Length {
        match (side, self.paper.turned) {
            (Side::Back, Turned::HeadToHead) => self.length() - along,
            _ => along,
        }
    }

    /// Where two panels that meet do so, along the strip: at their fold, or at the end that both have.
    pub fn meeting(&self, one: PanelName, other: PanelName) -> Option<Length> {
        if !self.paper.meet(one, other) {
            return None;
        }
        let edges = |panel: PanelName| {
            let left = self.left_of(panel);
            [left, left + self.width_of(panel)].map(|at| self.across(panel.side, at))
        };
        let shared = edges(one)
            .into_iter()
            .filter(|edge| edges(other).contains(edge));
        let mut shared = shared.filter(|&edge| {
            let at_end = edge == Length::ZERO || edge == self.length();
            at_end == (one.side != other.side)
        });
        shared.next()
    }

    /// The heights at which a motif crosses, from the head of one of its panels: top first. Around an end of a strip that
    /// is turned head to foot, the heads of the two faces lie at opposite edges.
    pub fn heights_on(&self, crossover: &Crossover, panel: PanelName) -> (Length, Length) {
        let (top, foot) = crossover.heights;
        let over = panel.side != crossover.from.side && self.paper.turned == Turned::HeadToFoot;
        match over {
            true => {
                let height = self.paper.panel_height;
                (height - foot, height - top)
            }
            false => (top, foot),
        }
    }

    /// Its folds in the front's reading order.
    pub fn folds(&self) -> &[Fold] {
        &self.folds
    }

    /// Every panel that is printed, front then back.
    pub fn panels(&self) -> impl Iterator<Item = PanelName> {
        self.paper.panels.all()
    }

    /// The panel that lies behind another; nothing for a panel that the strip does not have.
    pub fn behind(&self, panel: PanelName) -> Option<PanelName> {
        self.paper.behind(panel)
    }

    /// The pairs seen at once when a side is leafed through, in its reading order.
    pub fn spreads(&self, side: Side) -> Vec<(PanelName, PanelName)> {
        (1..self.paper.panels.per_side)
            .filter(|&k| self.fold_seen(side, k) == Some(FoldKind::Valley))
            .map(|k| {
                let panel = |number| PanelName { side, number };
                (panel(k), panel(k + 1))
            })
            .collect()
    }

    /// The panels that are seen at once when the strip is leafed through, from first to last: the pairs, and each face in no
    /// pair by itself; those of the front, then, turned over, those of the back.
    pub fn leafing(&self) -> Vec<Vec<PanelName>> {
        self.paper.leafing()
    }

    /// The fold after panel `k` of a side, as seen from that side.
    pub fn fold_seen(&self, side: Side, k: u16) -> Option<FoldKind> {
        self.paper.fold_seen(side, k)
    }

    /// The two panels on the outside of the closed book.
    pub fn outside(&self) -> Vec<PanelName> {
        self.paper.outside_faces()
    }

    /// The pair that a panel is one of; nothing for a face on the outside of the closed book.
    pub fn spread_of(&self, panel: PanelName) -> Option<(PanelName, PanelName)> {
        let spreads = self.spreads(panel.side);
        spreads.into_iter().find(|&(a, b)| a == panel || b == panel)
    }

    /// Where a panel's inner margin is: at the fold in the middle of its spread. A face in no pair is laid out as if the one that
    /// it lacks were there, beyond the strip's end: as the first page of a book, or its last.
    pub fn inner_edge(&self, panel: PanelName) -> Edge {
        let begins_pair = match self.spread_of(panel) {
            Some((first, _)) => first == panel,
            None => panel.number != 1,
        };
        match (begins_pair, self.paper.reads) {
            (true, Direction::LeftToRight) | (false, Direction::RightToLeft) => Edge::Right,
            (false, Direction::LeftToRight) | (true, Direction::RightToLeft) => Edge::Left,
        }
    }

    /// Which edges of a panel are folds, as seen from its side.
    pub fn folded_edges(&self, panel: PanelName) -> FoldedEdges {
        let first = panel.number == 1;
        let last = panel.number == self.paper.panels.per_side;
        match self.paper.reads {
            Direction::LeftToRight => FoldedEdges {
                left: !first,
                right: !last,
            },
            Direction::RightToLeft => FoldedEdges {
                left: !last,
                right: !first,
            },
        }
    }

    /// The sides that are printed.
    pub fn sides(&self) -> &'static [Side] {
        match self.paper.panels.sides {
            Sides::Both => &[Side::Front, Side::Back],
            Sides::Front => &[Side::Front],
        }
    }
}
