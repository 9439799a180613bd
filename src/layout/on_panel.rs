//! The lines of one panel, each where the stack says that it stands.

use super::compose::ComposeInput;
use super::glyphs::RunBuilder;
use super::prose::told_of;
use super::{LaidLine, LaidRoom};
use crate::division::{PanelDivision, Problem};
use crate::names::{Direction, HalfLines, Length, PanelName, Role};
use crate::plan::PartPlan;
use crate::setting::{self, AreaId, Column, Piece, RowPlace, SetPart};
use crate::stack::{Boxes, Standing};
use crate::text::LineKind;
use crate::typeface::Shaper;

/// One panel of a part with words.
pub(super) struct OnPanel<'a> {
    pub ready: ComposeInput<'a>,
    pub part: &'a SetPart,
    pub problem: &'a Problem,
    pub shaper: &'a Shaper<'a>,
    pub on: &'a PanelDivision,
    /// How far down its words go, with what the program adds below them.
    pub used: HalfLines,
    /// How far below the head its words begin, where they begin with those of the other panel of their spread.
    pub together: Option<HalfLines>,
    pub area: AreaId,
    /// Which of the part's columns its words fill.
    pub column: usize,
}

impl OnPanel<'_> {
    pub(super) fn planned(&self) -> &PartPlan {
        &self.ready.plan.parts[self.part.plan_index]
    }

    pub(super) fn leading(&self) -> Length {
        self.ready.set.areas.grid_of(self.area).leading
    }

    /// The column that its words fill.
    pub(super) fn column(&self) -> &Column {
        &self.part.columns[self.column]
    }

    /// The lines, and the room that is left empty among them.
    pub(super) fn lines(&self, notes: &mut Vec<setting::Note>) -> (Vec<LaidLine>, Vec<LaidRoom>) {
        let standing = self.standing();
        let rightwards = !self.planned().reads.is_right_to_left();
        let row_of = |here: &Standing| self.part.places[here.place].row;
        let head = standing.first().map(row_of);
        let mut above =
            head.and_then(|row| setting::above(&self.part.rows, row, self.column, rightwards));
        let lead = self.lead();
        let (mut lines, mut rooms, mut poor) = (Vec::new(), Vec::new(), Vec::new());
        for here in &standing {
            let index = row_of(here);
            let row = &self.part.rows[index];
            let depth = lead + here.depth;
            if let Some(breaks) = self.breaks(self.part.places[here.place]) {
                lines.append(&mut self.paragraph(index, breaks, depth, &mut poor));
                continue;
            }
            let stand = row.at[self.column].stand(here.slot);
            if matches!(row.kind, LineKind::Room(_)) {
                rooms.push(LaidRoom {
                    baseline: self.on_line(depth).0,
                    height: stand.height,
                    space_above: row.space_above,
                });
            }
            for (number, piece) in stand.pieces.iter().enumerate() {
                let on = self.on_line(depth + piece.baseline);
                let piece = stand.placed(piece, above.as_ref(), rightwards);
                lines.push(self.line(index, &piece, number == 0, on));
                if row.kind.is_verse() {
                    above = Some(piece);
                }
            }
        }
        notes.append(&mut told_of(self.on.panel, poor));
        (lines, rooms)
    }

    /// Where its rows stand, in order.
    pub(super) fn standing(&self) -> Vec<Standing> {
        let stack = &self.problem.stack;
        stack.standing(self.column, self.on.rows.clone())
    }

    /// The baseline and the measure of the line that lies so far down.
    pub(super) fn on_line(&self, depth: HalfLines) -> (Length, Length) {
        let slot = self.column().boxes().slot(depth);
        let baseline = self.ready.set.areas.baseline(self.area, depth);
        (baseline, self.column().line(slot).measure)
    }

    /// The baseline that lies so far below another.
    pub(super) fn below(&self, baseline: Length, depth: HalfLines) -> Length {
        baseline + depth.at(self.leading())
    }

    /// From which to which of its breaks a paragraph stands here that is here from a place on; nothing for other rows.
    pub(super) fn breaks(&self, from: RowPlace) -> Option<(usize, usize)> {
        let paragraph = self.part.rows[from.row].paragraph.as_ref()?;
        let next = self.part.places.get(self.on.rows.end);
        let to = match next {
            Some(next) if next.row == from.row => next.at,
            _ => paragraph.breaks.len() - 1,
        };
        Some((from.at, to))
    }

    pub(super) fn ends_paragraph(&self, row: usize, to: usize) -> bool {
        let paragraph = &self.part.rows[row].paragraph;
        paragraph
            .as_ref()
            .is_some_and(|paragraph| to + 1 == paragraph.breaks.len())
    }

    /// The lowest baseline that the text area has.
    pub(super) fn last_baseline(&self) -> Length {
        let area = self.ready.set.areas.get(self.area);
        self.below(area.first_baseline, area.depth() - HalfLines::LINE)
    }

    /// How far below the head the first row stands.
    pub(super) fn lead(&self) -> HalfLines {
        let used = (self.used, self.on.capacity);
        let boxes = self.column().boxes();
        let own = || lead(self.ready, boxes, (self.on.panel, self.on.role), used);
        self.together.unwrap_or_else(own)
    }

    pub(super) fn line(
        &self,
        index: usize,
        piece: &Piece,
        first: bool,
        (baseline, measure): (Length, Length),
    ) -> LaidLine {
        let row = &self.part.rows[index];
        let planned = self.planned();
        let drop = row.shaped.drop.as_ref().filter(|_| first);
        let text = drop.map_or(piece.text.start, |drop| drop.text.start)..piece.text.end;
        let mut builder = RunBuilder::new(self.shaper, &row.shaped, text.start, piece.x, baseline);
        let (mut x, mut width) = (piece.x, piece.width);
        if let Some(drop) = drop {
            let below = self.leading() * i64::from(drop.lines - 1);
            let initial = match planned.reads {
                Direction::LeftToRight => piece.x - drop.width,
                Direction::RightToLeft => piece.x + piece.width + drop.gap,
            };
            builder.add_drop(drop, initial, below);
            (x, width) = (x.min(initial), width + drop.width);
        }
        builder.add(piece.text.clone());
        LaidLine {
            part: Some(self.part.name.clone()),
            language: planned.language.clone(),
            kind: row.kind.clone(),
            block: row.block,
            row: index,
            space_above: if first {
                row.space_above
            } else {
                HalfLines::ZERO
            },
            lines_run: planned.text.lines_run,
            text: row.shaped.text[text.clone()].to_string(),
            stretch: text.clone(),
            x,
            baseline,
            width,
            measure,
            size: row.voice.size,
            turnover: piece.turnover,
            added: None,
            glued: false,
            sources: row.shaped.sources(text),
            ink: planned.text.ink.clone(),
            runs: builder.finish(),
        }
    }
}

/// How far below the head of a panel the first row stands: where the plan says, of title panels for themselves.
pub(super) fn lead(
    ready: ComposeInput<'_>,
    boxes: &Boxes,
    (panel, role): (PanelName, Role),
    used: (HalfLines, HalfLines),
) -> HalfLines {
    let pinned = ready.plan.pin(panel).and_then(|pin| pin.vertical);
    let vertical = match (role, pinned) {
        (_, Some(pinned)) => pinned,
        (Role::Title, None) => ready.plan.text.title_vertical,
        (_, None) => ready.set.areas.vertical(panel),
    };
    boxes.lead(vertical, used)
}
