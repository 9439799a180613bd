//! Checks the strip of paper.

use super::value;
use crate::book::plan_file::written::{PaperLength, PaperWritten, SafetyWritten};
use crate::names::{
    Cover, Direction, Faults, FoldKind, Length, LinesRun, Location, PanelName, PanelSet, Side,
    Sides,
};
use crate::plan::{Ends, Paper, Safety};
use crate::reading::At;

const NARROWEST: Length = Length::mm(20);
const WIDEST: Length = Length::mm(1000);
const LARGEST_BLEED: Length = Length::mm(50);

/// What is known of the strip; each piece is nothing where the plan does not soundly say it.
#[derive(Default)]
pub struct KnownStrip {
    /// The whole of it.
    pub paper: Option<Paper>,
    /// Its panels.
    pub panels: Option<PanelSet>,
    /// The panels pasted down on boards.
    pub pasted: Vec<PanelName>,
    /// The width of a panel and where the plan says so.
    pub width: Option<At<Length>>,
    /// The height of a panel and where the plan says so.
    pub height: Option<At<Length>>,
    /// How far words keep from folds and edges.
    pub safety: Option<Safety>,
    /// The widths of the panels at the ends.
    pub ends: Option<Ends>,
    /// Where the plan says so.
    pub ends_place: Option<Location>,
    /// What holds the ends.
    pub cover: Option<Cover>,
}

impl KnownStrip {
    /// The width of the narrowest panel.
    pub fn narrowest(&self) -> Option<Length> {
        let width = self.width.as_ref()?.value;
        Some(
            self.ends
                .map_or(width, |ends| width.min(ends.first).min(ends.last)),
        )
    }

    /// The width of the narrowest of some panels; of all where it is not known which there are.
    pub fn narrowest_of(&self, panels: &[PanelName]) -> Option<Length> {
        let widths = self.paper.iter().flat_map(|paper| {
            let widths = panels.iter().map(|panel| paper.width_of(*panel));
            widths.collect::<Vec<_>>()
        });
        widths.min().or_else(|| self.narrowest())
    }

    /// Tells a panel that the strip does not have, or that is pasted down. Whether it may be used.
    pub fn allows(&self, panel: PanelName, place: &Location, faults: &mut Faults) -> bool {
        let Some(panels) = self.panels else {
            return true;
        };
        if !panels.contains(panel) {
            let count = panels.per_side;
            let (why, allowed) = match (panel.side, panels.sides) {
                (Side::Back, Sides::Front) => (
                    "only the front is printed".to_string(),
                    format!("front 1 to front {count}"),
                ),
                (side, _) => (
                    format!("that side has {count} panels"),
                    format!("{0} 1 to {0} {count}", side.word()),
                ),
            };
            let what = format!("there is no `{panel}`: {why}");
            faults.push(super::fault_at("wrong-panel", what, place).allowed(allowed));
            return false;
        }
        if self.pasted.contains(&panel) {
            let what = format!("`{panel}` is pasted down on its board, so nothing can stand there");
            let free = panels.all().filter(|panel| !self.pasted.contains(panel));
            let free: Vec<_> = free.filter(|free| free.side == panel.side).collect();
            let mut fault = super::fault_at("paste-down", what, place);
            if let (Some(first), Some(last)) = (free.first(), free.last()) {
                fault = fault.allowed(format!("{first} to {last}"));
            }
            faults.push(fault);
            return false;
        }
        true
    }
}

/// Checks the paper of a book whose lines run this way.
pub fn check(written: &At<PaperWritten>, lines_run: LinesRun, faults: &mut Faults) -> KnownStrip {
    let paper = &written.value;
    let width = panel_length(&paper.panel_width, "panel-width", faults);
    let height = panel_length(&paper.panel_height, "panel-height", faults);
    let bleed = on_paper(paper.bleed());
    if let Some(at) = paper.bleed.as_ref().filter(|_| bleed > LARGEST_BLEED) {
        let what = format!("`bleed` must be at most {LARGEST_BLEED}");
        faults.push(super::fault_at("out-of-range", what, &at.place));
    }
    let usual = SafetyWritten::default();
    let usual = Safety {
        fold: on_paper(usual.fold()),
        edge: on_paper(usual.edge()),
    };
    let safety = safety_over(paper.safety.as_ref(), usual);
    let ends = width.as_ref().map(|width| ends(paper, width.value, faults));
    let panels = panels(paper);
    // How a strip is folded does not depend on its size: an unknown one stands as the narrowest.
    let size = |at: &Option<At<Length>>| at.as_ref().map_or(NARROWEST, |at| at.value);
    let folded = panels.map(|panels| Paper {
        panel_width: size(&width),
        panel_height: size(&height),
        ends: ends.unwrap_or(Ends {
            first: size(&width),
            last: size(&width),
        }),
        panels,
        cover: paper.cover(),
        first_fold: first_fold(paper),
        turned: paper.turned(),
        reads: match (&paper.reads, lines_run) {
            (None, LinesRun::Down) => Direction::RightToLeft,
            _ => paper.reads(),
        },
        bleed,
        safety,
    });
    let sized = width.is_some() && height.is_some();
    KnownStrip {
        paper: folded.filter(|_| sized),
        panels,
        pasted: folded
            .map(|folded| pasted(paper, &folded))
            .unwrap_or_default(),
        width,
        height,
        safety: Some(safety),
        ends,
        ends_place: paper.ends.as_ref().map(|at| at.place.clone()),
        cover: Some(paper.cover()).filter(|_| !is_faulty(paper, &["cover"])),
    }
}

/// The panels, where their number and the printed sides are soundly said.
fn panels(paper: &PaperWritten) -> Option<PanelSet> {
    let count = value(&paper.panels_per_side).map(|count| count.get(2));
    let count = count.filter(|_| !is_faulty(paper, &["sides"]));
    count.map(|per_side| PanelSet {
        per_side,
        sides: paper.sides(),
    })
}

/// The widths of the panels at the ends: that of all panels, unless they have their own.
fn ends(paper: &PaperWritten, width: Length, faults: &mut Faults) -> Ends {
    let asked = paper.ends.as_ref().map(|at| &at.value);
    let mut end = |at: Option<&Option<At<PaperLength>>>, key| {
        let asked = at.and_then(|at| panel_length(at, key, faults));
        asked.map_or(width, |at| at.value)
    };
    Ends {
        first: end(asked.map(|ends| &ends.first), "first"),
        last: end(asked.map(|ends| &ends.last), "last"),
    }
}

/// How the first fold goes: as the cover needs it, unless the plan says.
fn first_fold(paper: &PaperWritten) -> FoldKind {
    value(&paper.first_fold).unwrap_or(match paper.cover() {
        Cover::Boards => FoldKind::Valley,
        Cover::SelfCover | Cover::Wrapper => FoldKind::Mountain,
    })
}

/// The panels that are pasted down on boards, where that is soundly said.
fn pasted(paper: &PaperWritten, folded: &Paper) -> Vec<PanelName> {
    let known = !is_faulty(paper, &["cover", "first_fold", "turned"]);
    match folded.cover {
        Cover::Boards if known => folded.outside_faces(),
        Cover::Boards | Cover::SelfCover | Cover::Wrapper => Vec::new(),
    }
}

/// The safety asked for, with `usual` where nothing is asked.
pub fn safety_over(asked: Option<&At<SafetyWritten>>, usual: Safety) -> Safety {
    let asked = asked.map(|at| &at.value);
    Safety {
        fold: asked
            .and_then(|safety| absolute(&safety.fold))
            .unwrap_or(usual.fold),
        edge: asked
            .and_then(|safety| absolute(&safety.edge))
            .unwrap_or(usual.edge),
    }
}

fn is_faulty(paper: &PaperWritten, keys: &[&'static str]) -> bool {
    keys.iter().any(|key| paper.faulty.contains(key))
}

/// A length on paper, which never has a unit that needs type.
pub fn on_paper(length: PaperLength) -> Length {
    length.resolve(Length::ZERO, Length::ZERO)
}

pub fn absolute(at: &Option<At<PaperLength>>) -> Option<Length> {
    at.as_ref().map(|at| on_paper(at.value))
}

/// A panel's width or height, told where it is out of bounds.
fn panel_length(
    at: &Option<At<PaperLength>>,
    key: &str,
    faults: &mut Faults,
) -> Option<At<Length>> {
    let length = absolute(at)?;
    let place = &at.as_ref()?.place;
    if !(NARROWEST..=WIDEST).contains(&length) {
        let what = format!("`{key}` must be from {NARROWEST} to {WIDEST}");
        faults.push(super::fault_at("out-of-range", what, place));
        return None;
    }
    Some(At {
        value: length,
        place: place.clone(),
    })
}
