//! Putting set lines onto the panels that a division gives them.

use std::sync::Arc;

use super::leads;
use super::panels::{compose_part, has_words};
use super::remembered::Remembered;
use super::title::add_title;
use super::{
    LaidPanel, LaidPart, Layout, installed, leading, panel_order, passed, pictures, prose,
};
use crate::division::{Division, Problem};
use crate::layout::breaks::{BREAKS_FILE, Breaks, KeptPanel};
use crate::names::{Faults, HalfLines, PanelName, Role};
use crate::paper::Strip;
use crate::plan::{Plan, RuleName};
use crate::setting::{self, SetLines};
use crate::text::Manuscript;
use crate::typeface::Typeface;

/// What a layout is made of.
#[derive(Clone, Copy)]
pub struct ComposeInput<'a> {
    /// The manuscript.
    pub manuscript: &'a Manuscript,
    /// The plan.
    pub plan: &'a Plan,
    /// The folded strip.
    pub strip: &'a Strip,
    /// The set lines.
    pub set: &'a SetLines,
    /// The problems that were solved, one for each part.
    pub problems: &'a [Arc<Problem>],
    /// The answer.
    pub division: &'a Division,
    /// What the author chose and passed, if anything.
    pub breaks: Option<&'a Breaks>,
    /// Panels of which what was chosen is gone.
    pub lost: &'a [PanelName],
    /// The plan's own typeface, for words that the program adds.
    pub typeface: &'a Typeface,
}

/// Places every line on its panel.
///
/// # Errors
/// Lines of panels that are passed for press and cannot stay as they are printed: by how much they would move, and
/// what would mend that.
pub fn compose(ready: ComposeInput<'_>) -> Result<Layout, Faults> {
    compose_again(ready, &mut Remembered::none())
}

/// Places the lines as [`compose`] does; what is remembered of the last time is used, and what this time finds is
/// remembered. It must be of the same plan.
///
/// # Errors
/// As [`compose`].
pub fn compose_again(
    ready: ComposeInput<'_>,
    remembered: &mut Remembered,
) -> Result<Layout, Faults> {
    let mut faults = Faults::new();
    let mut panels: Vec<LaidPanel> = ready
        .strip
        .panels()
        .map(|panel| outside_parts(ready, panel, &mut faults))
        .collect();
    let mut notes = notes_that_apply(ready);
    notes.extend(prose::without_patterns(ready));
    let leads = leads::of_spreads(ready);
    let mut made = Vec::new();
    for (index, part) in ready.division.parts.iter().enumerate() {
        let given = (ready, &leads, &*remembered);
        for (laid, from) in compose_part(given, index, part, &mut (&mut notes, &mut faults)) {
            made.extend(from.map(|from| (laid.panel, from)));
            if let Some(panel) = panels.iter_mut().find(|panel| panel.panel == laid.panel) {
                *panel = laid;
            }
        }
    }
    find_picture_panels(&mut panels);
    notes.extend(pictures::rooms(ready, &panels));
    let parts = ready.set.parts.iter().zip(ready.problems);
    let parts = parts.zip(&ready.division.parts);
    notes.extend(spare_rooms(ready));
    mark_passed(ready, &mut panels, &mut faults);
    remembered.keep(made, &panels);
    notes.extend(leading::notes(ready, &panels));
    notes.extend(panel_order::notes(ready, &panels));
    notes.extend(as_chosen(ready));
    notes.extend(passed::by_an_older_version(ready.breaks));
    if !faults.is_empty() {
        return Err(passed::together(faults));
    }
    Ok(Layout {
        title: ready.plan.title.clone(),
        author: ready
            .plan
            .author
            .as_ref()
            .map(|author| author.words.clone()),
        language: ready.plan.language.clone(),
        date: ready.plan.date,
        strip: ready.strip.clone(),
        grid: ready.set.areas.grid(),
        parts: laid_parts(ready),
        panels,
        pictures: parts
            .flat_map(|((_, problem), divided)| pictures::of_part(problem, divided))
            .collect(),
        cost: ready.division.cost(),
        proved: ready.division.proved(),
        bound: ready.division.bound(),
        rules: ready.plan.rules.clone(),
        gave_way: gave_way(ready),
        notes,
    })
}

/// Marks the panels that are passed for press, whose page must be as large as it was.
fn mark_passed(ready: ComposeInput<'_>, panels: &mut [LaidPanel], faults: &mut Faults) {
    for laid in panels {
        let passed = ready.passed(laid.panel);
        laid.passed = passed.is_some();
        let page = [laid.size.0, laid.size.1, ready.plan.paper.bleed];
        faults.extend(passed.and_then(|kept| passed::other_page(kept, page)));
    }
}

/// What is told of parts with far more panels than they need.
fn spare_rooms(ready: ComposeInput<'_>) -> Vec<setting::Note> {
    let parts = ready.set.parts.iter().zip(ready.problems);
    let parts = parts.zip(&ready.division.parts);
    let spare = parts
        .filter_map(|((part, problem), divided)| pictures::spare(&part.name, problem, divided));
    spare.collect()
}

/// The rules that gave way, by part.
fn gave_way(ready: ComposeInput<'_>) -> Vec<(String, RuleName)> {
    let parts = ready.set.parts.iter().zip(&ready.division.parts);
    let rules = parts.flat_map(|(part, divided)| {
        let rules = divided.gave_way.iter();
        rules.map(|rule| (part.name.clone(), *rule))
    });
    rules.collect()
}

fn laid_parts(ready: ComposeInput<'_>) -> Vec<LaidPart> {
    let parts = ready.set.parts.iter().map(|part| {
        let planned = &ready.plan.parts[part.plan_index];
        LaidPart {
            name: part.name.clone(),
            on: planned.on.clone(),
            size: planned.text.size,
            lines_run: planned.text.lines_run,
            grid: ready.set.areas.grid_on(&planned.on),
        }
    });
    parts.collect()
}

/// What to say where every panel stands as the author chose it.
fn as_chosen(ready: ComposeInput<'_>) -> Option<setting::Note> {
    let mut costs = ready
        .division
        .parts
        .iter()
        .flat_map(|part| &part.panels)
        .flat_map(|on| &on.costs);
    let kept = ready.breaks.is_some_and(Breaks::chosen)
        && ready.lost.is_empty()
        && !costs.any(|(rule, _)| *rule == RuleName::ChosenBreaks);
    if !ready.lost.is_empty() {
        let lost: Vec<String> = ready.lost.iter().map(ToString::to_string).collect();
        return Some(setting::Note {
            word: "chosen-lost",
            what: format!(
                "what was chosen for {} is no longer there, its words or its picture: divided anew",
                lost.join(", ")
            ),
            place: None,
        });
    }
    kept.then(|| setting::Note {
        word: "as-chosen",
        what: format!("the panels stand as they were chosen in {BREAKS_FILE}"),
        place: None,
    })
}

impl ComposeInput<'_> {
    /// What is kept of a panel that is passed for press.
    pub(super) fn passed(&self, panel: PanelName) -> Option<&KeptPanel> {
        let kept = self.breaks?.panel(panel)?;
        kept.passed.is_some().then_some(kept)
    }
}

/// Enters on which panels each picture stands: those that follow each other and have the same one.
fn find_picture_panels(panels: &mut [LaidPanel]) {
    let same = |one: &LaidPanel, next: &LaidPanel| {
        one.picture.is_some() && one.picture == next.picture && next.panel.follows(one.panel)
    };
    for run in panels.chunk_by_mut(same) {
        let on: Vec<PanelName> = run.iter().map(|panel| panel.panel).collect();
        for panel in run.iter_mut().filter(|panel| panel.picture.is_some()) {
            panel.picture_panels = on.clone();
        }
    }
}

/// A panel that no part has: blank, or what is pinned to it, or pasted down.
fn outside_parts(ready: ComposeInput<'_>, panel: PanelName, faults: &mut Faults) -> LaidPanel {
    let pin = ready.plan.pin(panel);
    let mut pins = ready.plan.panels.iter();
    let picture = pins.find(|pin| ready.plan.stretch(pin).any(|on| on == panel));
    let picture = picture.and_then(|pin| pin.picture.clone());
    let pasted = ready.plan.paper.cover == crate::names::Cover::Boards
        && ready.strip.outside().contains(&panel);
    let role = match pin.and_then(|pin| pin.role) {
        _ if pasted => Role::PasteDown,
        Some(Role::Title) => Role::Title,
        _ if picture.is_some() => Role::Picture,
        _ => Role::Blank,
    };
    let mut laid = empty(ready.strip, panel, role, picture);
    let of_part = ready.plan.parts.iter().any(|part| part.on.contains(&panel));
    if role == Role::Title && !of_part {
        add_title(ready, &mut laid, None, faults);
    }
    if let Some(kept) = ready.passed(panel).filter(|_| !of_part) {
        passed::keep_added(kept, &mut laid, faults);
    }
    laid
}

/// A panel without words.
pub(super) fn empty(
    strip: &Strip,
    panel: PanelName,
    role: Role,
    picture: Option<String>,
) -> LaidPanel {
    let paper = strip.paper();
    LaidPanel {
        panel,
        pinned: false,
        passed: false,
        size: (paper.width_of(panel), paper.panel_height),
        role,
        picture,
        picture_panels: Vec::new(),
        area: None,
        shape: Vec::new(),
        slots: Vec::new(),
        lead: HalfLines::ZERO,
        fullness: None,
        costs: Vec::new(),
        continues: false,
        lines: Vec::new(),
        rooms: Vec::new(),
    }
}

/// What is told of the plan, and those remarks made while setting that are about lines as they came to stand.
fn notes_that_apply(ready: ComposeInput<'_>) -> Vec<setting::Note> {
    let mut notes = installed::typefaces(ready.plan);
    for (part, divided) in ready.set.parts.iter().zip(&ready.division.parts) {
        for on in divided.panels.iter().filter(|on| has_words(on)) {
            let shared = on.picture.filter(|_| on.role.has_picture());
            let index = ready
                .set
                .parts
                .iter()
                .position(|known| known.name == part.name);
            let name = shared
                .zip(index)
                .map(|(picture, index)| ready.problems[index].pictures[picture].name.as_str());
            let area = ready.set.areas.of(on.panel, name);
            let Some(column) = area.and_then(|id| part.column_of_area[id.0]) else {
                continue;
            };
            let here = &part.places[on.rows.clone()];
            let stands_here = |row: usize| here.iter().any(|place| place.row == row);
            notes.extend(
                part.notes
                    .iter()
                    .filter(|note| note.column == column && stands_here(note.row))
                    .map(|note| note.note.clone()),
            );
        }
    }
    notes
}
