//! What is said of files that were written, and of those that stood in their way.

use super::speak;
use crate::cli::files::Written;
use crate::json::records;
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

records! {
    /// What was done to the files of an output folder; their names are those below it.
    pub(super) struct WrittenRecord {
        /// Files that are new, or have a new content.
        written: Vec<String>,
        /// Files that already had the very bytes.
        unchanged: Vec<String>,
        /// Files of an earlier run that are no longer needed, and were removed.
        removed: Vec<String>,
        /// Files of your own that stood in the way, and have another name now.
        moved_aside: Vec<MovedAsideRecord>,
        /// Files of other commands that show what is no longer so: they would be made from something else now.
        out_of_date: Vec<String>,
    }

    /// A file that has another name now.
    pub(super) struct MovedAsideRecord {
        /// The name it had.
        from: String,
        /// The name it has.
        to: String,
    }
}

/// What was written, as a record for other programs, with what was written.
pub(super) fn record(written: &Written) -> WrittenRecord {
    let moved = written.moved_aside.iter();
    WrittenRecord {
        written: written.written.clone(),
        unchanged: written.unchanged.clone(),
        removed: written.removed.clone(),
        moved_aside: moved
            .map(|(from, to)| MovedAsideRecord::of(from, to))
            .collect(),
        out_of_date: written.out_of_date.clone(),
    }
}

impl MovedAsideRecord {
    pub(super) fn of(from: &str, to: &str) -> MovedAsideRecord {
        MovedAsideRecord {
            from: from.to_string(),
            to: to.to_string(),
        }
    }
}
