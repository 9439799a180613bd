//! Proof of every run: a layout holds every word of the manuscript once, in order, whole and shown, in its place.
//!
//! These are the promises F1 to F4 and F6 of the crate root, each in a file of its own; F5 is proved on the written
//! files ([`crate::readback::proof`]). What is asked here is asked of the layout and the manuscript alone, in one pass over
//! the glyphs.

mod added;
mod glyphs;
mod order;
mod places;
mod spaces;

use std::collections::HashMap;
use std::error::Error;
use std::fmt;

use super::{LaidLine, LaidPanel, LaidPart, Layout, RememberedPanels};
use crate::names::PanelName;
use crate::text::{Manuscript, Part};

/// What is promised of every run. The crate root says each in full.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Promise {
    /// Every word is set once, in the order of the text.
    F1,
    /// Words apart stay apart.
    F2,
    /// Every character is shown.
    F3,
    /// What the program adds is marked as added.
    F4,
    /// Every file reads back as what it shows.
    F5,
    /// Every line stands in its place.
    F6,
}

/// A broken promise: the program's own fault, never the author's.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BrokenPromise {
    /// Which promise.
    pub promise: Promise,
    /// The panel or the file where it is broken, if it is in one place.
    pub at: Option<String>,
    /// What went wrong there.
    pub what: String,
}

impl BrokenPromise {
    fn new(promise: Promise, what: impl Into<String>) -> BrokenPromise {
        BrokenPromise {
            promise,
            at: None,
            what: what.into(),
        }
    }

    fn on(self, panel: PanelName) -> BrokenPromise {
        BrokenPromise {
            at: Some(panel.to_string()),
            ..self
        }
    }
}

impl fmt::Display for BrokenPromise {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "promise {:?} is broken", self.promise)?;
        match &self.at {
            Some(at) => write!(f, " ({at}): {}", self.what),
            None => write!(f, ": {}", self.what),
        }
    }
}

impl Error for BrokenPromise {}

/// Checks a layout against its manuscript.
///
/// # Errors
/// The first promise that is broken.
pub fn verify(manuscript: &Manuscript, layout: &Layout) -> Result<(), BrokenPromise> {
    verify_again(manuscript, layout, &RememberedPanels::none())
}

/// Checks a layout as [`verify`] does; of panels that look like one which was proved, laid out by the same plan, nothing is
/// asked again that concerns no other panel and no place in the manuscript: F3 and F6.
///
/// # Errors
/// As [`verify`].
pub fn verify_again(
    manuscript: &Manuscript,
    layout: &Layout,
    remembered: &RememberedPanels,
) -> Result<(), BrokenPromise> {
    order::all_are_of_parts(manuscript)?;
    let parts = parts_in_order(manuscript, layout)?;
    for part in &parts {
        order::check(manuscript, part)?;
        spaces::check(manuscript, part)?;
    }
    let mut right_glyphs = glyphs::RightGlyphs::default();
    let panels = layout.panels.iter();
    let unproved: Vec<&LaidPanel> = panels
        .filter(|panel| !remembered.has_proved(panel))
        .collect();
    for panel in &unproved {
        for line in &panel.lines {
            glyphs::check(line, &mut right_glyphs).map_err(|broken| broken.on(panel.panel))?;
        }
    }
    added::check(layout, &parts)?;
    places::check(layout, &unproved)
}

/// A part with its lines in the order of its panels.
struct PartLaid<'a> {
    written: &'a Part,
    lines: Vec<PlacedLine<'a>>,
}

/// A line and the panel that it stands on.
#[derive(Clone, Copy)]
struct PlacedLine<'a> {
    line: &'a LaidLine,
    panel: &'a LaidPanel,
}

impl PlacedLine<'_> {
    fn broken(&self, promise: Promise, what: impl Into<String>) -> BrokenPromise {
        BrokenPromise::new(promise, what).on(self.panel.panel)
    }
}

/// Every part of the manuscript with its lines, panel by panel as the part's words run over them. Each line must stand
/// on a panel of its own part.
fn parts_in_order<'a>(
    manuscript: &'a Manuscript,
    layout: &'a Layout,
) -> Result<Vec<PartLaid<'a>>, BrokenPromise> {
    let owners: HashMap<PanelName, &LaidPart> = (layout.parts.iter())
        .flat_map(|part| part.on.iter().map(move |panel| (*panel, part)))
        .collect();
    let mut panels: HashMap<PanelName, &LaidPanel> = HashMap::new();
    for panel in &layout.panels {
        if panels.insert(panel.panel, panel).is_some() {
            let what = "the panel is there twice";
            return Err(BrokenPromise::new(Promise::F1, what).on(panel.panel));
        }
        let owner = owners.get(&panel.panel).map(|part| &part.name);
        for line in panel.lines.iter().filter(|line| line.part.is_some()) {
            if line.part.as_ref() != owner {
                let what = format!(
                    "“{}” stands on a panel that its part does not have",
                    line.text
                );
                return Err(BrokenPromise::new(Promise::F1, what).on(panel.panel));
            }
        }
    }
    let part = |written: &'a Part| {
        let laid = layout.parts.iter().find(|part| part.name == written.name);
        let on = laid.map_or(&[][..], |part| &part.on);
        let panels = on.iter().filter_map(|panel| panels.get(panel).copied());
        let lines = panels.flat_map(|panel| {
            let own = panel.lines.iter().filter(|line| line.part.is_some());
            own.map(move |line| PlacedLine { line, panel })
        });
        PartLaid {
            written,
            lines: lines.collect(),
        }
    };
    Ok(manuscript.parts().iter().map(part).collect())
}
