//! Building the problem: from a set part and the plan to what the division needs to know.

mod behind;
mod sentence;
mod stack;

use crate::names::{Fault, Faults, Location, PanelName, nearest};
use crate::paper::Strip;
use crate::plan::{Begins, PanelPlan, Plan};
use crate::rules::{AreaFacts, Behind, Ending, PanelFacts, PictureFacts, Problem, RowFacts};
use crate::setting::{AreaId, Areas, Row, SetLines, SetPart};
use crate::text::{BODY, LineKind, Manuscript, Part, PictureCall, TextLine};

use behind::{of_no_part, too_many_facing};
use sentence::ending;

/// The problem of dividing one part.
///
/// # Errors
/// Pinned first words that no line begins with, or that more than one does.
pub fn build_problem(
    manuscript: &Manuscript,
    plan: &Plan,
    strip: &Strip,
    set: &SetLines,
    part: &SetPart,
) -> Result<Problem, Faults> {
    let written = &manuscript.parts()[part.manuscript_index];
    let planned = &plan.parts[part.plan_index];
    let pictures = pictures(written, part, plan, &planned.on);
    let mut faults = Faults::new();
    let leafing = strip.leafing();
    let panels = planned.on.iter().enumerate().map(|(index, &panel)| {
        let pin = plan.pin(panel);
        let begins = pin.and_then(|pin| pin.begins.as_ref());
        let begins = begins.and_then(|begins| match find_begin(begins, part) {
            Ok(row) => Some(row),
            Err(fault) => {
                faults.push(fault);
                None
            }
        });
        let spread = leafing.iter().position(|spread| spread.contains(&panel));
        let behind = strip.behind(panel);
        let before = index.checked_sub(1).map(|before| planned.on[before]);
        PanelFacts {
            begins,
            spread: spread.unwrap_or(0),
            opens_spread: spread.is_some_and(|at| leafing[at].first() == Some(&panel)),
            follows: before.is_some_and(|before| panel.follows(before)),
            behind: behind.and_then(|other| planned.on.iter().position(|panel| *panel == other)),
            back: behind.map_or(Behind::default(), |other| {
                of_no_part(plan, other, &planned.on)
            }),
            ..panel_facts(panel, pin, &pictures, &set.areas, part)
        }
    });
    let mut panels: Vec<PanelFacts> = panels.collect();
    spread_pinned(&pictures, &mut panels);
    let rows = row_facts(written, part, &pictures);
    let mut problem = Problem {
        stack: stack::of(part),
        opening: opening(&part.rows),
        chosen_ends: Vec::new(),
        printed_ends: Vec::new(),
        body: part.name == BODY,
        rules: plan.rules.clone(),
        blanks_unsaid: plan.rules.blanks.is_none(),
        rows,
        word_panels: 1,
        panels,
        pictures,
    };
    faults.extend(too_many_facing(&problem, plan));
    problem.ask_usual_blanks();
    problem.mark_long_stanzas();
    problem.count_word_panels();
    if faults.is_empty() {
        Ok(problem)
    } else {
        Err(faults)
    }
}

/// A picture that is pinned stands on all its panels.
fn spread_pinned(pictures: &[PictureFacts], panels: &mut [PanelFacts]) {
    for (index, picture) in pictures.iter().enumerate() {
        let from = picture.panel.unwrap_or(panels.len());
        for panel in panels.iter_mut().skip(from).take(picture.spans) {
            panel.picture = Some(index);
        }
    }
}

/// How many rows are the title that opens the part, with what stands beside it: what a title panel carries. A `[new panel]`
/// ends them.
fn opening(rows: &[Row]) -> usize {
    let goes_on =
        |(at, row): &(usize, &Row)| row.kind.is_of_title() && (*at == 0 || !row.new_panel);
    let of_title = rows.iter().enumerate().take_while(goes_on).count();
    let titled = rows[..of_title]
        .iter()
        .any(|row| row.kind == LineKind::Title);
    if titled { of_title } else { 0 }
}

fn row_facts(written: &Part, part: &SetPart, pictures: &[PictureFacts]) -> Vec<RowFacts> {
    let caption = |line: usize| {
        let call = written.captions.iter().find(|call| call.line == line)?;
        let own = |picture: &PictureFacts| picture.name == call.name;
        pictures.iter().position(own)
    };
    // Who speaks, an ornament, room, a caption: none is part of a sentence, which stands as the verse above left it.
    let mut sentence = Ending::Sentence;
    // Headings that follow each other begin one section.
    let (mut section, mut heading) = (0, false);
    let mut facts = Vec::with_capacity(part.places.len());
    for row in part.rows.iter() {
        let begins = row.kind.is_titling() && !heading;
        section += usize::from(begins);
        heading = row.kind.is_titling();
        let verse = row.kind.is_verse();
        if verse {
            sentence = ending(&row.shaped.text);
        }
        let whole = RowFacts {
            block: row.block,
            verse,
            prose: false,
            inner: false,
            joined: row.joined,
            section,
            kept: row.kept,
            may_divide: row.may_divide,
            new_panel: row.new_panel,
            ending: sentence,
            too_long: false,
            caption: caption(row.line),
        };
        match &row.paragraph {
            None => facts.push(whole),
            Some(paragraph) => {
                let places: Vec<usize> = paragraph.places().collect();
                let ends = places.iter().skip(1).map(|&at| paragraph.breaks[at].end);
                let ends = ends.chain([row.shaped.text.len()]);
                let begins = places.iter().map(|&at| paragraph.breaks[at].next);
                let line = &written.lines[row.line];
                facts.extend(paragraph_facts(whole, line, row, begins.zip(ends)));
                sentence = facts.last().map_or(sentence, |last| last.ending);
            }
        }
    }
    facts
}

/// The facts of a paragraph's words, place by place: from where each begins to where the next one does.
fn paragraph_facts(
    whole: RowFacts,
    line: &TextLine,
    row: &Row,
    places: impl Iterator<Item = (usize, usize)>,
) -> Vec<RowFacts> {
    let text = &row.shaped.text;
    let joints = line.joints.iter().map(|joint| {
        let at = row.shaped.text_of_source(joint.bytes.start);
        (at, joint.kept, joint.may_divide)
    });
    let mut joints = joints.peekable();
    let mut kept = whole.kept;
    let facts = places.enumerate().map(|(number, (from, to))| {
        let mut may_divide = number == 0 && whole.may_divide;
        while let Some((_, held, may)) = joints.next_if(|joint| joint.0 <= from) {
            kept = held;
            may_divide |= may;
        }
        RowFacts {
            prose: true,
            inner: number > 0,
            joined: number == 0 && whole.joined,
            new_panel: number == 0 && whole.new_panel,
            kept,
            may_divide,
            ending: ending(&text[..to]),
            ..whole
        }
    });
    facts.collect()
}

/// The pictures of a part: those its callouts name, in order, then those pinned to its panels by the plan
/// alone.
fn pictures(part: &Part, set: &SetPart, plan: &Plan, on: &[PanelName]) -> Vec<PictureFacts> {
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
                word_row: word_row(set, call),
                panel: pin.and_then(|pin| on.iter().position(|panel| *panel == pin.panel)),
                queued: pin.is_none(),
                ..of_plan(plan, &call.name)
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
                ..of_plan(plan, name)
            });
        }
    }
    for picture in &mut pictures {
        if let Some(planned) = plan.picture(&picture.name) {
            picture.spans = usize::from(planned.spans);
            picture.whole_spread = planned.whole_spread;
            picture.leaves_room = planned.leaves.place.is_some();
            picture.heavy = planned.heavy;
        }
    }
    pictures
}

/// What the plan asks of a picture.
fn of_plan(plan: &Plan, name: &str) -> PictureFacts {
    PictureFacts {
        name: String::new(),
        word_row: None,
        panel: None,
        queued: false,
        spans: 1,
        leaves_room: false,
        whole_spread: false,
        comes: plan.picture_comes(name),
        with: plan.picture_with(name),
        blank_before: plan.blank_before.iter().any(|asked| asked.name == name),
        reveal: plan.reveal.iter().any(|asked| asked.name == name),
        heavy: false,
    }
}

/// The row of the last word before a picture's callout; the first where none stands before.
fn word_row(set: &SetPart, call: &PictureCall) -> Option<usize> {
    let last = set.places.len().checked_sub(1)?;
    // Captions stand with pictures, and are no words that a picture belongs to.
    let words = |row: &Row| row.kind != LineKind::Caption;
    let Some(line) = set.rows[..call.after].iter().rposition(words) else {
        let first = set.rows.iter().position(words);
        return Some(first.map_or(0, |first| set.place_of(first, 0)));
    };
    let next = set.place_of(line + 1, 0).min(last + 1);
    let within = set.rows.get(line).is_some_and(|row| row.kind.is_prose());
    let behind = if within {
        set.place_of(line, call.place.span.start).min(next)
    } else {
        next
    };
    Some(behind.saturating_sub(1))
}

fn panel_facts(
    panel: PanelName,
    pin: Option<&PanelPlan>,
    pictures: &[PictureFacts],
    areas: &Areas,
    part: &SetPart,
) -> PanelFacts {
    let facts = |id: AreaId| {
        Some(AreaFacts {
            column: part.column_of_area[id.0]?,
            capacity: areas.get(id).depth(),
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
            .map(|picture| {
                // A picture over several panels has no captions either where it leaves no room.
                let has_place = picture.spans == 1 || picture.leaves_room;
                of(Some(&picture.name)).filter(|_| has_place)
            })
            .collect(),
        lets_words: pin.is_some_and(lets_words),
        fullness: pin.and_then(|pin| pin.fullness),
        begins: None,
        ends: None,
        chosen: None,
        passed: None,
        spread: 0,
        opens_spread: false,
        follows: false,
        behind: None,
        back: Behind::default(),
    }
}

/// Whether a pin of a picture says that words stand beside it: how they begin, where they stand, or how full the panel
/// is of them.
fn lets_words(pin: &PanelPlan) -> bool {
    let speaks = pin.begins.is_some()
        || pin.margins.place.is_some()
        || pin.shape.is_some()
        || pin.fullness.is_some();
    pin.picture.is_some() && pin.role.is_none() && speaks
}

fn find_begin(begins: &Begins, part: &SetPart) -> Result<usize, Fault> {
    let folded = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    // Of a long paragraph only the beginning is looked at: white space may be wider than one byte there.
    let enough = begins.words.len() * 4 + 16;
    let starts = |text: &str| {
        let to = text
            .char_indices()
            .nth(enough)
            .map_or(text.len(), |(at, _)| at);
        folded(&text[..to]).starts_with(&begins.words)
    };
    let words = |place: usize| {
        let at = &part.places[place];
        let row = &part.rows[at.row];
        let from = match &row.paragraph {
            Some(paragraph) if at.at > 0 => paragraph.breaks[at.at].next,
            _ => 0,
        };
        &row.shaped.text[from..]
    };
    let mut found = (0..part.places.len()).filter(|&place| starts(words(place)));
    let fault = |what: String, place: &Location| {
        Fault::new("begins", what)
            .at(place.clone())
            .read(&begins.words)
    };
    match (found.next(), found.next()) {
        (Some(row), None) => Ok(row),
        (Some(_), Some(_)) => {
            let what = format!("more than one place begins with “{}”", begins.words);
            Err(fault(what, &begins.place).help("write more of the line's words"))
        }
        (None, _) => {
            let what = format!(
                "no place in the part `{}` begins with “{}”",
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
