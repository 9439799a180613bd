//! What is compared: lines of verse, and paragraphs.

use super::super::paragraph;
use super::super::scan::PhysicalKind;
use super::view::{Region, TextUnit, ViewLine};
use crate::names::SetAs;

/// The units of lines. With `as_blocks`, all lines that no blank line parts are one unit.
pub(super) fn units(lines: &[ViewLine], as_blocks: bool) -> Vec<TextUnit> {
    let mut units: Vec<TextUnit> = Vec::new();
    // The region of the unit that may go on.
    let mut open: Option<Region> = None;
    for (number, line) in lines.iter().enumerate() {
        if line.kind == PhysicalKind::Blank {
            open = None;
        }
        if !line.is_text() {
            continue;
        }
        let single = line.kind == PhysicalKind::Ornament;
        let prose = line.region.set_as == SetAs::Prose;
        let goes_on =
            !single && (as_blocks && open.is_some() || prose && open == Some(line.region));
        match units.last_mut() {
            Some(unit) if goes_on => {
                if paragraph::parts_words(&unit.key, &line.view) {
                    unit.key.push(' ');
                }
                unit.key.push_str(&folded(&line.view));
                unit.lines.push(number);
                unit.words.end = line.words.end;
            }
            _ => units.push(TextUnit {
                lines: vec![number],
                words: line.words.clone(),
                key: match prose {
                    true => folded(&line.view),
                    false => line.view.clone(),
                },
                half_ems: line.is_indented().then_some(line.half_ems),
                prose,
            }),
        }
        open = (!single).then_some(line.region);
    }
    units
}

/// A line's words with one space for each run of white space.
fn folded(view: &str) -> String {
    let words = view.split([' ', '\t']).filter(|word| !word.is_empty());
    words.collect::<Vec<_>>().join(" ")
}
