//! From the plan to the areas of panels.

use std::collections::HashMap;
use std::sync::Arc;

use super::{Area, AreaId, Areas, Grid, Shape, shape};
use crate::assets::Assets;
use crate::names::{Fault, Faults, Length, LinesRun, Location, PanelName, Role};
use crate::paper::Strip;
use crate::plan::{AreaRequest, Margins, Plan, Safety, TextStyle};
use crate::typeface::{BELOW, Emphasis, Typeface};

/// What is the same for the words of panels that share a grid and margins.
#[derive(Clone)]
pub(super) struct WordsOnPanels {
    /// Which way their lines run.
    pub(super) runs: LinesRun,
    pub(super) size: Length,
    /// How far a line reaches above its baseline, and below: the letters of the main face, or the squares of signs.
    pub(super) ascender: Length,
    pub(super) descender: Length,
    pub(super) grid: Grid,
    /// The margins of a panel that says nothing of its own.
    pub(super) margins: Margins,
    /// Where a part asks for them.
    pub(super) margins_place: Option<Location>,
}

impl WordsOnPanels {
    /// Words in a style, on a grid of their own.
    pub(super) fn of(style: &TextStyle, typeface: &Typeface) -> WordsOnPanels {
        let face = typeface.main.face(Emphasis::Plain);
        let below = style.size * BELOW / 100;
        let (ascender, descender, margin) = match style.lines_run {
            LinesRun::Across => (
                face.scale(face.metrics().ascender_d, style.size),
                face.scale(-face.metrics().descender, style.size),
                style.margins.head,
            ),
            LinesRun::Down => (style.size - below, below, style.margins.right),
        };
        WordsOnPanels {
            runs: style.lines_run,
            size: style.size,
            ascender,
            descender,
            grid: Grid {
                first: margin + ascender,
                leading: style.leading,
            },
            margins: style.margins,
            margins_place: None,
        }
    }

    /// How far the last line keeps its baseline from the foot of an area. The last baseline of lines across may stand on
    /// it; squares lie within theirs.
    pub(super) fn keeps_off(&self) -> Length {
        match self.runs {
            LinesRun::Across => Length::ZERO,
            LinesRun::Down => self.descender,
        }
    }
}

/// Gathers the areas of panels, and what is wrong with them.
pub(super) struct Builder<'a> {
    pub(super) plan: &'a Plan,
    pub(super) strip: &'a Strip,
    /// The words of the panels that are added now.
    pub(super) words: WordsOnPanels,
    /// What has the masks.
    pub(super) assets: &'a Assets,
    /// The masks that were looked for; nothing where one cannot be read, which is told.
    pub(super) masks: HashMap<String, Option<shape::PanelMask>>,
    /// The shapes of masks, by the grid and by how near words may come to the sides.
    pub(super) mask_shapes: HashMap<(String, Grid, shape::Kept), Option<Arc<Shape>>>,
    pub(super) areas: Areas,
    pub(super) faults: Faults,
}

impl Builder<'_> {
    pub(super) fn add_panel(&mut self, panel: PanelName, style: &TextStyle) {
        let pin = self.plan.pin(panel);
        let pinned = pin.and_then(|pin| pin.vertical);
        self.areas
            .vertical
            .insert(panel, pinned.unwrap_or(style.vertical));
        self.areas.lines_run.insert(panel, style.lines_run);
        // A panel of a picture alone may carry its caption.
        let closed = |role: Role| !role.has_words() && role != Role::Picture;
        if pin.and_then(|pin| pin.role).is_some_and(closed) {
            return;
        }
        let inner = self.strip.inner_edge(panel);
        let usual = self.words.margins.on(inner);
        let own = pin.map_or(usual, |pin| pin.margins.over(usual, inner));
        let place = pin.and_then(|pin| pin.margins.place.clone());
        let place = place.or_else(|| self.words.margins_place.clone());
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
                    self.faults.push(self.no_room(&area, place));
                }
                (area, None)
            }
        };
        let grid = self.words.grid;
        let known = self.areas.all.iter().zip(&self.areas.shapes);
        let mut known = known.zip(&self.areas.grids).enumerate();
        let known = known.find(|(_, known)| *known == ((&area, &shape), &grid));
        let id = AreaId(match known {
            Some((known, _)) => known,
            None => {
                self.areas.all.push(area);
                self.areas.shapes.push(shape);
                self.areas.grids.push(grid);
                self.areas.all.len() - 1
            }
        });
        self.areas.by_panel.insert((panel, picture), id);
    }

    fn area(&self, panel: PanelName, margins: Margins, safety: Safety) -> Area {
        let paper = &self.plan.paper;
        let leading = self.words.grid.leading;
        let page = (paper.width_of(panel), paper.panel_height);
        let within = (
            page.0 - margins.left - margins.right,
            page.1 - margins.head - margins.foot,
        );
        let runs = self.words.runs;
        let seen = runs.rectangle_seen((margins.left, margins.head), within, page.0);
        let ((left, top), (width, height)) = seen;
        let first_baseline = self.first_baseline(top);
        let depth = (top + height - self.words.keeps_off() - first_baseline).units();
        let capacity = if depth < 0 {
            0
        } else {
            depth / leading.units() + 1
        };
        let edges = self.strip.folded_edges(panel);
        let keep = |folded| if folded { safety.fold } else { safety.edge };
        let hang = match runs {
            LinesRun::Across => (
                margins.left - keep(edges.left),
                margins.right - keep(edges.right),
            ),
            LinesRun::Down => (margins.head - safety.edge, margins.foot - safety.edge),
        };
        Area {
            left,
            top,
            width,
            height,
            first_baseline,
            capacity: u32::try_from(capacity).unwrap_or(u32::MAX),
            hang: (hang.0.max(Length::ZERO), hang.1.max(Length::ZERO)),
        }
    }

    /// The first grid line below a head that leaves room for ascenders; above the grid's own first line too, where a
    /// panel has a smaller head margin.
    pub(super) fn first_baseline(&self, head: Length) -> Length {
        let Grid { first, leading } = self.words.grid;
        let steps = (head + self.words.ascender - first).units();
        let lines_down = -(-steps).div_euclid(leading.units());
        first + leading * lines_down
    }

    fn no_room(&self, area: &Area, place: Option<Location>) -> Fault {
        let (width, height) = self.words.runs.seen((area.width, area.height));
        let side = match self.words.runs {
            LinesRun::Across => "height",
            LinesRun::Down => "width",
        };
        let what =
            format!("the margins leave {width} by {height} for words, too little for one line");
        let fault = Fault::new("margins", what).help(format!(
            "a line needs {} in {side}; make the margins smaller",
            self.words.grid.leading
        ));
        match place {
            Some(place) => fault.at(place),
            None => fault,
        }
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
