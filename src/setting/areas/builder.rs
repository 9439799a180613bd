//! From the plan to the areas of panels.

use std::collections::HashMap;
use std::sync::Arc;

use super::{Area, AreaId, Areas, Shape, shape};
use crate::assets::Assets;
use crate::names::{Fault, Faults, Length, Location, PanelName, Role, Vertical};
use crate::paper::Strip;
use crate::plan::{AreaRequest, Margins, Plan, Safety};

/// Gathers the areas of panels, and what is wrong with them.
pub(super) struct Builder<'a> {
    pub(super) plan: &'a Plan,
    pub(super) strip: &'a Strip,
    pub(super) ascender: Length,
    pub(super) descender: Length,
    /// The grid's first baseline on every panel.
    pub(super) grid: Length,
    /// What has the masks.
    pub(super) assets: &'a Assets,
    /// The masks that were looked for; nothing where one cannot be read, which is told.
    pub(super) masks: HashMap<String, Option<shape::PanelMask>>,
    /// The shapes of masks, by how near words may come to the sides.
    pub(super) mask_shapes: HashMap<(String, shape::Kept), Option<Arc<Shape>>>,
    pub(super) areas: Areas,
    pub(super) faults: Faults,
}

impl Builder<'_> {
    pub(super) fn add_panel(&mut self, panel: PanelName, vertical: Vertical) {
        let pin = self.plan.pin(panel);
        let pinned = pin.and_then(|pin| pin.vertical);
        self.areas
            .vertical
            .insert(panel, pinned.unwrap_or(vertical));
        // A panel of a picture alone may carry its caption.
        let closed = |role: Role| !role.has_words() && role != Role::Picture;
        if pin.and_then(|pin| pin.role).is_some_and(closed) {
            return;
        }
        let inner = self.strip.inner_edge(panel);
        let usual = self.plan.text.margins.on(inner);
        let (own, place) = match pin {
            Some(pin) => (pin.margins.over(usual, inner), pin.margins.place.clone()),
            None => (usual, None),
        };
        let pinned = pin.and_then(|pin| pin.shape.as_ref());
        self.add(panel, None, own, pinned, place);
        for picture in &self.plan.pictures {
            if picture.leaves.place.is_none() {
                continue;
            }
            let left = picture.leaves.over(usual, inner);
            let margins = pin.map_or(left, |pin| pin.margins.over(left, inner));
            self.add(
                panel,
                Some(picture.name.clone()),
                margins,
                pinned.or(picture.shape.as_ref()),
                picture.leaves.place.clone(),
            );
        }
    }

    fn add(
        &mut self,
        panel: PanelName,
        picture: Option<String>,
        margins: Margins,
        shape: Option<&AreaRequest>,
        place: Option<Location>,
    ) {
        let safety = self.plan.pin(panel).and_then(|pin| pin.safety);
        let safety = safety.unwrap_or(self.plan.paper.safety);
        let (area, shape) = match shape {
            Some(asked) => {
                let Some(shape) = self.shape(panel, asked, safety) else {
                    return;
                };
                (shape.area(), Some(shape))
            }
            None => {
                self.check_safety(panel, margins, safety, place.as_ref());
                let area = self.area(panel, margins, safety);
                if area.capacity == 0 || area.width <= Length::ZERO {
                    self.faults
                        .push(no_room(&area, self.plan.text.leading, place));
                }
                (area, None)
            }
        };
        let known = self.areas.all.iter().zip(&self.areas.shapes);
        let known = known
            .enumerate()
            .find(|(_, known)| *known == (&area, &shape));
        let id = AreaId(match known {
            Some((known, _)) => known,
            None => {
                self.areas.all.push(area);
                self.areas.shapes.push(shape);
                self.areas.all.len() - 1
            }
        });
        self.areas.by_panel.insert((panel, picture), id);
    }

    fn area(&self, panel: PanelName, margins: Margins, safety: Safety) -> Area {
        let paper = &self.plan.paper;
        let leading = self.plan.text.leading;
        let first_baseline = self.first_baseline(margins.head);
        let depth = (paper.panel_height - margins.foot - first_baseline).units();
        let capacity = if depth < 0 {
            0
        } else {
            depth / leading.units() + 1
        };
        let edges = self.strip.folded_edges(panel);
        let keep = |folded| if folded { safety.fold } else { safety.edge };
        Area {
            left: margins.left,
            top: margins.head,
            width: paper.width_of(panel) - margins.left - margins.right,
            height: paper.panel_height - margins.head - margins.foot,
            first_baseline,
            capacity: u32::try_from(capacity).unwrap_or(u32::MAX),
            hang: (
                (margins.left - keep(edges.left)).max(Length::ZERO),
                (margins.right - keep(edges.right)).max(Length::ZERO),
            ),
        }
    }

    /// The first grid line below a head that leaves room for ascenders; above the grid's own first line too, where a
    /// panel has a smaller head margin.
    pub(super) fn first_baseline(&self, head: Length) -> Length {
        let leading = self.plan.text.leading;
        let steps = (head + self.ascender - self.grid).units();
        let lines_down = -(-steps).div_euclid(leading.units());
        self.grid + leading * lines_down
    }

    fn check_safety(
        &mut self,
        panel: PanelName,
        margins: Margins,
        safety: Safety,
        place: Option<&Location>,
    ) {
        let edges = self.strip.folded_edges(panel);
        let sides = [
            ("head", margins.head, false),
            ("foot", margins.foot, false),
            ("left", margins.left, edges.left),
            ("right", margins.right, edges.right),
        ];
        for (name, margin, folded) in sides {
            let (keep, what) = if folded {
                (safety.fold, "fold")
            } else {
                (safety.edge, "edge")
            };
            if margin < keep {
                let fault = Fault::new(
                    "safety",
                    format!(
                        "the {name} margin of {margin} lets words come nearer to the {what} than \
                         {keep} on {panel}"
                    ),
                )
                .help(format!(
                    "make the margin at least {keep}, or waive it for this panel with [[panel]] \
                     safety = {{ {what} = \"{margin}\" }}"
                ));
                let same = |known: &Fault| known.word == "safety" && known.place.as_ref() == place;
                if !self.faults.iter().any(same) {
                    self.faults.push(match place {
                        Some(place) => fault.at(place.clone()),
                        None => fault,
                    });
                }
            }
        }
    }
}

fn no_room(area: &Area, leading: Length, place: Option<Location>) -> Fault {
    let fault = Fault::new(
        "margins",
        format!(
            "the margins leave {} by {} for words, too little for one line",
            area.width, area.height
        ),
    )
    .help(format!(
        "a line needs {leading} in height; make the margins smaller"
    ));
    match place {
        Some(place) => fault.at(place),
        None => fault,
    }
}
