//! Putting set lines onto the panels that a division gives them.

use super::glyphs::RunBuilder;
use super::title::add_title;
use super::{LaidLine, LaidPanel, LaidPart, LaidRoom, Layout, passed, prose};
use crate::division::{Division, PanelDivision, PartDivision, Problem};
use crate::layout::breaks::{BREAKS_FILE, Breaks, KeptPanel};
use crate::names::Faults;
use crate::names::Length;
use crate::names::{Direction, PanelName, Role};
use crate::paper::Strip;
use crate::plan::{PartPlan, Plan, RuleName, Vertical};
use crate::setting::{self, Area, Piece, RowPlace, SetLines, SetPart};
use crate::text::{LineKind, Manuscript};
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
    for (index, part) in ready.division.parts.iter().enumerate() {
        for laid in compose_part(ready, index, part, &mut (&mut notes, &mut faults)) {
            if let Some(panel) = panels.iter_mut().find(|panel| panel.panel == laid.panel) {
                *panel = laid;
            }
        }
    }
    find_picture_panels(&mut panels);
    for laid in &mut panels {
        let passed = ready.passed(laid.panel);
        laid.passed = passed.is_some();
        let page = [laid.size.0, laid.size.1, ready.plan.paper.bleed];
        faults.extend(passed.and_then(|kept| passed::other_page(kept, page)));
    }
    notes.extend(as_chosen(ready));
    notes.extend(passed::by_an_older_version(ready.breaks));
    if !faults.is_empty() {
        return Err(passed::together(faults));
    }
    let gave_way = ready.set.parts.iter().zip(&ready.division.parts);
    Ok(Layout {
        title: ready.plan.title.clone(),
        language: ready.plan.language.clone(),
        date: ready.plan.date,
        strip: ready.strip.clone(),
        grid: ready.set.areas.grid(),
        parts: laid_parts(ready),
        panels,
        cost: ready.division.cost(),
        proved: ready.division.proved(),
        bound: ready.division.bound(),
        rules: ready.plan.rules.clone(),
        gave_way: gave_way
            .flat_map(|(part, divided)| {
                divided
                    .gave_way
                    .iter()
                    .map(|rule| (part.name.clone(), *rule))
            })
            .collect(),
        notes,
    })
}

fn laid_parts(ready: ComposeInput<'_>) -> Vec<LaidPart> {
    let parts = ready.set.parts.iter().map(|part| {
        let planned = &ready.plan.parts[part.plan_index];
        LaidPart {
            name: part.name.clone(),
            on: planned.on.clone(),
            size: planned.text.size,
            grid: ready.set.areas.grid(),
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
    fn passed(&self, panel: PanelName) -> Option<&KeptPanel> {
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
    if role == Role::Title {
        add_title(ready, &mut laid, None);
    }
    let of_part = ready.plan.parts.iter().any(|part| part.on.contains(&panel));
    if let Some(kept) = ready.passed(panel).filter(|_| !of_part) {
        passed::keep_added(kept, &mut laid, faults);
    }
    laid
}

fn empty(strip: &Strip, panel: PanelName, role: Role, picture: Option<String>) -> LaidPanel {
    let paper = strip.paper();
    LaidPanel {
        panel,
        passed: false,
        size: (paper.width_of(panel), paper.panel_height),
        role,
        picture,
        picture_panels: Vec::new(),
        area: None,
        shape: Vec::new(),
        slots: Vec::new(),
        lead: 0,
        fullness: None,
        costs: Vec::new(),
        continues: false,
        lines: Vec::new(),
        rooms: Vec::new(),
    }
}

fn compose_part(
    ready: ComposeInput<'_>,
    index: usize,
    divided: &PartDivision,
    (notes, faults): &mut (&mut Vec<setting::Note>, &mut Faults),
) -> Vec<LaidPanel> {
    let part = &ready.set.parts[index];
    let problem = &ready.problems[index];
    let planned = &ready.plan.parts[part.plan_index];
    let shaper = Shaper::new(&part.typeface, &planned.language);
    let panels = divided.panels.iter().map(|on| {
        let picture = on
            .picture
            .map(|picture| problem.pictures[picture].name.clone());
        let mut laid = empty(ready.strip, on.panel, on.role, picture.clone());
        laid.costs = on.costs.clone();
        let verse = problem.rows[on.rows.clone()].iter().any(|row| row.verse);
        laid.continues = problem.within_stanza(on.rows.start) && verse;
        if !has_words(on) {
            return laid;
        }
        let shared = picture.as_deref().filter(|_| on.role.has_picture());
        let Some(id) = ready.set.areas.of(on.panel, shared) else {
            return laid;
        };
        let Some(setting) = part.setting_of_area[id.0] else {
            return laid;
        };
        let area = *ready.set.areas.get(id);
        laid.area = Some(area);
        let shape = ready.set.areas.shape(id);
        if let Some(shape) = shape {
            laid.shape = shape.rectangles.clone();
            laid.slots = shape.slots.all().to_vec();
        }
        laid.fullness = Some((on.used, on.capacity));
        if on.role == Role::Title && on.rows.is_empty() {
            add_title(ready, &mut laid, part.settings.get(setting).copied());
            if let Some(kept) = ready.passed(on.panel) {
                passed::keep_added(kept, &mut laid, faults);
            }
            return laid;
        }
        let here = OnPanel {
            ready,
            part,
            shaper: &shaper,
            on,
            area,
            setting,
        };
        (laid.lines, laid.rooms) = here.lines(notes);
        if laid.slots.is_empty() {
            laid.lead = here.first_half_line();
        }
        if let Some(kept) = ready.passed(on.panel) {
            laid.lines = passed::keep(&here, kept, laid.lines, faults);
        }
        laid
    });
    panels.collect()
}

/// Whether words stand on a panel; on one of a picture alone these are its captions.
fn has_words(on: &PanelDivision) -> bool {
    on.role.has_words() || !on.rows.is_empty()
}

/// One panel of a part with words.
pub(super) struct OnPanel<'a> {
    pub ready: ComposeInput<'a>,
    pub part: &'a SetPart,
    pub shaper: &'a Shaper<'a>,
    pub on: &'a PanelDivision,
    area: Area,
    pub setting: usize,
}

impl OnPanel<'_> {
    pub(super) fn planned(&self) -> &PartPlan {
        &self.ready.plan.parts[self.part.plan_index]
    }

    pub(super) fn leading(&self) -> Length {
        self.ready.set.areas.leading()
    }

    /// The lines, and the room that is left empty among them.
    fn lines(&self, notes: &mut Vec<setting::Note>) -> (Vec<LaidLine>, Vec<LaidRoom>) {
        if let Some(on_slots) = self.part.on_slots(self.setting) {
            return self.lines_on_slots(on_slots, notes);
        }
        let mut half_lines = self.first_half_line();
        let (mut lines, mut rooms) = (Vec::new(), Vec::new());
        let baseline = |half_lines: u32| {
            self.area.first_baseline + self.leading().scaled(i64::from(half_lines), 2)
        };
        let places = &self.part.places[self.on.rows.clone()];
        for (number, places) in places.chunk_by(|one, next| one.row == next.row).enumerate() {
            let index = places[0].row;
            let row = &self.part.rows[index];
            if number > 0 {
                half_lines += row.space_above;
            }
            if let Some(breaks) = self.breaks(index, places) {
                let on_line = |line: u32| baseline(half_lines + line * 2);
                let (mut laid, mut said) = self.paragraph(index, breaks, on_line);
                half_lines += match breaks {
                    // One that ends beside a large initial is as high as that.
                    (0, to) if self.ends_paragraph(index, to) => row.at[self.setting].height,
                    _ => laid.len() as u32 * 2,
                };
                lines.append(&mut laid);
                notes.append(&mut said);
                continue;
            }
            for (number, piece) in row.at[self.setting].pieces.iter().enumerate() {
                let on = baseline(half_lines + piece.baseline);
                let measure = self.part.settings[self.setting].measure;
                lines.push(self.line(index, piece, number == 0, (on, measure)));
            }
            let height = row.at[self.setting].height;
            if matches!(row.kind, LineKind::Room(_)) {
                rooms.push(LaidRoom {
                    baseline: baseline(half_lines),
                    half_lines: height,
                    space_above: row.space_above,
                });
            }
            half_lines += height;
        }
        (lines, rooms)
    }

    /// From which to which of its breaks a paragraph stands here; nothing for other rows.
    pub(super) fn breaks(&self, row: usize, places: &[RowPlace]) -> Option<(usize, usize)> {
        let paragraph = self.part.rows[row].paragraph.as_ref()?;
        let next = self.part.places.get(self.on.rows.end);
        let to = match next {
            Some(next) if next.row == row => next.at,
            _ => paragraph.breaks.len() - 1,
        };
        Some((places[0].at, to))
    }

    pub(super) fn ends_paragraph(&self, row: usize, to: usize) -> bool {
        let paragraph = &self.part.rows[row].paragraph;
        paragraph
            .as_ref()
            .is_some_and(|paragraph| to + 1 == paragraph.breaks.len())
    }

    /// The lowest baseline that the text area has.
    pub(super) fn last_baseline(&self) -> Length {
        let lines = i64::from(self.area.capacity.max(1)) - 1;
        self.area.first_baseline + self.leading() * lines
    }

    /// Where the first row stands: at the head, or lower where the words are asked to stand lower.
    fn first_half_line(&self) -> u32 {
        let panel = self.on.panel;
        lead(
            self.ready,
            panel,
            self.on.role,
            self.on.used,
            self.on.capacity,
        )
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
            space_above: if first { row.space_above } else { 0 },
            text: row.shaped.text[text.clone()].to_string(),
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

/// How many half lines of the area stay free above the words. A title without a place of its own stands
/// where the eye rests: two fifths of the free space above it.
pub(super) fn lead(
    ready: ComposeInput<'_>,
    panel: PanelName,
    role: Role,
    used: u32,
    capacity: u32,
) -> u32 {
    let free = capacity.saturating_sub(used) / 2;
    let pinned = ready.plan.pin(panel).and_then(|pin| pin.vertical);
    let lines = match (ready.set.areas.vertical(panel), role, pinned) {
        (_, Role::Title, None) => free * 2 / 5,
        (Vertical::Head, ..) => 0,
        (Vertical::Centre, ..) => free / 2,
        (Vertical::Foot, ..) => free,
    };
    lines * 2
}

/// Of the remarks made while setting, those about lines as they came to stand.
fn notes_that_apply(ready: ComposeInput<'_>) -> Vec<setting::Note> {
    let mut notes = Vec::new();
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
            let setting = ready.set.areas.of(on.panel, name);
            let Some(setting) = setting.and_then(|id| part.setting_of_area[id.0]) else {
                continue;
            };
            let here = &part.places[on.rows.clone()];
            let stands_here = |row: usize| here.iter().any(|place| place.row == row);
            notes.extend(
                part.notes
                    .iter()
                    .filter(|note| note.setting == setting && stands_here(note.row))
                    .map(|note| note.note.clone()),
            );
        }
    }
    notes
}
