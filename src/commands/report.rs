//! Drawing faults: for people with the lines they are in, for programs as JSON.

use std::collections::BTreeMap;
use std::io::IsTerminal;
use std::ops::Range;

use ariadne::{Color, Config, IndexType, Label, Report, ReportKind, sources};
use serde_json::{Value, json};

use super::speak;
use crate::fault::{Fault, Place};
use crate::lines::Note;

/// Tells all faults.
pub(super) fn faults(faults: &[Fault], as_json: bool) {
    if as_json {
        let list: Vec<Value> = faults.iter().map(fault_value).collect();
        let value = json!({ "faults": list });
        speak::message(&serde_json::to_string_pretty(&value).unwrap_or_default());
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

/// A remark as JSON.
pub(super) fn note_value(note: &Note) -> Value {
    json!({ "word": note.word, "what": note.what, "place": note.place.as_ref().map(place_value) })
}

pub(super) fn fault_value(fault: &Fault) -> Value {
    let also = fault.also.iter().map(|(place, words)| {
        let mut value = place_value(place);
        value["words"] = json!(words);
        value
    });
    json!({
        "word": fault.word,
        "what": fault.what,
        "place": fault.place.as_ref().map(place_value),
        "read": fault.read,
        "allowed": fault.allowed,
        "meant": fault.meant,
        "also": also.collect::<Vec<_>>(),
        "help": fault.help,
    })
}

fn place_value(place: &Place) -> Value {
    json!({
        "file": place.source.name,
        "line": place.line(),
        "column": place.column(),
        "from": place.span.start,
        "to": place.span.end,
    })
}

/// Ariadne names a span by its file and bytes.
type Span = (String, Range<usize>);

pub(super) fn drawn(fault: &Fault) -> String {
    let Some(place) = &fault.place else {
        return without_place(fault);
    };
    let span = |place: &Place| -> Span { (place.source.name.clone(), place.span.clone()) };
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
    let name = |place: &Place| place.source.name.clone();
    labels.sort_by_key(|(at, _)| (name(at) != name(place), name(at), at.span.start));
    let mut report = Report::build(ReportKind::Custom("Fault", Color::Red), span(place))
        .with_config(config)
        .with_message(&fault.what)
        .with_labels(labels.into_iter().map(|(_, label)| label));
    if let Some(allowed) = &fault.allowed {
        report = report.with_note(format!("allowed: {allowed}"));
    }
    if let Some(help) = &fault.help {
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

fn without_place(fault: &Fault) -> String {
    let mut lines = vec![format!("Fault: {}", fault.what)];
    lines.extend(
        fault
            .allowed
            .iter()
            .map(|allowed| format!("  allowed: {allowed}")),
    );
    lines.extend(
        fault
            .meant
            .iter()
            .map(|meant| format!("  probably: {meant}")),
    );
    lines.extend(fault.help.iter().map(|help| format!("  help: {help}")));
    lines.join("\n")
}
