//! The plan's title, on a title panel whose part has no headings of its own.

use super::compose::{ComposeInput, lead};
use super::glyphs::RunBuilder;
use super::{LaidLine, LaidPanel};
use crate::names::Length;
use crate::names::{PanelName, Role};
use crate::setting::{self, Area, Areas, Piece, RowAt, Setting, ShapedLine, Slots};
use crate::text::LineKind;
use crate::typeface::Shaper;

/// The plan's title as it stands on a panel.
struct Placed {
    shaped: ShapedLine,
    at: RowAt,
    /// One for each of its pieces.
    baselines: Vec<Length>,
    measure: Length,
    /// How many half lines stay free above it.
    lead: u32,
    /// How many it takes; on the slots of a shape, those above it too.
    used: u32,
}

/// Sets the plan's title on a title panel whose part has no headings of its own.
pub(super) fn add_title(ready: ComposeInput<'_>, laid: &mut LaidPanel, setting: Option<Setting>) {
    let areas: &Areas = &ready.set.areas;
    let Some(id) = areas.of(laid.panel, None) else {
        return;
    };
    let area = *areas.get(id);
    let placed = match areas.shape(id) {
        Some(shape) => {
            laid.shape = shape.rectangles.clone();
            laid.slots = shape.slots.all().to_vec();
            title_on_slots(ready, &shape.slots)
        }
        None => Some(title_in_area(ready, laid.panel, &area, setting)),
    };
    let Some(placed) = placed else {
        return;
    };
    let (shaped, at, measure) = (&placed.shaped, &placed.at, placed.measure);
    let shaper = Shaper::new(ready.typeface, &ready.plan.language);
    laid.area = Some(area);
    laid.lead = placed.lead;
    laid.fullness = Some((placed.used, area.capacity * 2));
    for (piece, baseline) in at.pieces.iter().zip(placed.baselines) {
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
            space_above: 0,
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

/// The plan's title on the slots of a shape; nothing where it has no room there.
fn title_on_slots(ready: ComposeInput<'_>, slots: &Slots) -> Option<Placed> {
    let (shaped, at, slot) = setting::added_title_on_slots(ready.plan, ready.typeface, slots)?;
    let on = |piece: &Piece| slots.get(slot + (piece.baseline / 2) as usize).baseline;
    Some(Placed {
        baselines: at.pieces.iter().map(on).collect(),
        measure: slots.get(slot).measure,
        lead: 0,
        used: 2 * slot as u32 + at.height,
        shaped,
        at,
    })
}

/// The plan's title in an ordinary text area.
fn title_in_area(
    ready: ComposeInput<'_>,
    panel: PanelName,
    area: &Area,
    setting: Option<Setting>,
) -> Placed {
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
    Placed {
        baselines: at.pieces.iter().map(baseline).collect(),
        measure: setting.measure,
        lead,
        used: at.height,
        shaped,
        at,
    }
}
