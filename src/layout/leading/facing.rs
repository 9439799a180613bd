//! Facing panels of parts whose lines are not equally far apart.

use crate::layout::LaidPanel;
use crate::layout::compose::ComposeInput;
use crate::names::{Length, PanelName, and_list};
use crate::setting::Note;

/// How many spreads are named.
const MOST_TOLD: usize = 4;

/// A remark where words of facing panels have other leadings: which panels, and both leadings.
pub(super) fn facing(ready: ComposeInput<'_>, panels: &[LaidPanel]) -> Option<Note> {
    let leading = |name: PanelName| -> Option<Length> {
        let laid = panels.iter().find(|laid| laid.panel == name)?;
        let part = ready.plan.part_on(name)?;
        (!laid.lines.is_empty()).then_some(part.text.leading)
    };
    let sides = ready.strip.sides().iter();
    let spreads = sides.flat_map(|side| ready.strip.spreads(*side));
    let differ = spreads.filter_map(|(one, other)| {
        let leadings = (leading(one)?, leading(other)?);
        let [first, second] = [leadings.0, leadings.1].map(Length::in_points);
        (leadings.0 != leadings.1).then(|| format!("{one} ({first}) and {other} ({second})"))
    });
    let mut told: Vec<String> = differ.collect();
    let rest = told.len().saturating_sub(MOST_TOLD);
    if told.is_empty() {
        return None;
    }
    told.truncate(MOST_TOLD);
    match rest {
        0 => {}
        1 => told.push("one more spread".to_string()),
        more => told.push(format!("{more} more spreads")),
    }
    Some(Note {
        word: "facing-leadings",
        what: format!(
            "facing panels have different leadings, so their lines do not stand side by side: {}",
            and_list(&told)
        ),
        place: None,
    })
}
