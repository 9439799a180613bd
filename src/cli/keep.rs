//! Writing `breaks.toml`.

use std::path::Path;

use super::written::MovedAsideRecord;
use crate::book::{BreaksUpdate, Workbench};
use crate::cli::files::Held;
use crate::layout::breaks::{self, BREAKS_FILE, WayName};
use crate::names::{Faults, Source};

/// Writes the file. An old one that was edited by hand, and so may say more than the program reads, is kept beside it:
/// its name is given.
pub(super) fn write(
    held: &Held,
    before: Option<&Source>,
    text: &str,
) -> Result<Option<String>, Faults> {
    write_file(held, BREAKS_FILE, before, text)
}

/// Keeps a way by name, and leaves what is chosen as it is; the rest as [`write`].
pub(super) fn write_way(
    held: &Held,
    bench: &Workbench,
    update: &BreaksUpdate,
    way: &WayName,
) -> Result<Option<String>, Faults> {
    let before = bench.way_file(way)?;
    let text = update.way_text(way)?;
    write_file(held, &way.file(), before.as_deref(), &text)
}

fn write_file(
    held: &Held,
    name: &str,
    before: Option<&Source>,
    text: &str,
) -> Result<Option<String>, Faults> {
    if before.is_some_and(|before| before.text == text) {
        return Ok(None);
    }
    let read = before.map(|before| before.text.as_bytes());
    Ok(held.replace(name, read, text.as_bytes(), edited(before))?)
}

/// Whether a file is not as the program would write what it reads in it.
fn edited(before: Option<&Source>) -> bool {
    let Some(before) = before else { return false };
    let source = Source::new(before.name.as_str(), before.text.as_str());
    breaks::read(&source).is_ok_and(|read| breaks::write(&read) != before.text)
}

/// The sentence that tells of an old file kept.
pub(super) fn told(kept: Option<&str>) -> String {
    match kept {
        Some(kept) => format!("The file as you edited it is kept as {kept}.\n"),
        None => String::new(),
    }
}

/// The sentence that tells of a way kept by name.
pub(super) fn told_way(book: &Path, way: &WayName, kept: Option<&str>) -> String {
    format!(
        "This way is kept as {way}, in {}: `flow --with {way}` shows it, and `flow --with {way} --keep` chooses it.\n{}",
        book.join(way.file()).display(),
        told(kept)
    )
}

/// What became of an old file, as a record for other programs.
pub(super) fn record(kept: Option<&str>) -> Vec<MovedAsideRecord> {
    let moved = kept.map(|kept| MovedAsideRecord::of(BREAKS_FILE, kept));
    moved.into_iter().collect()
}

/// Where the file is, for people.
pub(super) fn path(book: &Path) -> String {
    book.join(BREAKS_FILE).display().to_string()
}
