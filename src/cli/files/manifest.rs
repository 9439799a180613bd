//! The list of what was written to an output folder, and the journal of what is being written.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use serde::Deserialize;
use sha2::{Digest, Sha256};

use crate::json::{self, FORMAT, Format, records};
use crate::names::Fault;
use crate::outputs::OutputFile;

/// The list of a finished run.
pub(super) const MANIFEST: &str = "manifest.json";

/// The list of a run under way, in the same form. It may name a file more than once: the contents
/// that earlier runs, cut short, may have left.
pub(super) const JOURNAL: &str = ".next-manifest.json";

/// The largest list that is read, in bytes.
const MAX_LIST: u64 = 16 << 20;

records! {
    /// `manifest.json`: what the program wrote to an output folder.
    pub struct ManifestRecord {
        /// The number of the form that this record has.
        format: Format,
        /// The files, by name.
        files: Vec<ListedRecord>,
    }

    /// A file that the program wrote.
    pub struct ListedRecord {
        /// Its name below the folder.
        name: String,
        /// The SHA-256 of its content, in hexadecimal digits.
        sha256: String,
        /// How many bytes it has.
        bytes: u64,
        /// A fingerprint of what it was made from. Null where that is not known.
        made_from: Option<String>,
    }
}

/// A list of files, in order.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
pub(super) struct Manifest {
    pub(super) files: Vec<Entry>,
}

/// One file of a list.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
pub(super) struct Entry {
    pub(super) name: String,
    /// SHA-256 of the content in lower-case hexadecimal digits.
    pub(super) sha256: String,
    /// The content's length.
    pub(super) bytes: u64,
    /// A fingerprint of what it was made from, where that is known.
    pub(super) made_from: Option<String>,
}

/// Which form a list has; the first told no number.
#[derive(Deserialize)]
struct Form {
    format: Option<u64>,
}

impl Manifest {
    /// The list of `files`, sorted by name, with what each is made from.
    pub(super) fn of(files: &[OutputFile], made_from: &dyn Fn(&str) -> Option<String>) -> Manifest {
        let mut files: Vec<Entry> = files
            .iter()
            .map(|file| Entry {
                name: file.name.clone(),
                sha256: checksum(&file.bytes),
                bytes: file.bytes.len() as u64,
                made_from: made_from(&file.name),
            })
            .collect();
        files.sort();
        Manifest { files }
    }

    /// The entries of a name.
    fn entries(&self, name: &str) -> &[Entry] {
        let first = self
            .files
            .partition_point(|entry| entry.name.as_str() < name);
        let from = &self.files[first..];
        &from[..from.partition_point(|entry| entry.name == name)]
    }

    /// Whether a file of that name is on the list.
    pub(super) fn names(&self, name: &str) -> bool {
        !self.entries(name).is_empty()
    }

    /// This list with the entries of `earlier` added.
    pub(super) fn with(&self, earlier: &Manifest) -> Manifest {
        let all: BTreeSet<&Entry> = self.files.iter().chain(&earlier.files).collect();
        Manifest {
            files: all.into_iter().cloned().collect(),
        }
    }

    /// Reads a list, entries with unsafe names left out; nothing when there is no list of ours.
    pub(super) fn read(path: &Path) -> Option<Manifest> {
        let mut list: Manifest = serde_json::from_slice(&text(path)?).ok()?;
        list.files.retain(|entry| is_plain(&entry.name));
        list.files.sort();
        Some(list)
    }

    /// The list as it is written.
    pub(super) fn to_json(&self) -> Vec<u8> {
        let files = self.files.iter().map(|entry| ListedRecord {
            name: entry.name.clone(),
            sha256: entry.sha256.clone(),
            bytes: entry.bytes,
            made_from: entry.made_from.clone(),
        });
        let record = ManifestRecord {
            format: Format,
            files: files.collect(),
        };
        json::text(&record).into_bytes()
    }

    /// Whether the list names this content under this name.
    pub(super) fn knows(&self, name: &str, sha256: &str) -> bool {
        let mut entries = self.entries(name).iter();
        entries.any(|entry| entry.sha256 == sha256)
    }
}

/// Refuses a list that a newer version of the program wrote: what stands in its folder could be taken for somebody's own.
///
/// # Errors
/// A [`Fault`] of the word `newer`.
pub(super) fn refuse_newer(path: &Path) -> Result<(), Fault> {
    let form = text(path).and_then(|text| serde_json::from_slice::<Form>(&text).ok());
    let newer = form
        .and_then(|form| form.format)
        .filter(|format| *format > FORMAT);
    let Some(format) = newer else { return Ok(()) };
    let what = format!(
        "a newer version of the program wrote `{}` (format {format}, and this one reads {FORMAT})",
        path.display()
    );
    Err(Fault::new("newer", what).help(
        "use that version, or move the folder away: all that the program writes there it can write again",
    ))
}

/// The bytes of a list; nothing where there is none.
fn text(path: &Path) -> Option<Vec<u8>> {
    let metadata = path.symlink_metadata().ok()?;
    let is_list = metadata.is_file() && metadata.len() <= MAX_LIST;
    is_list.then(|| fs::read(path).ok()).flatten()
}

/// SHA-256 in lower-case hexadecimal digits.
pub(super) fn checksum(bytes: &[u8]) -> String {
    Sha256::digest(bytes)
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

/// Whether a name is relative, stays below its folder on every system, and is not one of ours.
pub(super) fn is_plain(name: &str) -> bool {
    name != MANIFEST
        && !name.contains(|c: char| c.is_control() || matches!(c, '\\' | ':'))
        // This also leaves out `.`, `..`, absolute names and doubled slashes.
        && name
            .split('/')
            .all(|part| !part.is_empty() && !part.starts_with('.'))
}
