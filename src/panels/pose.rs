//! Posing the problem: from a set part and the plan to what the search needs to know.

use super::problem::{AreaFacts, Ending, PanelFacts, PictureFacts, Problem, RowFacts};
use crate::fault::{Fault, Faults, Place, nearest};
use crate::lines::{AreaId, Areas, SetLines, SetPart};
use crate::manuscript::{BODY, LineKind, Manuscript, Part};
use crate::plan::{Begins, PanelName, PanelPlan, Plan};

/// The problem of dividing one part.
///
/// # Errors
/// Pinned first words that no line begins with, or that more than one does.
pub fn pose(
    manuscript: &Manuscript,
    plan: &Plan,
    set: &SetLines,
    part: &SetPart,
) -> Result<Problem, Faults> {
    let written = &manuscript.parts()[part.manuscript_index];
    let planned = &plan.parts[part.plan_index];
    let pictures = pictures(written, plan, &planned.on);
    let mut faults = Vec::new();
    let panels = planned.on.iter().map(|&panel| {
        let pin = plan.pin(panel);
        let begins = pin.and_then(|pin| pin.begins.as_ref());
        let begins = begins.and_then(|begins| match find_begin(begins, part) {
            Ok(row) => Some(row),
            Err(fault) => {
                faults.push(fault);
                None
            }
        });
        panel_facts(panel, pin, begins, &pictures, &set.areas, part)
    });
    let panels = panels.collect();
    let problem = Problem {
        rows: row_facts(part),
        heights: (0..part.settings.len())
            .map(|setting| part.rows.iter().map(|row| row.at[setting].height).collect())
            .collect(),
        panels,
        opening: part
            .rows
            .iter()
            .take_while(|row| row.kind.is_heading())
            .count(),
        body: part.name == BODY,
        rules: plan.rules.clone(),
        pictures,
    };
    if faults.is_empty() {
        Ok(problem)
    } else {
        Err(faults)
    }
}

fn row_facts(part: &SetPart) -> Vec<RowFacts> {
    // Who speaks, an ornament, room: none is part of a sentence, which stands as the verse above left it.
    let mut sentence = Ending::Sentence;
    let facts = part.rows.iter().map(|row| {
        let verse = matches!(row.kind, LineKind::Verse | LineKind::Epigraph);
        if verse {
            sentence = ending(&row.shaped.text);
        }
        RowFacts {
            block: row.block,
            verse,
            space_above: row.space_above,
            joined: row.joined,
            kept: row.kept,
            may_divide: row.may_divide,
            new_panel: row.new_panel,
            ending: sentence,
        }
    });
    facts.collect()
}

/// How the last word of a line leaves the sentence; what closes quotations and brackets is looked through.
fn ending(text: &str) -> Ending {
    let bare =
        text.trim_end_matches([' ', '\t', '”', '’', '"', '\'', '»', '›', '“', '‘', ')', ']']);
    if bare.ends_with(['.', '!', '?', '…', '。', '！', '？', '؟', '।']) {
        Ending::Sentence
    } else if bare.ends_with([',', ':', ';', '—', '–', '―', '-', '·', '،', '؛', '、']) {
        Ending::Pause
    } else {
        Ending::RunsOn
    }
}

/// The pictures of a part: those its callouts name, in order, then those pinned to its panels by the plan
/// alone.
fn pictures(part: &Part, plan: &Plan, on: &[PanelName]) -> Vec<PictureFacts> {
    let pinned_to = |name: &str| {
        plan.panels
            .iter()
            .find(|pin| pin.picture.as_deref() == Some(name))
    };
    let mut pictures: Vec<PictureFacts> = part
        .pictures
        .iter()
        .map(|call| {
            let pin = pinned_to(&call.name);
            PictureFacts {
                name: call.name.clone(),
                word_row: (!part.lines.is_empty()).then(|| call.after.saturating_sub(1)),
                panel: pin.and_then(|pin| on.iter().position(|panel| *panel == pin.panel)),
                queued: pin.is_none(),
            }
        })
        .collect();
    for pin in &plan.panels {
        let Some(name) = &pin.picture else { continue };
        let panel = on.iter().position(|panel| *panel == pin.panel);
        if panel.is_some() && !pictures.iter().any(|picture| picture.name == *name) {
            pictures.push(PictureFacts {
                name: name.clone(),
                word_row: None,
                panel,
                queued: false,
            });
        }
    }
    pictures
}

fn panel_facts(
    panel: PanelName,
    pin: Option<&PanelPlan>,
    begins: Option<usize>,
    pictures: &[PictureFacts],
    areas: &Areas,
    part: &SetPart,
) -> PanelFacts {
    let facts = |id: AreaId| {
        let setting = part.setting_of_area[id.0]?;
        Some(AreaFacts {
            setting,
            capacity: areas.get(id).capacity.saturating_mul(2),
        })
    };
    let of = |picture: Option<&str>| areas.of(panel, picture).and_then(facts);
    let picture = pin.and_then(|pin| pin.picture.as_deref());
    PanelFacts {
        name: panel,
        role: pin.and_then(|pin| pin.role),
        picture: picture.and_then(|name| pictures.iter().position(|p| p.name == name)),
        area: of(None),
        shared: pictures
            .iter()
            .map(|picture| of(Some(&picture.name)))
            .collect(),
        fullness: pin.and_then(|pin| pin.fullness),
        begins,
    }
}

fn find_begin(begins: &Begins, part: &SetPart) -> Result<usize, Fault> {
    let folded = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let starts = |text: &str| folded(text).starts_with(&begins.words);
    let mut found = (0..part.rows.len()).filter(|&row| starts(&part.rows[row].shaped.text));
    let fault = |what: String, place: &Place| {
        Fault::new("begins", what)
            .at(place.clone())
            .read(&begins.words)
    };
    match (found.next(), found.next()) {
        (Some(row), None) => Ok(row),
        (Some(_), Some(_)) => {
            let what = format!("more than one line begins with “{}”", begins.words);
            Err(fault(what, &begins.place).help("write more of the line's words"))
        }
        (None, _) => {
            let what = format!(
                "no line of the part `{}` begins with “{}”",
                part.name, begins.words
            );
            let length = begins.words.chars().count();
            let openings: Vec<String> = part
                .rows
                .iter()
                .map(|row| folded(&row.shaped.text).chars().take(length).collect())
                .collect();
            Err(fault(what, &begins.place).meant(
                nearest(&begins.words, openings.iter().map(String::as_str)).map(str::to_string),
            ))
        }
    }
}
