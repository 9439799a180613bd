//! Text areas: what margins leave of a panel and how many grid lines fit, and shapes that words follow line by line.

mod builder;
mod shape;
mod slots;

use std::collections::{BTreeSet, HashMap};
use std::sync::Arc;

use super::agree::PartPair;
use super::{Column, Setting};
use crate::names::{Faults, HalfLines, Length, LinesRun, PanelName, Role, Vertical};
use crate::paper::Strip;
use crate::plan::Plan;
use crate::typeface::FontLibrary;

use builder::{Builder, WordsOnPanels};
pub use slots::{Rectangle, Shape, Slot, Slots};

/// Names a text area.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct AreaId(pub usize);

/// Lines evenly apart that baselines stand on: the same on every panel of the book, but for parts whose leading is not the
/// plan's, or whose lines run another way, which have a grid each. Of lines that run down they are counted from the
/// panel's right edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Grid {
    /// The first baseline below the head margin of the plan, or of the part whose grid it is, from the panel's top edge.
    pub first: Length,
    /// How far the baselines are apart.
    pub leading: Length,
}

/// A text area of a panel, measured from the panel's top-left corner; of one that is shaped, what its slots lie in. Where
/// lines run down it is measured as lines have it ([`LinesRun`]): its left edge is its head, and its top its right edge.
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
    /// By area: the grid that its baselines stand on.
    grids: Vec<Grid>,
    /// By panel and the picture it shares, if any.
    by_panel: HashMap<(PanelName, Option<String>), AreaId>,
    vertical: HashMap<PanelName, Vertical>,
    lines_run: HashMap<PanelName, LinesRun>,
    /// The plan's own grid.
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
    /// Every typeface that cannot be used; every margin or box that leaves no room for a line, or lets words come too near
    /// a fold or an edge; every mask that cannot be read, is of another shape than its panel, or has no room.
    pub(super) fn new(
        plan: &Plan,
        strip: &Strip,
        pairs: &[PartPair],
        fonts: &FontLibrary,
    ) -> Result<Areas, Faults> {
        let usual = WordsOnPanels::of(&plan.text, &fonts.typeface(&plan.text)?);
        let grid = usual.grid;
        let mut builder = Builder {
            plan,
            strip,
            words: usual.clone(),
            assets: fonts.assets(),
            masks: HashMap::new(),
            mask_shapes: HashMap::new(),
            areas: Areas {
                all: Vec::new(),
                shapes: Vec::new(),
                grids: Vec::new(),
                by_panel: HashMap::new(),
                vertical: HashMap::new(),
                lines_run: HashMap::new(),
                grid,
                panel_width: plan.paper.panel_width,
            },
            faults: Faults::new(),
        };
        for pair in pairs {
            let part = &plan.parts[pair.plan];
            let own = match plan.has_own_grid(part) {
                true => WordsOnPanels::of(&part.text, &fonts.typeface(&part.text)?),
                false => usual.clone(),
            };
            builder.words = WordsOnPanels {
                margins: part.text.margins,
                margins_place: part.margins_place.clone(),
                ..own
            };
            for &panel in &part.on {
                builder.add_panel(panel, &part.text);
            }
        }
        builder.words = usual;
        // A title panel that no part has carries the plan's title.
        let titles = plan.panels.iter();
        let titles = titles.filter(|pin| pin.role == Some(Role::Title));
        for pin in titles.filter(|pin| plan.part_on(pin.panel).is_none()) {
            builder.add_panel(pin.panel, &plan.text);
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
            None => self.get(id).first_baseline + depth.at(self.grid_of(id).leading),
        }
    }

    /// The areas of some panels, whatever pictures they share.
    pub(super) fn on(&self, panels: &[PanelName]) -> BTreeSet<AreaId> {
        let here = self
            .by_panel
            .iter()
            .filter(|(key, _)| panels.contains(&key.0));
        here.map(|(_, id)| *id).collect()
    }

    /// How many areas there are.
    pub fn len(&self) -> usize {
        self.all.len()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.all.is_empty()
    }

    /// Where words stand in the areas of a panel.
    pub fn vertical(&self, panel: PanelName) -> Vertical {
        self.vertical.get(&panel).copied().unwrap_or(Vertical::Head)
    }

    /// Which way lines run on a panel.
    pub fn lines_run(&self, panel: PanelName) -> LinesRun {
        self.lines_run.get(&panel).copied().unwrap_or_default()
    }

    /// The grid that the baselines of an area stand on.
    pub fn grid_of(&self, id: AreaId) -> Grid {
        self.grids[id.0]
    }

    /// The grid that the baselines of some panels stand on, of which the first with words tells.
    pub fn grid_on(&self, panels: &[PanelName]) -> Grid {
        let first = panels.iter().find_map(|panel| self.of(*panel, None));
        first.map_or(self.grid, |id| self.grid_of(id))
    }

    /// The plan's own grid.
    pub fn grid(&self) -> Grid {
        self.grid
    }
}
