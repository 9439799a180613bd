//! Text areas: what margins leave of a panel and how many grid lines fit, and shapes that words follow line by line.

mod builder;
mod shape;
mod slots;

use std::collections::HashMap;
use std::sync::Arc;

use super::agree::PartPair;
use super::{Column, Setting};
use crate::assets::Assets;
use crate::names::{Faults, HalfLines, Length, PanelName, Role, Vertical};
use crate::paper::Strip;
use crate::plan::Plan;
use crate::typeface::{Emphasis, Typeface};

use builder::Builder;
pub use slots::{Rectangle, Shape, Slot, Slots};

/// Names a text area.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct AreaId(pub usize);

/// Lines evenly apart that baselines stand on, the same on every panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Grid {
    /// The first baseline below the plan's own head margin, from the panel's top edge.
    pub first: Length,
    /// How far the baselines are apart.
    pub leading: Length,
}

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
    grid: Grid,
    panel_width: Length,
}

impl Area {
    /// How far down its lines reach at most.
    pub fn depth(&self) -> HalfLines {
        HalfLines::lines(self.capacity as usize)
    }

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
        pairs: &[PartPair],
        assets: &Assets,
    ) -> Result<Areas, Faults> {
        let face = main.main.face(Emphasis::Plain);
        let ascender = face.scale(face.metrics().ascender_d, plan.text.size);
        let grid = Grid {
            first: plan.text.margins.head + ascender,
            leading: plan.text.leading,
        };
        let mut builder = Builder {
            plan,
            strip,
            ascender,
            descender: face.scale(-face.metrics().descender, plan.text.size),
            grid: grid.first,
            assets,
            masks: HashMap::new(),
            mask_shapes: HashMap::new(),
            areas: Areas {
                all: Vec::new(),
                shapes: Vec::new(),
                by_panel: HashMap::new(),
                vertical: HashMap::new(),
                grid,
                panel_width: plan.paper.panel_width,
            },
            faults: Faults::new(),
        };
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

    /// The column that an area is by itself: nothing hangs outside.
    pub fn column(&self, id: AreaId) -> Column {
        let area = self.get(id);
        match self.shape(id) {
            Some(shape) => Column::Shaped(shape.slots.clone()),
            None => Column::Plain(Setting::bare(area.left, area.width)),
        }
    }

    /// The baseline that lies so far below the first of an area, from the panel's top edge. In a shaped one it is that of
    /// the slot there.
    pub fn baseline(&self, id: AreaId, depth: HalfLines) -> Length {
        match self.shape(id) {
            Some(shape) => shape.slots.get(depth.whole_lines()).baseline,
            None => self.get(id).first_baseline + depth.at(self.grid.leading),
        }
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
        self.grid.leading
    }

    /// The grid that the baselines of all panels stand on.
    pub fn grid(&self) -> Grid {
        self.grid
    }
}
