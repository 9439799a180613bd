//! Whether two panels look alike: all but where their words stand in the manuscript, which every change above them moves.

use std::sync::Arc;

use super::{GlyphRun, LaidLine, LaidPanel};

impl LaidPanel {
    /// Whether all is equal but the bytes of the manuscript that lines are made of: whatever is made from one panel without
    /// these is made alike from the other.
    pub fn looks_like(&self, other: &LaidPanel) -> bool {
        // Taken apart, so that nothing that comes to be said of a panel is forgotten here.
        let LaidPanel {
            panel,
            size,
            role,
            picture,
            picture_panels,
            area,
            shape,
            slots,
            lead,
            fullness,
            costs,
            pinned,
            passed,
            continues,
            lines,
            rooms,
        } = other;
        (self.panel, self.size, self.role) == (*panel, *size, *role)
            && (&self.picture, &self.picture_panels) == (picture, picture_panels)
            && (&self.area, &self.shape, &self.slots) == (area, shape, slots)
            && (self.lead, self.fullness, &self.costs) == (*lead, *fullness, costs)
            && (self.pinned, self.passed, self.continues) == (*pinned, *passed, *continues)
            && self.rooms == *rooms
            && self.lines.len() == lines.len()
            && self.lines.iter().zip(lines).all(|(a, b)| a.looks_like(b))
    }
}

impl LaidLine {
    /// Whether all is equal but the bytes of the manuscript.
    fn looks_like(&self, other: &LaidLine) -> bool {
        let LaidLine {
            part,
            language,
            kind,
            block,
            row,
            space_above,
            lines_run,
            text,
            stretch,
            x,
            baseline,
            width,
            measure,
            size,
            turnover,
            added,
            glued,
            sources: _,
            ink,
            runs,
        } = other;
        (&self.text, self.x, self.baseline) == (text, *x, *baseline)
            && (self.width, self.measure, self.size) == (*width, *measure, *size)
            && (&self.part, &self.language, &self.kind) == (part, language, kind)
            && (self.block, self.row, self.space_above) == (*block, *row, *space_above)
            && (self.lines_run, self.turnover, self.glued) == (*lines_run, *turnover, *glued)
            && (&self.added, &self.ink, &self.stretch) == (added, ink, stretch)
            && self.runs.len() == runs.len()
            && self.runs.iter().zip(runs).all(|(a, b)| a.is_drawn_as(b))
    }
}

impl GlyphRun {
    /// Whether it is the same glyphs of the very same face, in the same places.
    fn is_drawn_as(&self, other: &GlyphRun) -> bool {
        let GlyphRun {
            face,
            size,
            x,
            baseline,
            reads,
            capitals,
            upright,
            glyphs,
        } = other;
        Arc::ptr_eq(&self.face, face)
            && (self.size, self.x, self.baseline) == (*size, *x, *baseline)
            && (self.reads, self.capitals, self.upright) == (*reads, *capitals, *upright)
            && self.glyphs == *glyphs
    }
}
