//! The plan's title, on a title panel whose part has no headings of its own.

use super::compose::ComposeInput;
use super::glyphs::RunBuilder;
use super::on_panel::lead;
use super::{LaidLine, LaidPanel};
use crate::names::{HalfLines, Length, Role};
use crate::setting::{self, AddedTitle, Areas, Column};
use crate::text::LineKind;
use crate::typeface::Shaper;

/// Sets the plan's title on a title panel whose part has no headings of its own. `column` is the one that the part has
/// there, if it is a part's.
pub(super) fn add_title(ready: ComposeInput<'_>, laid: &mut LaidPanel, column: Option<&Column>) {
    let areas: &Areas = &ready.set.areas;
    let Some(id) = areas.of(laid.panel, None) else {
        return;
    };
    let area = *areas.get(id);
    let column = column.cloned().unwrap_or_else(|| areas.column(id));
    if let Some(shape) = areas.shape(id) {
        laid.shape = shape.rectangles.clone();
        laid.slots = shape.slots.all().to_vec();
    }
    let Some(title) = setting::added_title(ready.plan, ready.typeface, &column) else {
        return;
    };
    let AddedTitle {
        line: shaped,
        stand,
        slot,
    } = &title;
    // On slots those above the title count too.
    let above = HalfLines::lines(*slot);
    let used = (above + stand.height, area.depth());
    laid.lead = lead(ready, column.boxes(), (laid.panel, Role::Title), used);
    let first = laid.lead + above;
    let measure = column.line(*slot).measure;
    let shaper = Shaper::new(ready.typeface, &ready.plan.language);
    laid.area = Some(area);
    laid.fullness = Some(used);
    for piece in stand.pieces.iter() {
        let baseline = areas.baseline(id, first + piece.baseline);
        let start = piece.text.start;
        let mut builder = RunBuilder::new(&shaper, shaped, start, piece.x, baseline);
        builder.add(piece.text.clone());
        let text = shaped.text[piece.text.clone()].to_string();
        laid.lines.push(LaidLine {
            part: None,
            language: ready.plan.language.clone(),
            kind: LineKind::Title,
            block: 0,
            row: 0,
            space_above: HalfLines::ZERO,
            added: Some(text.clone()),
            glued: false,
            text,
            x: piece.x,
            baseline,
            width: piece.width,
            measure,
            size: shaped
                .voice_at(start)
                .map_or(Length::ZERO, |voice| voice.size),
            turnover: false,
            sources: Vec::new(),
            ink: ready.plan.text.ink.clone(),
            runs: builder.finish(),
        });
    }
}
