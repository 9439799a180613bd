//! The scans of a book's pictures, and where their grounds meet.

use rayon::prelude::*;

use super::super::Workbench;
use super::CutBook;
use crate::art::{Art, Edge, Fit, fit};
use crate::assets::Assets;
use crate::layout::{LaidPanel, Layout};
use crate::names::{Fault, Faults, Length, PanelName};
use crate::outputs::{Scan, Scans};
use crate::plan::{PicturePlan, Plan};

/// Two grounds that stop at one fold, side by side.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct GroundsMeet {
    /// The panels.
    pub panels: (PanelName, PanelName),
    /// Their pictures.
    pub pictures: (String, String),
}

/// A picture file and what was put right of it.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct ScanNote {
    /// Its picture.
    pub picture: String,
    /// What was.
    pub note: String,
}

impl Workbench {
    /// Reads the scans that the plan names for pictures of the layout, on all cores: each by itself, so that nothing
    /// depends on their order.
    ///
    /// # Errors
    /// Every file that is missing, damaged, too large, no picture, or of another shape than its panels.
    pub fn scans(&self, plan: &Plan, layout: &Layout) -> Result<(Scans, Vec<ScanNote>), Faults> {
        let read = plan.pictures.par_iter();
        let read: Vec<_> = read
            .map(|planned| scan(&self.assets, planned, layout))
            .collect();
        let (mut scans, mut notes, mut faults) = (Scans::new(), Vec::new(), Faults::new());
        for (planned, read) in plan.pictures.iter().zip(read) {
            match read {
                Ok(None) => {}
                Ok(Some((scan, said))) => {
                    let picture = planned.name.clone();
                    notes.extend(said.into_iter().map(|note| ScanNote {
                        picture: picture.clone(),
                        note,
                    }));
                    scans.insert(picture, scan);
                }
                Err(fault) => faults.push(fault),
            }
        }
        match faults.is_empty() {
            true => Ok((scans, notes)),
            false => Err(faults),
        }
    }
}

/// The scan of a picture and what is to be said of it; nothing where the plan names none, or where the picture stands
/// nowhere.
fn scan(
    assets: &Assets,
    planned: &PicturePlan,
    layout: &Layout,
) -> Result<Option<(Scan, Vec<String>)>, Fault> {
    let on = |panel: &&LaidPanel| panel.picture.as_ref() == Some(&planned.name);
    let panel = layout.panels.iter().find(on);
    let Some((asked, panel)) = planned.art.as_ref().zip(panel) else {
        return Ok(None);
    };
    let there = |fault: Fault| fault.at(asked.place.clone());
    let name = &asked.file;
    let art = Art::read(assets, name).map_err(there)?;
    let widths = panel.picture_panels.iter();
    let width: Length = widths.map(|&panel| layout.strip.width_of(panel)).sum();
    let paper = layout.strip.paper();
    let size = (width, paper.panel_height);
    let fit = fit(&art, name, size, paper.bleed).map_err(there)?;
    if fit == Fit::Trimmed && planned.runs_over > Length::ZERO {
        let what = format!(
            "`{name}` is as large as its place when that is trimmed: it has nothing that could run over a fold"
        );
        let help = "give it its bleed on all sides, or leave `runs-over` out";
        return Err(there(Fault::new("runs-over", what).help(help)));
    }
    let mut notes = Vec::new();
    if fit == Fit::Trimmed && paper.bleed > Length::ZERO {
        let note = "no bleed, so that a cut that is off by a little shows white at head or foot";
        notes.push(note.to_string());
    }
    if fit == Fit::WithBleed && either_way(size, paper.bleed) {
        let note = "taken to have its bleed around it, for the place has the same shape with it and without";
        notes.push(note.to_string());
    }
    notes.extend(art.notes().iter().map(ToString::to_string));
    let scan = Scan {
        art,
        fit,
        runs_over: planned.runs_over,
    };
    Ok(Some((scan, notes)))
}

/// Whether a place has the same shape with its bleed as without, within a hundredth.
fn either_way((width, height): (Length, Length), bleed: Length) -> bool {
    let shape = |more: Length| (width + more).units() as f64 / (height + more).units() as f64;
    let (trimmed, full) = (shape(Length::ZERO), shape(bleed * 2));
    bleed > Length::ZERO && (trimmed / full - 1.0).abs() < 0.01
}

/// Folds where a ground stops beside another ground: there is no bleed at a fold. Where the plan says that a motif crosses
/// there, or that one of them runs over, nothing is to be told.
pub fn grounds_meet(book: &CutBook, scans: &Scans) -> Vec<GroundsMeet> {
    let layout = &book.layout;
    let strip = &layout.strip;
    let height = strip.paper().panel_height;
    let mut found = Vec::new();
    for pair in layout.panels.windows(2) {
        let (one, other) = (&pair[0], &pair[1]);
        let (Some(first), Some(second)) = (&one.picture, &other.picture) else {
            continue;
        };
        let crosses = book.plan.crossovers.iter().any(|crossover| {
            let ends = [crossover.from, crossover.to];
            ends.contains(&one.panel) && ends.contains(&other.panel)
        });
        if one.panel.side != other.panel.side || first == second || crosses {
            continue;
        }
        let (Some(a), Some(b)) = (scans.get(first), scans.get(second)) else {
            continue;
        };
        if a.runs_over > Length::ZERO || b.runs_over > Length::ZERO {
            continue;
        }
        let later_at_right = strip.left_of(one.panel) < strip.left_of(other.panel);
        let edges = match later_at_right {
            true => (Edge::Right, Edge::Left),
            false => (Edge::Left, Edge::Right),
        };
        let width = |panel: &LaidPanel| {
            let widths = panel.picture_panels.iter();
            widths.map(|&panel| strip.width_of(panel)).sum::<Length>()
        };
        let bleed = strip.paper().bleed;
        let ground = |scan: &Scan, edge, panel| {
            let within = match scan.fit {
                Fit::WithBleed => bleed,
                Fit::Trimmed => Length::ZERO,
            };
            let size = (width(panel) + within * 2, height + within * 2);
            scan.art.edge(edge, size, within).is_ground()
        };
        if ground(a, edges.0, one) && ground(b, edges.1, other) {
            found.push(GroundsMeet {
                panels: (one.panel, other.panel),
                pictures: (first.clone(), second.clone()),
            });
        }
    }
    found
}
