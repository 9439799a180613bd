//! What there is to say of leading: whether lines touch, whether those of facing panels stand beside each other, and how far
//! apart lines have to stand for their marks.

mod facing;
mod ink;
mod touching;

use super::LaidPanel;
use super::compose::ComposeInput;
use super::glyphs::RunBuilder;
use crate::names::Length;
use crate::plan::Plan;
use crate::setting::{Note, Row, SetLines};
use crate::typeface::Shaper;
use ink::{InkBoxes, Reach};

/// What is told of the leadings of parts as their lines have come to stand.
pub(super) fn notes(ready: ComposeInput<'_>, panels: &[LaidPanel]) -> Vec<Note> {
    let mut notes = touching::touching(ready, panels);
    notes.extend(facing::facing(ready, panels));
    notes
}

/// The least leading at which no ink of a line can reach that of the next, wherever along it that stands. Lines that are
/// divided may have any of their words under any other. Headings, whose lines stand apart by their own size, large initials
/// and the ink of lines that run down play no part; readings need half an em between the lines.
pub fn least_leading(plan: &Plan, set: &SetLines) -> Length {
    let mut boxes = InkBoxes::default();
    let mut least = Length::ZERO;
    for part in &set.parts {
        let planned = &plan.parts[part.plan_index];
        let readings = part.rows.iter().filter_map(Row::leading_between);
        least = readings.fold(least, Length::max);
        if planned.text.lines_run.is_down() {
            continue;
        }
        let shaper = Shaper::new(&part.typeface, &planned.language);
        let mut before = Reach::default();
        for row in part.rows.iter().filter(|row| !row.kind.is_titling()) {
            let line = &row.shaped;
            let words = line.start()..line.trimmed_end(line.text.len());
            let mut builder =
                RunBuilder::new(&shaper, line, words.start, Length::ZERO, Length::ZERO);
            builder.add(words);
            let here = boxes.reach(&builder.finish(), Length::ZERO);
            let mut stands = row.at.iter().flat_map(|at| &at.stands);
            let divided = row.kind.is_prose() || stands.any(|stand| stand.pieces.len() > 1);
            let above = match divided {
                true => before.with(here),
                false => before,
            };
            least = least.max(above.below + here.above);
            before = here;
        }
    }
    least
}
