//! Callouts: bracketed lines that speak to the typesetter.

use crate::names::{Fault, Length, Location, Measure, SetAs, nearest, stands_in_a_name};

/// Room asked for by `[space: …]`, above zero; `em` and `line` are the part's.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RoomRequest(Measure);

impl RoomRequest {
    /// The room as a length, at this size and leading.
    pub fn resolve(self, size: Length, leading: Length) -> Length {
        self.0.resolve(size, leading)
    }
}

/// What a callout says.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Callout {
    Picture(String),
    Caption(String),
    NewPanel,
    MayDivide,
    KeepTogether,
    EndTogether,
    SetAs(SetAs),
    Epigraph,
    Attribution,
    Subtitle,
    Author,
    Space(RoomRequest),
    Part(String),
}

/// Callouts that stand alone, and those that take a word after a colon.
const ALONE: [(&str, Callout); 10] = [
    ("new panel", Callout::NewPanel),
    ("may divide", Callout::MayDivide),
    ("keep together", Callout::KeepTogether),
    ("end together", Callout::EndTogether),
    ("set as verse", Callout::SetAs(SetAs::Verse)),
    ("set as prose", Callout::SetAs(SetAs::Prose)),
    ("epigraph", Callout::Epigraph),
    ("attribution", Callout::Attribution),
    ("subtitle", Callout::Subtitle),
    ("author", Callout::Author),
];
const WITH_WORDS: [&str; 4] = ["picture", "caption", "space", "part"];

const ALLOWED: &str = "[picture: NAME], [caption: NAME], [new panel], [may divide], [keep together], \
                       [end together], [subtitle], [author], [epigraph], [attribution], [space: 30 mm], \
                       [part: NAME], [set as verse], [set as prose]";

/// Reads a callout with its brackets.
///
/// # Errors
/// An unknown callout with the likely meaning and how to write it as text; a missing name; a length that
/// cannot be read.
pub(super) fn read(written: &str, place: &Location) -> Result<Callout, Fault> {
    let inside = written.trim_start_matches('[').trim_end_matches(']');
    if inside.contains(']') {
        let what = format!("more than one callout stands in the line `{written}`");
        return Err(Fault::new("callout", what)
            .at(place.clone())
            .read(written)
            .help(format!(
                "give each a line of its own; if these are the client's words, write \\{written}"
            )));
    }
    let folded = inside.split_whitespace().collect::<Vec<_>>().join(" ");
    let lower = folded.to_lowercase();
    if let Some((_, callout)) = ALONE.iter().find(|(word, _)| *word == lower) {
        return Ok(callout.clone());
    }
    let (head, words) = match folded.split_once(':') {
        Some((head, words)) => (head.trim().to_lowercase(), Some(words.trim())),
        None => (lower.clone(), None),
    };
    match (head.as_str(), words.filter(|words| !words.is_empty())) {
        ("picture" | "caption" | "part", Some(name)) if !name.chars().all(stands_in_a_name) => {
            Err(unseen(name, place))
        }
        ("picture", Some(name)) => Ok(Callout::Picture(name.to_string())),
        ("caption", Some(name)) => Ok(Callout::Caption(name.to_string())),
        ("part", Some(name)) => Ok(Callout::Part(name.to_string())),
        ("space", Some(length)) => room(written, length, place),
        (head, None) if WITH_WORDS.contains(&head) => Err(unfinished(written, head, place)),
        _ => Err(unknown(written, &head, words, place)),
    }
}

/// A name with a sign in it that is not seen: two that look alike would not be the same.
fn unseen(name: &str, place: &Location) -> Fault {
    let sign = name
        .chars()
        .find(|&c| !stands_in_a_name(c))
        .map_or(0, u32::from);
    let what =
        format!("the name in this callout holds a character that is not seen (U+{sign:04X})");
    Fault::new("control-character", what)
        .at(place.clone())
        .allowed("characters that are seen, and spaces")
}

fn room(written: &str, length: &str, place: &Location) -> Result<Callout, Fault> {
    match Measure::read(length) {
        Ok(measure) if measure.resolve(Length::pt(10), Length::pt(10)) > Length::ZERO => {
            Ok(Callout::Space(RoomRequest(measure)))
        }
        _ => Err(
            Fault::new("callout", format!("`{length}` is no room to leave empty"))
                .at(place.clone())
                .read(written)
                .allowed(
                    "a length above nothing: a number and mm, cm, in, pt, pica, didot, em or line",
                )
                .help("write for example [space: 30 mm]"),
        ),
    }
}

fn unfinished(written: &str, head: &str, place: &Location) -> Fault {
    let example = match head {
        "space" => "[space: 30 mm]",
        "part" => "[part: colophon]",
        "caption" => "[caption: the tunnel]",
        _ => "[picture: the tunnel]",
    };
    Fault::new(
        "callout",
        format!("the callout `{written}` is not finished"),
    )
    .at(place.clone())
    .read(written)
    .allowed(format!("a colon and what is meant, such as {example}"))
}

fn unknown(written: &str, head: &str, words: Option<&str>, place: &Location) -> Fault {
    let known = ALONE.iter().map(|(word, _)| *word).chain(WITH_WORDS);
    let meant = nearest(head, known).map(|word| match words {
        Some(words) if WITH_WORDS.contains(&word) => format!("[{word}: {words}]"),
        _ => format!("[{word}]"),
    });
    Fault::new(
        "unknown-callout",
        format!("there is no callout `{written}`"),
    )
    .at(place.clone())
    .read(written)
    .allowed(ALLOWED)
    .meant(meant)
    .help(format!(
        "if these are the client's words, write \\{written}"
    ))
}
