//! The lines of panels whose words follow a shape.

use super::compose::OnPanel;
use super::{LaidLine, LaidRoom};
use crate::setting::{self, Piece, RowsOnSlots};
use crate::text::LineKind;

impl OnPanel<'_> {
    /// The lines of a panel whose words follow a shape, and the room that is left empty among them.
    pub(super) fn lines_on_slots(
        &self,
        set: &RowsOnSlots,
        notes: &mut Vec<setting::Note>,
    ) -> (Vec<LaidLine>, Vec<LaidRoom>) {
        let rightwards = !self.planned().reads.is_right_to_left();
        let mut slot = 0;
        let (mut lines, mut rooms) = (Vec::new(), Vec::new());
        let mut above: Option<Piece> = None;
        let places = &self.part.places[self.on.rows.clone()];
        for (number, places) in places.chunk_by(|one, next| one.row == next.row).enumerate() {
            let index = places[0].row;
            let row = &self.part.rows[index];
            if number > 0 {
                slot = set.slots.below(slot, row.space_above);
            } else {
                above = set.above(&self.part.rows, index, rightwards);
            }
            if let Some(breaks) = self.breaks(index, places) {
                if breaks.0 == 0 {
                    slot += set.rows[index].stand(slot).skip;
                }
                let (mut laid, mut said) = self.paragraph_on_slots(index, breaks, (set, slot));
                slot += laid.len();
                lines.append(&mut laid);
                notes.append(&mut said);
                continue;
            }
            let stand = set.rows[index].stand(slot);
            slot += stand.skip;
            for (number, piece) in stand.pieces.iter().enumerate() {
                let on = set.slots.get(slot + (piece.baseline / 2) as usize);
                let mut piece = piece.clone();
                if let Some(step) = stand.step {
                    piece = step.moved(piece, above.as_ref(), rightwards);
                }
                let on = (on.baseline, on.measure);
                lines.push(self.line(index, &piece, number == 0, on));
                if row.kind.is_verse() {
                    above = Some(piece);
                }
            }
            if matches!(row.kind, LineKind::Room(_)) {
                rooms.push(LaidRoom {
                    baseline: set.slots.get(slot).baseline,
                    half_lines: 2 * stand.height as u32,
                    space_above: row.space_above,
                });
            }
            slot += stand.height;
        }
        (lines, rooms)
    }
}
