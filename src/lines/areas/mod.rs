//! Text areas: what margins leave of a panel and how many grid lines fit, and shapes that words follow line by line.

mod shape;
mod slots;

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::agree::Pair;
use crate::art::Mask;
use crate::fault::{Fault, Faults, Place};
use crate::plan::{Margins, PanelName, Plan, Role, Safety, ShapeAsked, Vertical};
use crate::strip::Strip;
use crate::typeface::{Stress, Typeface};
use crate::units::Length;

pub use slots::{Rectangle, Shape, Slot, Slots, slot_below};

/// Names a text area.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct AreaId(pub usize);

/// A text area of a panel, measured from the panel's top-left corner; of one that is shaped, what its slots lie in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Area {
    /// Left edge.
    pub left: Length,
    /// Top edge.
    pub top: Length,
    /// Its width: the measure.
    pub width: Length,
    /// Its height.
    pub height: Length,
    /// The first baseline of the grid that leaves room for a line's ascenders.
    pub first_baseline: Length,
    /// How many grid lines fit.
    pub capacity: u32,
    /// How far marks may hang out to the left and to the right.
    pub hang: (Length, Length),
}

/// The text areas of every panel that may hold words.
#[derive(Clone, Debug)]
pub struct Areas {
    all: Vec<Area>,
    /// By area: the shape that its words follow, if they follow one.
    shapes: Vec<Option<Arc<Shape>>>,
    /// By panel and the picture it shares, if any.
    by_panel: HashMap<(PanelName, Option<String>), AreaId>,
    vertical: HashMap<PanelName, Vertical>,
    leading: Length,
    panel_width: Length,
}

impl Area {
    /// The area as it stands on a panel of that width seen in a mirror.
    fn mirrored(self, panel_width: Length) -> Area {
        Area {
            left: panel_width - self.left - self.width,
            hang: (self.hang.1, self.hang.0),
            ..self
        }
    }
}

impl Areas {
    /// The areas that a plan gives.
    ///
    /// # Errors
    /// Every margin or box that leaves no room for a line, or lets words come too near a fold or an edge; every mask
    /// that cannot be read, is of another shape than its panel, or has no room.
    pub(super) fn new(
        plan: &Plan,
        strip: &Strip,
        main: &Typeface,
        pairs: &[Pair],
        folder: &Path,
    ) -> Result<Areas, Faults> {
        let face = main.main.face(Stress::Plain);
        let mut builder = Builder {
            plan,
            strip,
            ascender: face.scale(face.metrics().ascender_d, plan.text.size),
            descender: face.scale(-face.metrics().descender, plan.text.size),
            grid: Length::ZERO,
            folder,
            masks: HashMap::new(),
            mask_shapes: HashMap::new(),
            areas: Areas {
                all: Vec::new(),
                shapes: Vec::new(),
                by_panel: HashMap::new(),
                vertical: HashMap::new(),
                leading: plan.text.leading,
                panel_width: plan.paper.panel_width,
            },
            faults: Vec::new(),
        };
        builder.grid = plan.text.margins.head + builder.ascender;
        for pair in pairs {
            for &panel in &plan.parts[pair.plan].on {
                builder.add_panel(panel, plan.parts[pair.plan].text.vertical);
            }
        }
        // A title panel that no part has carries the plan's title.
        for pin in plan
            .panels
            .iter()
            .filter(|pin| pin.role == Some(Role::Title))
        {
            builder.add_panel(pin.panel, plan.text.vertical);
        }
        builder.faults.dedup();
        if builder.faults.is_empty() {
            Ok(builder.areas)
        } else {
            Err(builder.faults)
        }
    }

    /// The area of words on a panel that shares `picture`, or has none.
    pub fn of(&self, panel: PanelName, picture: Option<&str>) -> Option<AreaId> {
        let shared = self.by_panel.get(&(panel, picture.map(str::to_string)));
        shared
            .or_else(|| self.by_panel.get(&(panel, None)))
            .copied()
    }

    /// The areas on panels seen in a mirror, by the same names.
    pub(super) fn mirrored(&self) -> Areas {
        let all = self.all.iter();
        Areas {
            all: all.map(|area| area.mirrored(self.panel_width)).collect(),
            shapes: self
                .shapes
                .iter()
                .map(|shape| Some(Arc::new(shape.as_ref()?.mirrored(self.panel_width))))
                .collect(),
            ..self.clone()
        }
    }

    /// Where something of that width stands on a panel seen in a mirror, by its left edge.
    pub(super) fn mirror(&self, left: Length, width: Length) -> Length {
        self.panel_width - left - width
    }

    /// An area by its name.
    pub fn get(&self, id: AreaId) -> &Area {
        &self.all[id.0]
    }

    /// The shape that words of an area follow, if they follow one.
    pub fn shape(&self, id: AreaId) -> Option<&Arc<Shape>> {
        self.shapes[id.0].as_ref()
    }

    /// Whether words may stand in an area on a panel.
    pub(super) fn on(&self, panel: PanelName, area: AreaId) -> bool {
        let here =
            |(key, id): (&(PanelName, Option<String>), &AreaId)| key.0 == panel && *id == area;
        self.by_panel.iter().any(here)
    }

    /// How many areas there are.
    pub fn len(&self) -> usize {
        self.all.len()
    }

    /// The width of the narrowest.
    pub fn narrowest(&self) -> Length {
        let widths = self.all.iter().map(|area| area.width);
        widths.min().unwrap_or_default()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.all.is_empty()
    }

    /// Where words stand in the areas of a panel.
    pub fn vertical(&self, panel: PanelName) -> Vertical {
        self.vertical.get(&panel).copied().unwrap_or(Vertical::Head)
    }

    /// The distance of the grid's baselines.
    pub fn leading(&self) -> Length {
        self.leading
    }
}

struct Builder<'a> {
    plan: &'a Plan,
    strip: &'a Strip,
    ascender: Length,
    descender: Length,
    /// The grid's first baseline on every panel.
    grid: Length,
    /// The book's folder.
    folder: &'a Path,
    /// The masks that were looked for; nothing where one cannot be read, which is told.
    masks: HashMap<PathBuf, Option<Arc<Mask>>>,
    /// The shapes of masks, by how near words may come to the sides.
    mask_shapes: HashMap<(PathBuf, shape::Kept), Option<Arc<Shape>>>,
    areas: Areas,
    faults: Faults,
}

impl Builder<'_> {
    fn add_panel(&mut self, panel: PanelName, vertical: Vertical) {
        let pin = self.plan.pin(panel);
        let pinned = pin.and_then(|pin| pin.vertical);
        self.areas
            .vertical
            .insert(panel, pinned.unwrap_or(vertical));
        if pin
            .and_then(|pin| pin.role)
            .is_some_and(|role| !role.has_words())
        {
            return;
        }
        let (own, place) = match pin {
            Some(pin) => (
                pin.margins.over(self.plan.text.margins),
                pin.margins.place.clone(),
            ),
            None => (self.plan.text.margins, None),
        };
        let pinned = pin.and_then(|pin| pin.shape.as_ref());
        self.add(panel, None, own, pinned, place);
        for picture in &self.plan.pictures {
            if picture.leaves.place.is_none() {
                continue;
            }
            let left = picture.leaves.over(self.plan.text.margins);
            let margins = pin.map_or(left, |pin| pin.margins.over(left));
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
        shape: Option<&ShapeAsked>,
        place: Option<Place>,
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
            width: paper.panel_width - margins.left - margins.right,
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
    fn first_baseline(&self, head: Length) -> Length {
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
        place: Option<&Place>,
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

fn no_room(area: &Area, leading: Length, place: Option<Place>) -> Fault {
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
