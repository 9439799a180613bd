//! What laying words onto panels has found, kept for the next time: after one changed word nearly all panels are as they
//! were.
//!
//! A panel is known again by all that its lines are made of, compared as it is; what rows have found while they were set is
//! known by where it lies, for the setting hands out the very same where nothing has changed. Where the words stand in the
//! manuscript is looked up each time. What is kept is one layout: that of the last time.

use std::collections::HashMap;
use std::sync::Arc;

use super::on_panel::OnPanel;
use super::{LaidPanel, Layout};
use crate::names::{HalfLines, Length, PanelName, Role};
use crate::plan::Plan;
use crate::setting::line_breaks::LineBreaks;
use crate::setting::{self, AreaId, Paragraph, Piece, SetWord, Setting, Stand};
use crate::stack::Standing;
use crate::text::LineKind;

/// The panels of the last layout, each with what its lines were made from.
#[derive(Default)]
pub struct Remembered {
    plan: Option<Arc<Plan>>,
    panels: HashMap<PanelName, KnownPanel>,
    /// Whether nothing is to be remembered.
    none: bool,
}

/// A panel that has been laid.
pub(super) struct KnownPanel {
    from: PanelFrom,
    pub laid: LaidPanel,
    /// Whether its lines have been proved as far as they are no matter of other panels.
    proved: bool,
}

/// What the lines of a panel are made from, beside the plan.
#[derive(PartialEq)]
pub(super) struct PanelFrom {
    role: Role,
    picture: Option<usize>,
    used: (HalfLines, HalfLines),
    together: Option<HalfLines>,
    area: AreaId,
    column: (usize, Setting),
    /// The last piece of the line of verse above, to which a line steps.
    above: Option<Piece>,
    rows: Vec<RowFrom>,
}

/// What the lines of a row are made from.
struct RowFrom {
    /// Its number, and those of the breaks between which it stands there, if it is a paragraph.
    at: (usize, Option<(usize, usize)>),
    kind: LineKind,
    block: usize,
    space_above: HalfLines,
    size: Length,
    /// On which slot it stands, and how far down.
    stands: (usize, HalfLines),
    /// Its shaped words. Rows that have the same ones are made of the same.
    words: Option<Arc<[SetWord]>>,
    paragraph: Option<(Arc<Paragraph>, Arc<LineBreaks>)>,
    /// How it stands in the column, if it is no paragraph.
    stand: Option<Stand>,
}

impl PartialEq for RowFrom {
    fn eq(&self, other: &RowFrom) -> bool {
        let same_words = match (&self.words, &other.words) {
            (Some(one), Some(other)) => Arc::ptr_eq(one, other),
            // Room has none.
            (None, None) => matches!(self.kind, LineKind::Room(_)),
            _ => false,
        };
        let same_lines = match (&self.paragraph, &other.paragraph) {
            (Some(one), Some(other)) => {
                Arc::ptr_eq(&one.0, &other.0) && Arc::ptr_eq(&one.1, &other.1)
            }
            (None, None) => self.stand == other.stand,
            _ => false,
        };
        same_words
            && same_lines
            && (self.at, &self.kind, self.block) == (other.at, &other.kind, other.block)
            && (self.space_above, self.size) == (other.space_above, other.size)
            && self.stands == other.stands
    }
}

impl PanelFrom {
    /// What the lines of a panel are made from; nothing for those that are made anew each time: of a title, of panels that
    /// are passed for press, and on slots.
    pub fn of(here: &OnPanel<'_>) -> Option<PanelFrom> {
        let on = here.on;
        let anew = on.role == Role::Title || here.ready.passed(on.panel).is_some();
        if anew || !here.column().is_plain() {
            return None;
        }
        let rows = &here.part.rows;
        let standing = here.standing();
        let head = standing
            .first()
            .map(|first| here.part.places[first.place].row);
        let rightwards = !here.planned().reads.is_right_to_left();
        let above = head.and_then(|row| setting::above(rows, row, here.column, rightwards));
        let rows: Option<Vec<RowFrom>> = standing.iter().map(|at| RowFrom::of(here, at)).collect();
        Some(PanelFrom {
            role: on.role,
            picture: on.picture,
            used: (here.used, on.capacity),
            together: here.together,
            area: here.area,
            column: (here.column, here.column().line(0)),
            above,
            rows: rows?,
        })
    }
}

impl RowFrom {
    fn of(here: &OnPanel<'_>, at: &Standing) -> Option<RowFrom> {
        let place = here.part.places[at.place];
        let row = &here.part.rows[place.row];
        let set = row.at.get(here.column)?;
        let fall = set.paragraph.as_ref().map(|at| Arc::clone(&at.fall));
        let paragraph = row.paragraph.clone().zip(fall);
        Some(RowFrom {
            at: (place.row, here.breaks(place)),
            kind: row.kind.clone(),
            block: row.block,
            space_above: row.space_above,
            size: row.voice.size,
            stands: (at.slot, at.depth),
            words: row.shaped.words_as_set().cloned(),
            stand: paragraph.is_none().then(|| set.stand(at.slot).clone()),
            paragraph,
        })
    }
}

impl Remembered {
    /// What remembers nothing.
    pub fn none() -> Remembered {
        Remembered {
            none: true,
            ..Remembered::default()
        }
    }

    /// Forgets all that was made by another plan than this.
    pub fn heed(&mut self, plan: &Arc<Plan>) {
        if !self
            .plan
            .as_ref()
            .is_some_and(|known| Arc::ptr_eq(known, plan))
        {
            self.panels.clear();
            self.plan = Some(Arc::clone(plan));
        }
    }

    /// The lines of a panel, if they were made from this.
    pub(super) fn panel(&self, panel: PanelName, from: &PanelFrom) -> Option<&LaidPanel> {
        let known = self.panels.get(&panel)?;
        (known.from == *from).then_some(&known.laid)
    }

    /// Keeps the panels of a layout whose lines are known to be made from something; those that are made from the same as
    /// before look as they did.
    pub(super) fn keep(&mut self, made: Vec<(PanelName, PanelFrom)>, panels: &[LaidPanel]) {
        if self.none {
            return;
        }
        let mut before = std::mem::take(&mut self.panels);
        for (name, from) in made {
            let Some(laid) = panels.iter().find(|laid| laid.panel == name) else {
                continue;
            };
            let known = before.remove(&name);
            let known = known.filter(|known| known.from == from && known.laid.looks_like(laid));
            let known = known.unwrap_or_else(|| KnownPanel {
                from,
                laid: laid.clone(),
                proved: false,
            });
            self.panels.insert(name, known);
        }
    }

    /// Says that the last layout has been proved.
    pub fn is_proved(&mut self, layout: &Layout) {
        for laid in &layout.panels {
            if let Some(known) = self.panels.get_mut(&laid.panel) {
                known.proved = known.proved || known.laid.looks_like(laid);
            }
        }
    }

    /// Whether a panel that looks like this has been proved as far as it is no matter of other panels.
    pub(super) fn has_proved(&self, laid: &LaidPanel) -> bool {
        let known = self.panels.get(&laid.panel);
        known.is_some_and(|known| known.proved && known.laid.looks_like(laid))
    }
}
