//! The columns of a part: what its lines fill on its panels.

use super::areas::AreaId;
use super::part::Setter;
use super::{Column, Row, Setting};
use crate::names::{Length, PanelName};
use crate::plan::PartPlan;

impl Setter<'_> {
    /// The columns that the part's areas need, plain ones first, and which area has which.
    pub(super) fn columns(
        &self,
        plan: &PartPlan,
        rows: &[Row],
    ) -> (Vec<Column>, Vec<Option<usize>>) {
        let mut columns: Vec<Column> = Vec::new();
        let mut of_area = vec![None; self.areas.len()];
        let longest = self.longest(rows);
        let edge = longest.and_then(|longest| self.part_edge(plan, longest));
        for &id in &self.own_areas {
            if self.areas.shape(id).is_some() {
                continue;
            }
            let setting = self.setting_of(id, edge);
            if setting.measure > Length::ZERO {
                of_area[id.0] = Some(number_of(Column::Plain(setting), &mut columns));
            }
        }
        for &id in &self.own_areas {
            let Some(shape) = self.areas.shape(id) else {
                continue;
            };
            of_area[id.0] = Some(number_of(Column::Shaped(shape.slots.clone()), &mut columns));
        }
        (columns, of_area)
    }

    /// The left edge of a part whose longest line stands in the middle: found once, in the first text area of its
    /// panels, it never jumps; where margins go by folds, it is as far from every area's own edge. Lines that follow a
    /// shape begin where that does.
    fn part_edge(&self, plan: &PartPlan, longest: Length) -> Option<PartEdge> {
        let ordinary = |panel: &PanelName| {
            let area = self.areas.of(*panel, None);
            area.filter(|&id| self.areas.shape(id).is_none())
        };
        let area = self.areas.get(plan.on.iter().find_map(ordinary)?);
        let within = ((area.width - longest) / 2).max(Length::ZERO);
        Some(match self.style.margins.by_folds {
            true => PartEdge::Within(within),
            false => PartEdge::At(area.left + within),
        })
    }

    /// How lines are set in an area: from the part's left edge on, if it has one that lies within the area.
    fn setting_of(&self, area: AreaId, edge: Option<PartEdge>) -> Setting {
        let area = self.areas.get(area);
        let right = area.left + area.width;
        let edge = edge.map(|edge| match edge {
            PartEdge::At(left) => left,
            PartEdge::Within(within) => area.left + within,
        });
        let left = match edge.filter(|&edge| edge < right) {
            Some(edge) => edge.max(area.left),
            None => area.left,
        };
        Setting {
            left,
            measure: right - left,
            hang_left: area.hang.0 + (left - area.left),
            hang_right: area.hang.1,
        }
    }
}

/// The left edge of a part that stands in the middle as a block.
#[derive(Clone, Copy)]
enum PartEdge {
    /// From every panel's left edge.
    At(Length),
    /// From every text area's.
    Within(Length),
}

/// The number of a column among those that are known, or as the next of them.
fn number_of(column: Column, columns: &mut Vec<Column>) -> usize {
    let known = columns.iter().position(|known| *known == column);
    known.unwrap_or_else(|| {
        columns.push(column);
        columns.len() - 1
    })
}
