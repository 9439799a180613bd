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
        // The part's left edge is found once, in the first text area of its panels, and never jumps. Lines that
        // follow a shape begin where that does.
        let ordinary = |panel: &PanelName| {
            let area = self.areas.of(*panel, None);
            area.filter(|&id| self.areas.shape(id).is_none())
        };
        let edge = plan
            .on
            .iter()
            .find_map(ordinary)
            .map(|id| self.areas.get(id))
            .map(|area| match longest {
                Some(width) => area.left + ((area.width - width) / 2).max(Length::ZERO),
                None => area.left,
            });
        for (index, used) in of_area.iter_mut().enumerate() {
            if self.areas.shape(AreaId(index)).is_some() {
                continue;
            }
            let area = self.areas.get(AreaId(index));
            let right = area.left + area.width;
            let left = match (longest, edge) {
                (Some(_), Some(edge)) if edge < right => edge.max(area.left),
                _ => area.left,
            };
            let setting = Setting {
                left,
                measure: right - left,
                hang_left: area.hang.0 + (left - area.left),
                hang_right: area.hang.1,
            };
            if setting.measure <= Length::ZERO {
                continue;
            }
            let known = settings.iter().position(|known| *known == setting);
            *used = Some(known.unwrap_or_else(|| {
                settings.push(setting);
                settings.len() - 1
            }));
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

    /// Whether a panel of the part may have this area.
    fn has(&self, plan: &PartPlan, area: AreaId) -> bool {
        plan.on.iter().any(|&panel| self.areas.on(panel, area))
    }
}
