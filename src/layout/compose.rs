//! Putting set lines onto the panels that a division gives them.

use super::leads::{self, Leads};
use super::on_panel::OnPanel;
use super::title::{self, add_title};
use super::{
    LaidPanel, LaidPart, Layout, installed, leading, panel_order, passed, pictures, prose,
};
use crate::division::{Division, PanelDivision, PartDivision, Problem};
use crate::layout::breaks::{BREAKS_FILE, Breaks, KeptPanel};
use crate::names::{Faults, HalfLines, PanelName, Role};
use crate::paper::Strip;
use crate::plan::{Plan, RuleName};
use crate::setting::{self, AreaId, SetLines};
use crate::text::Manuscript;
use crate::typeface::{Shaper, Typeface};

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
    pub problems: &'a [Problem],
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
    let mut faults = Faults::new();
    let mut panels: Vec<LaidPanel> = ready
        .strip
        .panels()
        .map(|panel| outside_parts(ready, panel, &mut faults))
        .collect();
    let mut notes = notes_that_apply(ready);
    notes.extend(prose::without_patterns(ready));
    let leads = leads::of_spreads(ready);
    for (index, part) in ready.division.parts.iter().enumerate() {
        for laid in compose_part((ready, &leads), index, part, &mut (&mut notes, &mut faults)) {
            if let Some(panel) = panels.iter_mut().find(|panel| panel.panel == laid.panel) {
                *panel = laid;
            }
        }
    }
    find_picture_panels(&mut panels);
    notes.extend(pictures::rooms(ready, &panels));
    let parts = ready.set.parts.iter().zip(ready.problems);
    let parts = parts.zip(&ready.division.parts);
    let spare = parts.clone();
    notes
        .extend(spare.filter_map(|((part, problem), divided)| {
            pictures::spare(&part.name, problem, divided)
        }));
    for laid in &mut panels {
        let passed = ready.passed(laid.panel);
        laid.passed = passed.is_some();
        let page = [laid.size.0, laid.size.1, ready.plan.paper.bleed];
        faults.extend(passed.and_then(|kept| passed::other_page(kept, page)));
    }
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

fn empty(strip: &Strip, panel: PanelName, role: Role, picture: Option<String>) -> LaidPanel {
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

fn compose_part(
    (ready, leads): (ComposeInput<'_>, &Leads),
    index: usize,
    divided: &PartDivision,
    (notes, faults): &mut (&mut Vec<setting::Note>, &mut Faults),
) -> Vec<LaidPanel> {
    let part = &ready.set.parts[index];
    let problem = &ready.problems[index];
    let planned = &ready.plan.parts[part.plan_index];
    let shaper = Shaper::new(&part.typeface, &planned.language);
    let panels = divided
        .panels
        .iter()
        .zip(&problem.panels)
        .map(|(on, facts)| {
            let picture = on
                .picture
                .map(|picture| problem.pictures[picture].name.clone());
            let mut laid = empty(ready.strip, on.panel, on.role, picture.clone());
            laid.costs = on.costs.clone();
            laid.pinned = facts.role.is_some();
            let verse = problem.rows[on.rows.clone()].iter().any(|row| row.verse);
            laid.continues = problem.within_stanza(on.rows.start) && verse;
            if !has_words(on) {
                return laid;
            }
            let shared = picture.as_deref().filter(|_| on.role.has_picture());
            let Some(id) = ready.set.areas.of(on.panel, shared) else {
                return laid;
            };
            let Some(column) = part.column_of_area[id.0] else {
                return laid;
            };
            give_area(ready, &mut laid, id);
            if on.role == Role::Title && on.rows.is_empty() {
                add_title(ready, &mut laid, Some(&part.columns[column]), faults);
                if let Some(kept) = ready.passed(on.panel) {
                    passed::keep_added(kept, &mut laid, faults);
                }
                return laid;
            }
            let here = OnPanel {
                ready,
                part,
                problem,
                shaper: &shaper,
                on,
                together: leads.get(&on.panel).copied(),
                used: on.used,
                area: id,
                column,
            };
            lay_words(here, &mut laid, (notes, faults));
            laid
        });
    panels.collect()
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
fn has_words(on: &PanelDivision) -> bool {
    on.role.has_words() || !on.rows.is_empty()
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
