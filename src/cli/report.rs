//! Drawing faults: for people with the lines they are in, for programs as JSON.

use std::collections::BTreeMap;
use std::io::IsTerminal;
use std::ops::Range;

use ariadne::{Color, Config, IndexType, Label, Report, ReportKind, sources};

use super::{deeds, speak};
use crate::json::{self, Format, records};
use crate::names::{Fault, Faults, Location, Source};
use crate::setting::Note;

records! {
    /// Everything that is wrong; nothing was written.
    pub(super) struct FaultsRecord {
        /// The number of the form that this record has.
        format: Format,
        /// What is wrong, at least one thing.
        faults: Vec<FaultRecord>,
    }

    /// Something that is wrong.
    pub(super) struct FaultRecord {
        /// A short fixed word for its kind.
        word: &'static str,
        /// The sentence for people.
        what: String,
        /// Where it is, if it is in a text file.
        place: Option<PlaceRecord>,
        /// What was read there.
        read: Option<String>,
        /// What is allowed there.
        allowed: Option<String>,
        /// What was probably meant.
        meant: Option<String>,
        /// Other places that belong to it.
        also: Vec<AlsoRecord>,
        /// How to mend it.
        help: Option<String>,
    }

    /// A place in a text file.
    pub(super) struct PlaceRecord {
        /// The file.
        file: String,
        /// The line, from 1.
        line: usize,
        /// The character of the line, from 1.
        column: usize,
        /// The first byte of the file's text that it is about.
        from: usize,
        /// The byte behind the last.
        to: usize,
    }

    /// Another place that belongs to a fault.
    pub(super) struct AlsoRecord {
        /// What is there.
        words: String,
        ..place: PlaceRecord,
    }

    /// What there is to know.
    pub(super) struct RemarksRecord {
        /// What was given up, and what else there is to know.
        remarks: Vec<RemarkRecord>,
    }

    /// Something to know that is no fault.
    pub(super) struct RemarkRecord {
        /// A short fixed word for its kind. Null where it has none.
        word: Option<&'static str>,
        /// The sentence for people.
        what: String,
        /// Where it is, if it is in a text file.
        place: Option<PlaceRecord>,
    }
}

/// Tells all faults.
pub(super) fn faults(faults: &Faults, as_json: bool) {
    if as_json {
        let record = FaultsRecord {
            format: Format,
            faults: fault_records(faults),
        };
        speak::message(json::text(&record).trim_end());
        return;
    }
    for fault in faults {
        speak::message(&drawn(fault));
    }
    if faults.len() > 1 {
        speak::message(&format!(
            "{} things to mend; nothing was written.",
            faults.len()
        ));
    }
}

impl RemarkRecord {
    /// A remark in a sentence alone.
    pub(super) fn of(what: &str) -> RemarkRecord {
        RemarkRecord {
            word: None,
            what: what.to_string(),
            place: None,
        }
    }
}

impl From<&Note> for RemarkRecord {
    fn from(note: &Note) -> RemarkRecord {
        RemarkRecord {
            word: Some(note.word),
            what: note.what.clone(),
            place: note.place.as_ref().map(place_record),
        }
    }
}

pub(super) fn fault_records(faults: &[Fault]) -> Vec<FaultRecord> {
    faults.iter().map(fault_record).collect()
}

fn fault_record(fault: &Fault) -> FaultRecord {
    let also = fault.also.iter().map(|(place, words)| AlsoRecord {
        place: place_record(place),
        words: words.clone(),
    });
    FaultRecord {
        word: fault.word,
        what: fault.what.clone(),
        place: fault.place.as_ref().map(place_record),
        read: fault.read.clone(),
        allowed: fault.allowed.clone(),
        meant: fault.meant.clone(),
        also: also.collect(),
        help: deeds::help(fault),
    }
}

fn place_record(place: &Location) -> PlaceRecord {
    PlaceRecord {
        file: place.source.name.clone(),
        line: place.line(),
        column: place.column(),
        from: place.span.start,
        to: place.span.end,
    }
}

/// Ariadne names a span by its file and bytes.
type Span = (String, Range<usize>);

pub(super) fn drawn(fault: &Fault) -> String {
    let fault = &plain(fault);
    let Some(place) = &fault.place else {
        return without_place(fault);
    };
    if is_long(place) {
        return in_a_window(fault, place);
    }
    let span = |place: &Location| -> Span { (place.source.name.clone(), place.span.clone()) };
    let colour = std::io::stderr().is_terminal();
    let config = Config::default()
        .with_color(colour)
        .with_index_type(IndexType::Byte);
    let mut label = Label::new(span(place)).with_color(Color::Red);
    label = label.with_message(match &fault.meant {
        Some(meant) => format!("probably {meant}"),
        None => "here".to_string(),
    });
    let mut labels = vec![(place, label)];
    for (other, words) in &fault.also {
        let label = Label::new(span(other)).with_message(words);
        labels.push((other, label.with_color(Color::Yellow)));
    }
    // A label further up would begin a frame of its own, headed with the fault's place.
    let name = |place: &Location| place.source.name.clone();
    labels.sort_by_key(|(at, _)| (name(at) != name(place), name(at), at.span.start));
    let mut report = Report::build(ReportKind::Custom("Fault", Color::Red), span(place))
        .with_config(config)
        .with_message(&fault.what)
        .with_labels(labels.into_iter().map(|(_, label)| label));
    if let Some(allowed) = &fault.allowed {
        report = report.with_note(format!("allowed: {allowed}"));
    }
    if let Some(help) = deeds::help(fault) {
        report = report.with_help(help);
    }
    let mut texts: BTreeMap<String, &str> = BTreeMap::new();
    for place in std::iter::once(place).chain(fault.also.iter().map(|(place, _)| place)) {
        texts.insert(place.source.name.clone(), &place.source.text);
    }
    let mut bytes = Vec::new();
    let files = texts.into_iter();
    match report.finish().write(sources(files), &mut bytes) {
        Ok(()) => String::from_utf8_lossy(&bytes).trim_end().to_string(),
        Err(_) => without_place(fault),
    }
}

/// A fault that shows nothing which would act on a terminal: control characters, and what turns about what stands behind
/// it, are shown as signs that take as many bytes, so that every place stays where it is.
fn plain(fault: &Fault) -> Fault {
    let acts = |c: &char| {
        let breaks_a_line = matches!(c, '\t'..='\r' | '\u{85}');
        c.is_control() && !breaks_a_line
            || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    let sign = |c: char| match (acts(&c), c.len_utf8()) {
        (false, _) => c,
        (true, 1) => '?',
        (true, 2) => '¤',
        (true, _) => char::REPLACEMENT_CHARACTER,
    };
    let words = |text: &String| -> String { text.chars().map(sign).collect() };
    let place = |place: &Location| {
        let source = &place.source;
        match source.text.chars().any(|c| acts(&c)) {
            true => Location::new(
                &Source::new(source.name.as_str(), words(&source.text)),
                place.span.clone(),
            ),
            false => place.clone(),
        }
    };
    let also = fault.also.iter();
    Fault {
        word: fault.word,
        what: words(&fault.what),
        place: fault.place.as_ref().map(place),
        read: fault.read.as_ref().map(words),
        allowed: fault.allowed.as_ref().map(words),
        meant: fault.meant.as_ref().map(words),
        also: also.map(|(at, said)| (place(at), words(said))).collect(),
        help: fault.help.as_ref().map(words),
        deed: fault.deed.clone(),
    }
}

/// A line longer than this is a paragraph, which no terminal shows at once.
const LONG: usize = 200;
/// How much is shown of such a line before and behind what is pointed at, and of that from either end.
const AROUND: usize = 30;

/// Whether a place lies in a line that is too long to be drawn.
fn is_long(place: &Location) -> bool {
    let text = &place.source.text;
    let from = text[..place.span.start].rfind('\n').map_or(0, |at| at + 1);
    let to = text[place.span.end..].find('\n');
    let to = to.map_or(text.len(), |at| place.span.end + at);
    text[from..to]
        .lines()
        .any(|line| line.chars().count() > LONG)
}

/// A fault within a long paragraph: a few words of that, with what it is about in brackets.
fn in_a_window(fault: &Fault, place: &Location) -> String {
    let text = &place.source.text;
    let last = |text: &str| -> String {
        let letters = text.chars().count();
        let cut: String = text.chars().skip(letters.saturating_sub(AROUND)).collect();
        if letters > AROUND {
            format!("… {cut}")
        } else {
            cut
        }
    };
    let first = |text: &str| -> String {
        let cut: String = text.chars().take(AROUND).collect();
        if text.chars().count() > AROUND {
            format!("{cut} …")
        } else {
            cut
        }
    };
    let before = text[..place.span.start]
        .rsplit('\n')
        .next()
        .unwrap_or_default();
    let behind = text[place.span.end..]
        .split('\n')
        .next()
        .unwrap_or_default();
    let about = &text[place.span.clone()];
    let about = match about.chars().count() > 3 * AROUND {
        true => format!("{} {}", first(about), last(about).trim_start_matches("… ")),
        false => about.to_string(),
    };
    let (line, column) = (place.line(), place.column());
    let at = format!(
        "  in {}, line {line}, column {column}: {}[{}]{}",
        place.source.name,
        last(before),
        about.replace('\n', " "),
        first(behind),
    );
    let whole = without_place(fault);
    let (what, rest) = whole.split_once('\n').unwrap_or((&whole, ""));
    let lines = [what, &at, rest];
    let lines = lines.into_iter().filter(|line| !line.is_empty());
    lines.collect::<Vec<_>>().join("\n")
}

fn without_place(fault: &Fault) -> String {
    let alone = Fault {
        place: None,
        also: Vec::new(),
        help: deeds::help(fault),
        ..fault.clone()
    };
    format!("Fault: {alone}")
}
