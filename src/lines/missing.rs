//! Characters that no face has, and words that no measure holds.

use std::collections::HashMap;
use std::ops::Range;

use super::{Note, Row, RowNote, Setting};
use crate::fault::{Fault, Faults};
use crate::manuscript::{Manuscript, Part, TextLine};
use crate::typeface::{Shaper, Shelf};

/// A fault for every character that no face has, with every place it stands.
pub(super) fn missing(
    manuscript: &Manuscript,
    rows: &[Row],
    lines: &[TextLine],
    shaper: &Shaper<'_>,
    shelf: &Shelf,
) -> Faults {
    let mut places: Vec<(String, Vec<Range<usize>>)> = Vec::new();
    let mut known: HashMap<String, usize> = HashMap::new();
    for row in rows {
        // A large initial is looked at by itself.
        let initial = row.shaped.drop.iter().map(|drop| drop.text.clone());
        let rest = row.shaped.start()..row.shaped.trimmed_end(row.shaped.text.len());
        let stretches = initial.chain([rest]);
        for word in stretches.flat_map(|stretch| row.shaped.set(shaper, stretch).to_vec()) {
            for &(at, length) in &word.shaped.missing {
                let from = word.text.start + at;
                let cluster = row.shaped.text[from..from + length].to_string();
                let sources = row.shaped.sources(from..from + length);
                let bytes = sources
                    .first()
                    .map_or(lines[row.line].bytes.clone(), |s| s.0..s.1);
                let index = *known.entry(cluster.clone()).or_insert_with(|| {
                    places.push((cluster, Vec::new()));
                    places.len() - 1
                });
                places[index].1.push(bytes);
            }
        }
    }
    places
        .iter()
        .map(|(cluster, found)| no_face(manuscript, cluster, found, shelf))
        .collect()
}

fn no_face(manuscript: &Manuscript, cluster: &str, found: &[Range<usize>], shelf: &Shelf) -> Fault {
    let named: Vec<String> = cluster
        .chars()
        .map(|c| {
            let name = unicode_names2::name(c).map(|name| name.to_string());
            format!(
                "U+{:04X} {}",
                c as u32,
                name.unwrap_or_else(|| "without a name".to_string())
            )
        })
        .collect();
    let times = match found.len() {
        1 => String::new(),
        2 => ", twice".to_string(),
        n => format!(", {n} times"),
    };
    let mut fault = Fault::new(
        "no-face",
        format!("no face has {}{times}", named.join(" with ")),
    )
    .read(cluster);
    for (index, bytes) in found.iter().enumerate() {
        let place = manuscript.place(bytes.clone());
        fault = if index == 0 {
            fault.at(place)
        } else {
            fault.also(place, "and here")
        };
    }
    let families = shelf.families_with(cluster);
    fault.help(match families.first() {
        Some(family) => format!("add a face that has it to the plan: fallback = [\"{family}\"]"),
        None => {
            "name a font file that has it in the plan: fallback = [\"fonts/NAME.ttf\"]".to_string()
        }
    })
}

/// Words that have to be broken because they alone are wider than a measure.
pub(super) fn notes(
    manuscript: &Manuscript,
    part: &Part,
    rows: &[Row],
    settings: &[Setting],
) -> Vec<RowNote> {
    let mut notes = Vec::new();
    for (setting, measure) in settings.iter().map(|setting| setting.measure).enumerate() {
        for (index, row) in rows.iter().enumerate() {
            if row.at[setting].pieces.iter().any(|piece| piece.broken) {
                let note = Note {
                    word: "wide-word",
                    what: format!("a word is wider than the measure of {measure} and is broken"),
                    place: Some(manuscript.place(part.lines[row.line].bytes.clone())),
                };
                notes.push(RowNote {
                    row: index,
                    setting,
                    note,
                });
            }
        }
    }
    notes
}
