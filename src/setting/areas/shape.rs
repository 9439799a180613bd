//! From boxes and masks to slots on the grid of their panel.

use std::ops::Range;
use std::sync::Arc;

use super::builder::Builder;
use super::slots::{Rectangle, Shape, Slot, Slots};
use crate::art::Mask;
use crate::names::{Fault, Length, LinesRun, Location, PanelName};
use crate::plan::{AreaRequest, BoxRequest, Safety};

/// No line is narrower than this many em: about eight letters, as many as most words have.
const NARROWEST: i64 = 4;

/// A mask's width and height may differ from its panel's in proportion by this part.
const ASKEW: i64 = 100;

/// How near words may come to the four sides of a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Kept {
    /// How wide the panel is.
    panel: Length,
    left: Length,
    right: Length,
    edge: Length,
}

/// A mask, and how wide the panel is that it was drawn for. On a wider one it lies at the left.
#[derive(Clone)]
pub(super) struct PanelMask {
    mask: Arc<Mask>,
    width: Length,
}

impl Builder<'_> {
    /// The shape that is asked for on a panel; nothing where it is at fault, which is told.
    pub(super) fn shape(
        &mut self,
        panel: PanelName,
        asked: &AreaRequest,
        safety: Safety,
    ) -> Option<Arc<Shape>> {
        let edges = self.strip.folded_edges(panel);
        let keep = |folded| if folded { safety.fold } else { safety.edge };
        let kept = Kept {
            panel: self.plan.paper.width_of(panel),
            left: keep(edges.left),
            right: keep(edges.right),
            edge: safety.edge,
        };
        match asked {
            AreaRequest::Boxes(boxes) => self.shape_of_boxes(panel, boxes, &kept).map(Arc::new),
            AreaRequest::Mask { place, .. } if self.words.runs.is_down() => {
                let what = "lines that run down do not follow a mask";
                let fault = Fault::new("mask", what).at(place.clone());
                self.tell(fault.help("give boxes that the words stand in instead"));
                None
            }
            AreaRequest::Mask { file, place } => {
                // Every panel may carry every picture, and there are few kinds of panels.
                let key = (file.clone(), self.words.grid, kept);
                if let Some(known) = self.mask_shapes.get(&key) {
                    return known.clone();
                }
                let shape = self.shape_of_mask(panel, file, place, &kept).map(Arc::new);
                self.mask_shapes.insert(key, shape.clone());
                shape
            }
        }
    }

    fn shape_of_boxes(
        &mut self,
        panel: PanelName,
        boxes: &[BoxRequest],
        kept: &Kept,
    ) -> Option<Shape> {
        let faults_before = self.faults.len();
        for asked in boxes {
            self.check_box(panel, asked, kept);
        }
        let seen = boxes.iter().map(|asked| self.box_seen(asked, kept.panel));
        let rectangles: Vec<Rectangle> = seen.collect();
        let slots = Slots::of_boxes(rectangles.iter().map(|seen| self.slots_of(seen)).collect());
        let slots = slots.filter(|_| self.faults.len() == faults_before)?;
        Some(Shape { slots, rectangles })
    }

    /// A box as the lines in it have it.
    fn box_seen(&self, asked: &BoxRequest, panel_width: Length) -> Rectangle {
        let (corner, size) = ((asked.left, asked.top), (asked.width, asked.height));
        let seen = self.words.runs.rectangle_seen(corner, size, panel_width);
        let ((left, top), (width, height)) = seen;
        Rectangle {
            left,
            top,
            width,
            height,
        }
    }

    fn slots_of(&self, asked: &Rectangle) -> Vec<Slot> {
        let leading = self.words.grid.leading;
        let foot = asked.top + asked.height - self.words.keeps_off();
        let mut baseline = self.first_baseline(asked.top);
        let mut slots = Vec::new();
        while baseline <= foot {
            slots.push(Slot {
                baseline,
                left: asked.left,
                measure: asked.width,
            });
            baseline += leading;
        }
        slots
    }

    fn check_box(&mut self, panel: PanelName, asked: &BoxRequest, kept: &Kept) {
        let paper = &self.plan.paper;
        let right = paper.width_of(panel) - asked.left - asked.width;
        let foot = paper.panel_height - asked.top - asked.height;
        let edges = self.strip.folded_edges(panel);
        let sides = [
            ("left", asked.left, kept.left, edges.left),
            ("right", right, kept.right, edges.right),
            ("head", asked.top, kept.edge, false),
            ("foot", foot, kept.edge, false),
        ];
        for (side, lies, keep, folded) in sides.into_iter().filter(|side| side.1 < side.2) {
            let what = if folded { "fold" } else { "edge" };
            let fault = Fault::new(
                "safety",
                format!(
                    "a box lets words come nearer to the {what} at the {side} than {keep} on {panel}"
                ),
            )
            .help(format!(
                "it lies {lies} from there: keep it {keep} away, or waive that for this panel with [[panel]] \
                 safety = {{ {what} = \"{lies}\" }}"
            ));
            self.tell(fault.at(asked.place.clone()));
        }
        let least = self.words.size * NARROWEST;
        let seen = self.box_seen(asked, kept.panel);
        let [along, across] = match self.words.runs {
            LinesRun::Across => ["wide, too narrow", "high"],
            LinesRun::Down => ["high, too low", "wide"],
        };
        if seen.width < least {
            let what = format!("a box is {} {along} for a line", seen.width);
            let fault = Fault::new("boxes", what).at(asked.place.clone());
            self.tell(fault.allowed(format!("at least {least}, which is {NARROWEST} em")));
        }
        if self.slots_of(&seen).is_empty() {
            let what = format!(
                "no line of the grid fits in a box that is {} {across}",
                seen.height
            );
            let first = self.first_baseline(seen.top) - seen.top;
            let from = match self.words.runs {
                LinesRun::Across => "below the box's top",
                LinesRun::Down => "from the box's right edge",
            };
            let panels = match self.words.grid == self.areas.grid {
                true => "all panels",
                false => "all panels of the part",
            };
            self.tell(Fault::new("boxes", what).at(asked.place.clone()).help(format!(
                "{panels} share one grid of lines, {} apart: here the first baseline would lie {first} {from}",
                self.words.grid.leading
            )));
        }
    }

    /// Gathers a fault, unless it is known: many panels may ask for the same.
    fn tell(&mut self, fault: Fault) {
        let same = |known: &Fault| known.word == fault.word && known.place == fault.place;
        if !self.faults.iter().any(same) {
            self.faults.push(fault);
        }
    }

    fn mask(&mut self, file: &str, place: &Location) -> Option<PanelMask> {
        if let Some(known) = self.masks.get(file) {
            return known.clone();
        }
        let read = match Mask::read(self.assets, file) {
            Ok(mask) => self.rightly_shaped(file, mask, place),
            Err(fault) => {
                self.faults.push(fault.at(place.clone()));
                None
            }
        };
        self.masks.insert(file.to_string(), read.clone());
        read
    }

    /// The mask, if it is of the shape of a panel: of one of those at the ends, or of the others.
    fn rightly_shaped(&mut self, name: &str, mask: Mask, place: &Location) -> Option<PanelMask> {
        let paper = &self.plan.paper;
        let (width, height) = (i128::from(mask.width()), i128::from(mask.height()));
        let high = paper.panel_height.units();
        let is_shape = |wide: &Length| {
            let one = width * i128::from(high);
            let other = height * i128::from(wide.units());
            (one - other).abs() * i128::from(ASKEW) <= other
        };
        let widths = [paper.panel_width, paper.ends.first, paper.ends.last];
        if let Some(width) = widths.into_iter().find(is_shape) {
            let mask = Arc::new(mask);
            return Some(PanelMask { mask, width });
        }
        let wide = paper.panel_width.units().max(1);
        let fits = i128::from(high) * width / i128::from(wide);
        let what =
            format!("`{name}` is {width} × {height} pixels, which is not the shape of a panel");
        let fault = Fault::new("mask-shape", what).at(place.clone());
        self.faults.push(fault.allowed(format!(
            "a picture of the whole panel of {} × {}: {width} pixels wide, it is {fits} high",
            paper.panel_width, paper.panel_height
        )));
        None
    }

    fn shape_of_mask(
        &mut self,
        panel: PanelName,
        file: &str,
        place: &Location,
        kept: &Kept,
    ) -> Option<Shape> {
        let mask = self.mask(file, place)?;
        let lines = self.lines_of(&mask, kept);
        let boxes = lines.chunk_by(|one, next| one.0 + 1 == next.0);
        let boxes = boxes.map(|lines| lines.iter().map(|line| line.1).collect());
        let Some(slots) = Slots::of_boxes(boxes.collect()) else {
            let what = format!("`{file}` has no room for a line on {panel}");
            let least = self.words.size * NARROWEST;
            let fault = Fault::new("mask-full", what).at(place.clone());
            self.tell(fault.help(format!(
                "words may stand where it is white, at least {least} wide and a line high, as far from folds and \
                 edges as `safety` asks"
            )));
            return None;
        };
        let rectangles = self.rectangles(slots.all());
        Some(Shape { slots, rectangles })
    }

    /// The grid lines that have room in a mask, each by its number down the grid.
    fn lines_of(&self, mask: &PanelMask, kept: &Kept) -> Vec<(i64, Slot)> {
        let paper = &self.plan.paper;
        let leading = self.words.grid.leading;
        let least = self.words.size * NARROWEST;
        let first =
            (self.first_baseline(kept.edge) - self.words.grid.first).units() / leading.units();
        let across = Scale {
            pixels: mask.mask.width(),
            length: mask.width,
        };
        let down = Scale {
            pixels: mask.mask.height(),
            length: paper.panel_height,
        };
        let columns = across.within(kept.left, kept.panel - kept.right);
        let mut found = Vec::new();
        for number in first.. {
            let baseline = self.words.grid.first + leading * number;
            if baseline > paper.panel_height - kept.edge {
                break;
            }
            let strip = down.touching(
                baseline - self.words.ascender,
                baseline + self.words.descender,
            );
            let Some(run) = mask.mask.largest_run(strip, columns.clone()) else {
                continue;
            };
            let left = across.from(run.start).max(kept.left);
            let right = across.from(run.end).min(kept.panel - kept.right);
            if right - left >= least {
                let measure = right - left;
                found.push((
                    number,
                    Slot {
                        baseline,
                        left,
                        measure,
                    },
                ));
            }
        }
        found
    }

    /// What slots cover, from ascenders to descenders; neighbours that are alike as one.
    fn rectangles(&self, slots: &[Slot]) -> Vec<Rectangle> {
        let leading = self.words.grid.leading;
        let alike = slots.chunk_by(|one, next| {
            (one.left, one.measure, one.baseline + leading)
                == (next.left, next.measure, next.baseline)
        });
        let rectangle = |slots: &[Slot]| {
            let (first, last) = (slots.first()?, slots.last()?);
            let top = first.baseline - self.words.ascender;
            Some(Rectangle {
                left: first.left,
                top,
                width: first.measure,
                height: last.baseline + self.words.descender - top,
            })
        };
        alike.filter_map(rectangle).collect()
    }
}

/// Pixels along a length.
struct Scale {
    pixels: u32,
    length: Length,
}

impl Scale {
    /// Where a pixel begins, rounded to the nearest.
    fn from(&self, pixel: u32) -> Length {
        self.length
            .scaled(i64::from(pixel), i64::from(self.pixels.max(1)))
    }

    /// How many pixels lie before a length, and what of another there is: (whole, whether there is a rest).
    fn pixel(&self, at: Length) -> (i128, bool) {
        let scaled = i128::from(at.units()) * i128::from(self.pixels);
        let length = i128::from(self.length.units().max(1));
        (scaled.div_euclid(length), scaled.rem_euclid(length) > 0)
    }

    /// The pixels that lie wholly between two lengths.
    fn within(&self, from: Length, to: Length) -> Range<u32> {
        let (first, rest) = self.pixel(from);
        self.clamped(first + i128::from(rest), self.pixel(to).0)
    }

    /// The pixels that lie at least in part between two lengths. Those beyond the picture are counted too, and no
    /// picture is white there.
    fn touching(&self, from: Length, to: Length) -> Range<u32> {
        let (last, rest) = self.pixel(to);
        let (first, last) = (self.pixel(from).0, last + i128::from(rest));
        let bound = |pixel: i128| u32::try_from(pixel).unwrap_or(u32::MAX);
        if first < 0 {
            u32::MAX - 1..u32::MAX
        } else {
            bound(first)..bound(last)
        }
    }

    fn clamped(&self, from: i128, to: i128) -> Range<u32> {
        let bound =
            |pixel: i128| u32::try_from(pixel.clamp(0, i128::from(self.pixels))).unwrap_or(0);
        bound(from)..bound(to).max(bound(from))
    }
}
