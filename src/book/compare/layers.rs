//! Which layers must be replaced where they were placed.

use std::collections::BTreeSet;

use super::record::{Panel, Record};
use super::row;
use crate::names::Side;
use crate::outputs::{layer_name, side_layer_name};

/// What is to be done with each layer; names are those of the files in `layers/`, in reading order, a whole side
/// behind its panels.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LayerChanges {
    /// They show something else than before: to be replaced. Those of panels that are passed for press come first, for
    /// then the printer must know.
    pub replace: Vec<String>,
    /// How many of those are of a panel that is, or was, passed for press.
    pub passed: usize,
    /// They were not there before: to be placed.
    pub place: Vec<String>,
    /// They are no longer there: to be taken out.
    pub take_out: Vec<String>,
    /// They show what they showed.
    pub keep: Vec<String>,
}

impl LayerChanges {
    /// Whether no layer need be touched.
    pub fn none(&self) -> bool {
        self.replace.is_empty() && self.place.is_empty() && self.take_out.is_empty()
    }
}

/// A layer: its name and the panels it shows.
type Layer<'r> = (String, Vec<&'r Panel>);

pub(super) fn compare(old: &Record, new: &Record, other_form: bool) -> LayerChanges {
    let (old, new) = (layers(old), layers(new));
    let mut changes = LayerChanges::default();
    let names: BTreeSet<&str> = new.iter().map(|(name, _)| name.as_str()).collect();
    let mut passed: Vec<String> = Vec::new();
    let is_passed = |panels: &[&Panel]| matches!(panels, [panel] if panel.passed);
    for (name, panels) in &new {
        let list = match old.iter().find(|(known, _)| known == name) {
            None => &mut changes.place,
            Some((_, before)) if other_form || !alike(before, panels) => {
                match is_passed(before) || is_passed(panels) {
                    true => &mut passed,
                    false => &mut changes.replace,
                }
            }
            Some(_) => &mut changes.keep,
        };
        list.push(name.clone());
    }
    let gone = old
        .iter()
        .filter(|(name, _)| !names.contains(name.as_str()));
    changes.take_out = gone.map(|(name, _)| name.clone()).collect();
    changes.passed = passed.len();
    changes.replace.splice(0..0, passed);
    changes
}

/// Every layer that is made of a layout.
fn layers(record: &Record) -> Vec<Layer<'_>> {
    let sides = [Side::Front, Side::Back].into_iter();
    let sides = sides.map(|side| (side, record.side(side)));
    sides
        .filter(|(_, panels)| !panels.is_empty())
        .flat_map(|(side, panels)| {
            let with_words = panels.iter().filter(|panel| !panel.lines.is_empty());
            let single =
                with_words.map(|&panel| (layer_name(panel.name, panels.len()), vec![panel]));
            let mut layers: Vec<Layer<'_>> = single.collect();
            layers.push((side_layer_name(side), panels));
            layers
        })
        .collect()
}

/// Whether layers show the same, page by page.
fn alike(old: &[&Panel], new: &[&Panel]) -> bool {
    let same = |(old, new): (&&Panel, &&Panel)| old.shows_the_same(new) && row::same(old, new);
    old.len() == new.len() && old.iter().zip(new).all(same)
}
