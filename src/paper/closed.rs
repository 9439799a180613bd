//! The closed book: how thick it is, and what it weighs.

use super::{Sheets, Strip};
use crate::names::{Cover, JoinKind, Length};
use crate::plan::{BoardsPlan, Plan};

/// The closed book.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ClosedBook {
    /// How many leaves lie on each other.
    pub leaves: u32,
    /// The thickness of a leaf, where the paper's is known.
    pub leaf: Option<Length>,
    /// How thick the book is, pressed and lying loose, with its boards: the leaves, and half as much again for the air
    /// between them and the spring of the folds (common practice).
    pub thickness: Option<(Length, Length)>,
    /// The weight of a copy's paper in milligrams, with its tabs, without boards or wrapper.
    pub weight_mg: Option<i64>,
}

impl ClosedBook {
    /// The closed book of a plan.
    pub fn new(plan: &Plan, strip: &Strip, sheets: &Sheets) -> ClosedBook {
        let doubled = sheets.joins.iter();
        let doubled = doubled
            .filter(|join| join.kind == JoinKind::Doubled)
            .count() as u32;
        let leaves = u32::from(plan.paper.panels.per_side) + doubled;
        let leaf = plan.stock.leaf();
        let boards = match plan.paper.cover {
            Cover::Boards => boards_thick(plan.boards),
            _ => Length::ZERO,
        };
        let least = leaf.map(|leaf| leaf * i64::from(leaves));
        ClosedBook {
            leaves,
            leaf,
            thickness: least.map(|least| (least + boards, least * 3 / 2 + boards)),
            weight_mg: plan.stock.grammage.map(|grammage| {
                let length = sheets.sheets.iter().map(|sheet| {
                    let (left, right) = sheet.cut();
                    right - left
                });
                let length: Length = length.sum();
                // Grams per square metre times square millimetres are thousandths of a milligram.
                let area = length.as_mm() * strip.paper().panel_height.as_mm();
                (area * f64::from(grammage) / 1000.0).round() as i64
            }),
        }
    }
}

fn boards_thick(boards: BoardsPlan) -> Length {
    boards.thickness * 2
}
