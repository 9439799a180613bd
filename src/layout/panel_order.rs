//! Parts whose lines follow each other the other way than their panels.

use super::LaidPanel;
use super::compose::ComposeInput;
use crate::names::PanelName;
use crate::setting::Note;

/// Remarks about parts whose lines run down, and so follow each other from right to left, while the panels of a spread are
/// to be read from left to right: one for each part, with its first such spread.
pub(super) fn notes(ready: ComposeInput<'_>, panels: &[LaidPanel]) -> Vec<Note> {
    let has_words = |name: &PanelName| {
        let laid = panels.iter().find(|laid| laid.panel == *name);
        laid.is_some_and(|laid| !laid.lines.is_empty())
    };
    let sides = ready.strip.sides().iter();
    let spreads = sides.flat_map(|side| ready.strip.spreads(*side));
    let spreads: Vec<(PanelName, PanelName)> = spreads
        .filter(|(one, next)| has_words(one) && has_words(next))
        .collect();
    let down = |part: &&crate::plan::PartPlan| part.text.lines_run.is_down();
    let parts = ready.plan.parts.iter().filter(down);
    let against = parts.filter_map(|part| {
        let at = |name: PanelName| part.on.iter().position(|on| *on == name);
        let order = |(one, next): &(PanelName, PanelName)| Some((at(*one)?, at(*next)?));
        // In a book that is read from left to right the first panel of a spread is its left one.
        let from_left = ready.plan.paper.reads.is_right_to_left();
        let (one, next) = spreads
            .iter()
            .find(|spread| order(spread).is_some_and(|(one, next)| (one < next) != from_left))?;
        let (first, second) = if from_left { (next, one) } else { (one, next) };
        Some(Note {
            word: "panel-order",
            what: format!(
                "lines that run down follow each other from right to left, but of `{}` {first} is read first and stands at \
                 the left of {second}: name its panels the other way about in `on`, or, where the whole book is to be read so, \
                 say reads = \"right-to-left\" in [paper]",
                part.name
            ),
            place: part.place.clone(),
        })
    });
    against.collect()
}
