//! What is said of files that were written, and of those that stood in their way.

use serde_json::{Value, json};

use super::speak;
use crate::cli::files::Written;
use crate::outputs::Kind;

/// Says which files were moved aside, and which show what is no longer so.
pub(super) fn tell(written: &Written) {
    for (from, to) in &written.moved_aside {
        speak::message(&format!(
            "{from} was not as the program left it: it is kept as {to}."
        ));
    }
    let (files, calls) = by_command(&written.out_of_date);
    if !calls.is_empty() {
        speak::message(&format!(
            "Out of date, for the book has changed since: {files}. Make anew what you need: {calls}."
        ));
    }
}

/// Says which files were taken away because they showed what is no longer so. What this run would have written, were it
/// still so, is `asked` for; of the others it is told how they are made anew.
pub(super) fn tell_removed(removed: &[String], asked: impl Fn(&str) -> bool) {
    if removed.is_empty() {
        return;
    }
    let others: Vec<String> = removed
        .iter()
        .filter(|name| !asked(name))
        .cloned()
        .collect();
    let (_, calls) = by_command(&others);
    let anew = match calls.is_empty() {
        true => String::new(),
        false => format!(" Make anew what you need: {calls}."),
    };
    let removed = removed.join(", ");
    speak::message(&format!(
        "Removed, for the book has changed since: {removed}.{anew}"
    ));
}

/// Files in few words, and what makes them anew.
fn by_command(files: &[String]) -> (String, String) {
    let mut groups: Vec<(&'static str, Vec<&str>)> = Vec::new();
    for name in files {
        let Some(kind) = Kind::of(name) else { continue };
        let call = call(kind);
        match groups.iter_mut().find(|(known, _)| *known == call) {
            Some((_, names)) => names.push(name),
            None => groups.push((call, vec![name])),
        }
    }
    let few = |names: &[&str]| match names {
        [one, other, _, ..] => format!("{one}, {other} and {} more", names.len() - 2),
        few => few.join(", "),
    };
    let files: Vec<String> = groups.iter().map(|(_, names)| few(names)).collect();
    let calls: Vec<&str> = groups.iter().map(|(call, _)| *call).collect();
    (files.join(", "), calls.join(", "))
}

/// The call that writes a kind of file.
fn call(kind: Kind) -> &'static str {
    match kind {
        Kind::Layer | Kind::ContactSheet | Kind::Record => "versefold layers",
        Kind::Trials => "versefold trials",
        Kind::Dummy => "versefold dummy",
        Kind::Sheet { x4: false } | Kind::Guide => "versefold strip",
        Kind::Sheet { x4: true } => "versefold strip --x4",
        Kind::WordsSheet { x4: false } => "versefold strip --words-only",
        Kind::WordsSheet { x4: true } => "versefold strip --words-only --x4",
        Kind::Plate => "versefold strip --plate",
    }
}

/// The same for other programs, with what was written.
pub(super) fn value(written: &Written) -> Value {
    let moved = written.moved_aside.iter();
    json!({
        "written": written.written,
        "unchanged": written.unchanged,
        "removed": written.removed,
        "moved_aside": moved.map(|(from, to)| json!({ "from": from, "to": to })).collect::<Vec<_>>(),
        "out_of_date": written.out_of_date,
    })
}
