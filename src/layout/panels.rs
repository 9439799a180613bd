//! The panels of a part, each composed by itself.

use rayon::prelude::*;

use super::compose::{ComposeInput, empty};
use super::leads::Leads;
use super::on_panel::OnPanel;
use super::remembered::{PanelFrom, Remembered};
use super::title::{self, add_title};
use super::{LaidPanel, passed};
use crate::division::{PanelDivision, PartDivision, Problem};
use crate::names::{Faults, Role};
use crate::setting::{self, AreaId, SetPart};
use crate::typeface::Shaper;

/// What comes of a panel: as it is laid, and what is told of it.
struct Composed {
    laid: LaidPanel,
    notes: Vec<setting::Note>,
    faults: Faults,
    /// What its lines are made from, where that can be known again.
    from: Option<PanelFrom>,
}

/// The panels of a part, each composed by itself, and what its lines are made from where that can be known again.
pub(super) fn compose_part(
    (ready, leads, remembered): (ComposeInput<'_>, &Leads, &Remembered),
    index: usize,
    divided: &PartDivision,
    (notes, faults): &mut (&mut Vec<setting::Note>, &mut Faults),
) -> Vec<(LaidPanel, Option<PanelFrom>)> {
    let part = &ready.set.parts[index];
    let problem = &ready.problems[index];
    let planned = &ready.plan.parts[part.plan_index];
    let shaper = Shaper::new(&part.typeface, &planned.language);
    let panels = divided.panels.par_iter().zip(&problem.panels);
    let composed = panels.map(|(on, facts)| {
        let picture = on
            .picture
            .map(|picture| problem.pictures[picture].name.clone());
        let mut panel = Composed {
            laid: empty(ready.strip, on.panel, on.role, picture),
            notes: Vec::new(),
            faults: Faults::new(),
            from: None,
        };
        let laid = &mut panel.laid;
        laid.costs = on.costs.clone();
        laid.pinned = facts.role.is_some();
        let verse = problem.rows[on.rows.clone()].iter().any(|row| row.verse);
        laid.continues = problem.within_stanza(on.rows.start) && verse;
        if has_words(on) {
            let part = PartOnPanel {
                ready,
                leads,
                remembered,
                part,
                problem,
                shaper: &shaper,
            };
            part.compose(on, &mut panel);
        }
        panel
    });
    let composed: Vec<Composed> = composed.collect();
    let panels = composed.into_iter().map(|panel| {
        notes.extend(panel.notes);
        faults.extend(panel.faults);
        (panel.laid, panel.from)
    });
    panels.collect()
}

/// A part whose words come to stand on a panel.
struct PartOnPanel<'a> {
    ready: ComposeInput<'a>,
    leads: &'a Leads,
    remembered: &'a Remembered,
    part: &'a SetPart,
    problem: &'a Problem,
    shaper: &'a Shaper<'a>,
}

impl PartOnPanel<'_> {
    /// Lays the words of a panel that has some.
    fn compose(&self, on: &PanelDivision, panel: &mut Composed) {
        let (ready, part) = (self.ready, self.part);
        let laid = &mut panel.laid;
        let shared = laid.picture.as_deref().filter(|_| on.role.has_picture());
        let Some(id) = ready.set.areas.of(on.panel, shared) else {
            return;
        };
        let Some(column) = part.column_of_area[id.0] else {
            return;
        };
        give_area(ready, laid, id);
        if on.role == Role::Title && on.rows.is_empty() {
            add_title(ready, laid, Some(&part.columns[column]), &mut panel.faults);
            if let Some(kept) = ready.passed(on.panel) {
                passed::keep_added(kept, laid, &mut panel.faults);
            }
            return;
        }
        let here = OnPanel {
            ready,
            part,
            problem: self.problem,
            shaper: self.shaper,
            on,
            together: self.leads.get(&on.panel).copied(),
            used: on.used,
            area: id,
            column,
        };
        let from = PanelFrom::of(&here);
        let known = from.as_ref();
        if let Some(known) = known.and_then(|from| self.remembered.panel(on.panel, from)) {
            self.lay_as_known(known, laid);
        } else {
            lay_words(here, laid, (&mut panel.notes, &mut panel.faults));
        }
        // What is told of its lines is told each time, and says where in the manuscript.
        let untold = panel.notes.is_empty() && panel.faults.is_empty();
        panel.from = from.filter(|_| untold);
    }

    /// Lays the lines of a panel as they are known, from where they stand in the manuscript now.
    fn lay_as_known(&self, known: &LaidPanel, laid: &mut LaidPanel) {
        (laid.fullness, laid.lead) = (known.fullness, known.lead);
        laid.rooms.clone_from(&known.rooms);
        laid.lines.clone_from(&known.lines);
        for line in &mut laid.lines {
            let row = &self.part.rows[line.row].shaped;
            line.sources = row.sources(line.stretch.clone());
        }
    }
}

/// Lays a part's words on a panel, and below those of a title the author.
fn lay_words(
    mut here: OnPanel<'_>,
    laid: &mut LaidPanel,
    (notes, faults): (&mut Vec<setting::Note>, &mut Faults),
) {
    let (ready, on) = (here.ready, here.on);
    let stands = (&here.part.columns[here.column], here.area);
    let author = (on.role == Role::Title)
        .then(|| title::author(ready, on.panel, stands, on.used, faults))
        .flatten();
    here.used = author.as_ref().map_or(on.used, title::Added::end);
    laid.fullness = Some((here.used, on.capacity));
    (laid.lines, laid.rooms) = here.lines(notes);
    laid.lead = here.lead();
    let kept = ready.passed(on.panel);
    if let Some(kept) = kept {
        let lines = std::mem::take(&mut laid.lines);
        laid.lines = passed::keep(&here, kept, lines, faults);
    }
    let above = laid.lines.len();
    if let Some(author) = author {
        title::lay(ready, laid, &author, stands);
    }
    if let Some(kept) = kept {
        passed::keep_below(kept, laid, above, faults);
    }
}

/// Gives a panel its text area.
fn give_area(ready: ComposeInput<'_>, laid: &mut LaidPanel, id: AreaId) {
    laid.area = Some(*ready.set.areas.get(id));
    if let Some(shape) = ready.set.areas.shape(id) {
        laid.shape = shape.rectangles.clone();
        laid.slots = shape.slots.all().to_vec();
    }
}

/// Whether words stand on a panel; on one of a picture alone these are its captions.
pub(super) fn has_words(on: &PanelDivision) -> bool {
    on.role.has_words() || !on.rows.is_empty()
}
