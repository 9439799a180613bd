//! What the workbench remembers of the files that it has made: the layers of the last layout that files were made of, with
//! the panels that they were made from, which are compared as they are.
//!
//! It holds one layout's panels, its layers, and the streams of the layers of whole sides; nothing of those before.

use std::collections::HashSet;

use crate::layout::{LaidPanel, Layout, shown_of};
use crate::names::{Date, PanelName};
use crate::outputs::{OutputFile, WordsAs};
use crate::paper::Strip;
use crate::pdf::Packed;

/// What layers are made from beside their panels.
#[derive(PartialEq)]
struct MadeFrom {
    title: String,
    language: String,
    date: Option<Date>,
    strip: Strip,
    words_as: WordsAs,
}

/// The layers of the last layout that files were made of.
pub(super) struct Made {
    from: Option<MadeFrom>,
    /// What the layers that are being made are made from. While they are, none are known.
    begun: Option<MadeFrom>,
    panels: Vec<LaidPanel>,
    /// By panel, the fingerprint of what its layer shows.
    shown: Vec<String>,
    /// The panels of the layout before that look like those of this one.
    alike: HashSet<PanelName>,
    /// The layers of the layout before, by name.
    layers: Vec<OutputFile>,
    /// Nothing where nothing is to be remembered.
    packed: Option<Packed>,
}

impl Default for Made {
    fn default() -> Made {
        Made {
            packed: Some(Packed::default()),
            ..Made::none()
        }
    }
}

impl Made {
    /// What remembers nothing.
    pub fn none() -> Made {
        Made {
            from: None,
            begun: None,
            panels: Vec::new(),
            shown: Vec::new(),
            alike: HashSet::new(),
            layers: Vec::new(),
            packed: None,
        }
    }

    /// Begins with a layout: finds which of its panels look as before, and forgets the others.
    pub fn begin(&mut self, layout: &Layout, words_as: WordsAs) {
        let bleed = layout.strip.paper().bleed;
        let Some(packed) = &self.packed else {
            let shown = layout.panels.iter().map(|panel| shown_of(panel, bleed));
            self.shown = shown.collect();
            return;
        };
        packed.begin();
        let from = MadeFrom {
            title: layout.title.clone(),
            language: layout.language.clone(),
            date: layout.date,
            strip: layout.strip.clone(),
            words_as,
        };
        let names =
            |panels: &[LaidPanel]| panels.iter().map(|panel| panel.panel).collect::<Vec<_>>();
        let is_known = self.from.take().as_ref() == Some(&from);
        if !is_known || names(&self.panels) != names(&layout.panels) {
            self.panels.clear();
            self.shown.clear();
            self.layers.clear();
        }
        self.begun = Some(from);
        self.alike.clear();
        let before = std::mem::take(&mut self.panels).into_iter();
        let mut before = before.zip(std::mem::take(&mut self.shown));
        for panel in &layout.panels {
            let known = before.next();
            match known.filter(|(known, _)| known.looks_like(panel)) {
                Some((known, shown)) => {
                    self.alike.insert(panel.panel);
                    self.panels.push(known);
                    self.shown.push(shown);
                }
                None => {
                    self.panels.push(panel.clone());
                    self.shown.push(shown_of(panel, bleed));
                }
            }
        }
    }

    /// The layer of that name, if one was made of panels that look like all of these.
    pub fn layer(&self, name: &str, panels: &[&LaidPanel]) -> Option<OutputFile> {
        // Which panels a layer has, its name says.
        let all_alike = panels.iter().all(|panel| self.alike.contains(&panel.panel));
        let mut layers = self.layers.iter().filter(|_| all_alike);
        layers.find(|layer| layer.name == name).cloned()
    }

    /// By panel, the fingerprint of what its layer shows.
    pub fn shown(&self) -> &[String] {
        &self.shown
    }

    /// Streams that have been packed.
    pub fn packed(&self) -> Option<&Packed> {
        self.packed.as_ref()
    }

    /// Keeps the layers that have been made and proved.
    pub fn keep(&mut self, layers: &[OutputFile]) {
        if self.packed.is_some() {
            self.layers = layers.to_vec();
            self.from = self.begun.take();
        }
    }
}
