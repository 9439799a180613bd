//! The settings of a part: what measures its lines are set to, and where they begin.

use std::sync::Arc;

use super::areas::{AreaId, Shape};
use super::part::Setter;
use super::{Row, Setting};
use crate::names::Length;
use crate::names::PanelName;
use crate::plan::PartPlan;

impl Setter<'_> {
    /// The settings that the part's areas need, the shapes that follow them in number, and which area uses which.
    pub(super) fn settings(
        &self,
        plan: &PartPlan,
        rows: &[Row],
    ) -> (Vec<Setting>, Vec<Arc<Shape>>, Vec<Option<usize>>) {
        let mut settings: Vec<Setting> = Vec::new();
        let mut of_area = vec![None; self.areas.len()];
        let longest = self.longest(rows);
        let edge = longest.and_then(|longest| self.part_edge(plan, longest));
        for (index, used) in of_area.iter_mut().enumerate() {
            if self.areas.shape(AreaId(index)).is_some() {
                continue;
            }
            let setting = self.setting_of(AreaId(index), edge);
            if setting.measure > Length::ZERO {
                *used = Some(number_of(&mut settings, setting));
            }
        }
        let mut shapes: Vec<Arc<Shape>> = Vec::new();
        for (index, used) in of_area.iter_mut().enumerate() {
            let id = AreaId(index);
            let (Some(shape), true) = (self.areas.shape(id), self.has(plan, id)) else {
                continue;
            };
            let known = shapes.iter().position(|known| known.slots == shape.slots);
            let number = known.unwrap_or_else(|| {
                shapes.push(Arc::clone(shape));
                shapes.len() - 1
            });
            *used = Some(settings.len() + number);
        }
        (settings, shapes, of_area)
    }

    /// The left edge of a part whose longest line stands in the middle: found once, in the first text area of its
    /// panels, it never jumps. Lines that follow a shape begin where that does.
    fn part_edge(&self, plan: &PartPlan, longest: Length) -> Option<Length> {
        let ordinary = |panel: &PanelName| {
            let area = self.areas.of(*panel, None);
            area.filter(|&id| self.areas.shape(id).is_none())
        };
        let area = self.areas.get(plan.on.iter().find_map(ordinary)?);
        Some(area.left + ((area.width - longest) / 2).max(Length::ZERO))
    }

    /// How lines are set in an area: from the part's left edge on, if it has one that lies within the area.
    fn setting_of(&self, area: AreaId, edge: Option<Length>) -> Setting {
        let area = self.areas.get(area);
        let right = area.left + area.width;
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

    /// Whether a panel of the part may have this area.
    fn has(&self, plan: &PartPlan, area: AreaId) -> bool {
        plan.on.iter().any(|&panel| self.areas.on(panel, area))
    }
}

/// The number of a setting among those that are known, which it joins if it is new.
fn number_of(settings: &mut Vec<Setting>, setting: Setting) -> usize {
    let known = settings.iter().position(|known| *known == setting);
    known.unwrap_or_else(|| {
        settings.push(setting);
        settings.len() - 1
    })
}
