//! Characters that no face has, and words that no measure holds.

use std::collections::HashMap;
use std::ops::Range;

use super::{Note, Row, RowNote, Setting};
use crate::fault::{Fault, Faults};
use crate::manuscript::{Manuscript, Part, TextLine};
use crate::typeface::{Shaper, Shelf};

/// So many characters that one family has, or none, are told one by one; more of them in one fault.
const FEW: usize = 4;

/// A fault for every character that no face has, with every place it stands; one for all of a script that is
/// missing.
pub(super) fn missing(
    manuscript: &Manuscript,
    rows: &[Row],
    lines: &[TextLine],
    shaper: &Shaper<'_>,
    shelf: &Shelf,
) -> Faults {
    let mut places: Vec<Missing> = Vec::new();
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
    // What one family would mend is told together.
    let mut kinds: Vec<(Option<&str>, Vec<&Missing>)> = Vec::new();
    for one in &places {
        let family = shelf.families_with(&one.0).into_iter().next();
        match kinds.iter_mut().find(|(known, _)| *known == family) {
            Some((_, all)) => all.push(one),
            None => kinds.push((family, vec![one])),
        }
    }
    let faults = kinds.into_iter().flat_map(|(family, all)| {
        let faults = match all.as_slice() {
            many if many.len() > FEW => vec![no_faces(manuscript, many)],
            few => few.iter().map(|one| no_face(manuscript, one)).collect(),
        };
        faults.into_iter().map(move |fault| {
            fault.help(match &family {
                Some(family) => {
                    format!("add a face that has it to the plan: fallback = [\"{family}\"]")
                }
                None => "name a font file that has it in the plan: fallback = [\"fonts/NAME.ttf\"]"
                    .to_string(),
            })
        })
    });
    faults.collect()
}

/// A character, and where it stands.
type Missing = (String, Vec<Range<usize>>);

fn no_face(manuscript: &Manuscript, (cluster, found): &Missing) -> Fault {
    let times = match found.len() {
        1 => String::new(),
        2 => ", twice".to_string(),
        n => format!(", {n} times"),
    };
    let mut fault =
        Fault::new("no-face", format!("no face has {}{times}", named(cluster))).read(cluster);
    for (index, bytes) in found.iter().enumerate() {
        let place = manuscript.place(bytes.clone());
        fault = if index == 0 {
            fault.at(place)
        } else {
            fault.also(place, "and here")
        };
    }
    fault
}

/// Many characters, told by the first of them and by how they look.
fn no_faces(manuscript: &Manuscript, all: &[&Missing]) -> Fault {
    const SHOWN: usize = 24;
    let (first, found) = all[0];
    let rest: Vec<&str> = all[1..].iter().map(|one| one.0.as_str()).collect();
    let more = if rest.len() > SHOWN { " …" } else { "" };
    let fault = Fault::new(
        "no-face",
        format!(
            "no face has {}, nor {} more characters: {}{more}",
            named(first),
            rest.len(),
            rest[..rest.len().min(SHOWN)].join(" ")
        ),
    );
    let fault = fault.read(first);
    match found.first() {
        Some(bytes) => fault.at(manuscript.place(bytes.clone())),
        None => fault,
    }
}

/// A cluster by the numbers and names of its characters.
fn named(cluster: &str) -> String {
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
    named.join(" with ")
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
