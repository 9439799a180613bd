//! The plan's title, on a title panel whose part has no headings of its own.

use super::compose::{ComposeInput, lead};
use super::glyphs::RunBuilder;
use super::{LaidLine, LaidPanel};
use crate::names::Length;
use crate::names::{PanelName, Role};
use crate::setting::{self, Area, Areas, Piece, RowAt, Setting, ShapedLine};
use crate::text::LineKind;
use crate::typeface::Shaper;

/// Sets the plan's title on a title panel whose part has no headings of its own.
pub(super) fn add_title(ready: ComposeInput<'_>, laid: &mut LaidPanel, setting: Option<Setting>) {
    let areas: &Areas = &ready.set.areas;
    let Some(id) = areas.of(laid.panel, None) else {
        return;
    };
    let area = *areas.get(id);
    let capacity = area.capacity * 2;
    let (shaped, at, baselines, measure) = match areas.shape(id) {
        Some(shape) => {
            let on_slots = setting::added_title_on_slots(ready.plan, ready.typeface, &shape.slots);
            laid.shape = shape.rectangles.clone();
            let Some((shaped, at, slot)) = on_slots else {
                return;
            };
            let on = |piece: &Piece| {
                shape
                    .slots
                    .get(slot + (piece.baseline / 2) as usize)
                    .baseline
            };
            let baselines: Vec<Length> = at.pieces.iter().map(on).collect();
            let measure = shape.slots.get(slot).measure;
            (shaped, at, baselines, measure)
        }
        None => title_in_area(ready, laid.panel, &area, setting),
    };
    let shaper = Shaper::new(ready.typeface, &ready.plan.language);
    laid.area = Some(area);
    laid.fullness = Some((at.height, capacity));
    for (piece, baseline) in at.pieces.iter().zip(baselines) {
        let start = piece.text.start;
        let mut builder = RunBuilder::new(&shaper, &shaped, start, piece.x, baseline);
        builder.add(piece.text.clone());
        let text = shaped.text[piece.text.clone()].to_string();
        laid.lines.push(LaidLine {
            part: None,
            language: ready.plan.language.clone(),
            kind: LineKind::Title,
            block: 0,
            row: 0,
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

/// The plan's title in an ordinary text area, with its baselines and its measure.
fn title_in_area(
    ready: ComposeInput<'_>,
    panel: PanelName,
    area: &Area,
    setting: Option<Setting>,
) -> (ShapedLine, RowAt, Vec<Length>, Length) {
    let plain = Setting {
        left: area.left,
        measure: area.width,
        hang_left: Length::ZERO,
        hang_right: Length::ZERO,
    };
    let setting = setting.unwrap_or(plain);
    let (shaped, at) = setting::added_title(ready.plan, ready.typeface, &setting);
    let lead = lead(ready, panel, Role::Title, at.height, area.capacity * 2);
    let baseline = |piece: &Piece| {
        let down = i64::from(lead + piece.baseline);
        area.first_baseline + ready.set.areas.leading().scaled(down, 2)
    };
    let baselines = at.pieces.iter().map(baseline).collect();
    (shaped, at, baselines, setting.measure)
}
