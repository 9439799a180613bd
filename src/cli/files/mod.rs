//! Reading an author's text files, replacing them one by one, and writing output folders whole or not at all.

#[cfg(test)]
mod bad_disk;
mod changes;
mod disk;
mod folder;
mod guard;
mod installed;
mod lasting;
mod listed;
mod manifest;
mod own;
#[cfg(test)]
mod own_tests;
mod read;
mod reason;
#[cfg(test)]
mod tests;

use std::path::Path;

use crate::names::Fault;
use manifest::Entry;

pub use crate::outputs::OutputFile;

pub use disk::write_new;
pub use listed::{Listed, other_than_listed, read_listed};
pub use manifest::{ListedRecord, ManifestRecord};
pub use own::{Held, hold};
pub use read::read_text;
pub use reason::cannot_say;

/// What was done to an output folder. Names are as in [`OutputFile`]. The manifest is not among them,
/// unless something that was no manifest had its name and was moved aside.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[non_exhaustive]
pub struct Written {
    /// Files that are new or have a new content.
    pub written: Vec<String>,
    /// Files that already had the very bytes and were left untouched.
    pub unchanged: Vec<String>,
    /// Files of an earlier run that are no longer wanted and were removed.
    pub removed: Vec<String>,
    /// Somebody's own work that stood in the way, or under the name of a file that is no longer wanted: its name, and the
    /// name it has now.
    pub moved_aside: Vec<(String, String)>,
    /// Files of other commands that were made from something else than what they would be made from now.
    pub out_of_date: Vec<String>,
}

/// What a run says of files by their names.
#[derive(Clone, Copy)]
struct Whose<'a> {
    made_from: &'a dyn Fn(&str) -> Option<String>,
    mine: &'a dyn Fn(&str, bool) -> bool,
}

impl Whose<'_> {
    fn is_out_of_date(&self, entry: &Entry) -> bool {
        let now = (self.made_from)(&entry.name);
        now.is_some() && now != entry.made_from
    }

    fn is_mine(&self, entry: &Entry) -> bool {
        (self.mine)(&entry.name, self.is_out_of_date(entry))
    }
}

/// Writes `files` under `folder` and then `folder/manifest.json`; all or nothing. `made_from` gives a fingerprint of all
/// that the file of a name shows, as it would be made now; the manifest keeps it, so that a file is known to be out of date
/// when another is made. Of what earlier runs wrote, only names that are `mine` may be removed: it is asked with the name
/// and whether the file is out of date. What another command wrote stays, and stays on the list.
///
/// The folder is made when it is missing. With `within`, the folder must lie inside that one, links
/// followed. What is in the way and was not written by an earlier run is moved aside, never
/// overwritten. A run that is cut short is finished by the next one.
///
/// # Errors
/// A [`Fault`] of the word `bad-name` (a name that is no plain relative name, or that is there
/// twice), `leads-out` (a link leads out of the book or of the folder), `busy` (another run is
/// writing there), `newer` (a newer version of the program wrote the manifest) or `cannot-write` (with the operating
/// system's reason; what was there before is whole and in its place).
pub fn write_all(
    folder: &Path,
    within: Option<&Path>,
    files: &[OutputFile],
    made_from: impl Fn(&str) -> Option<String>,
    mine: impl Fn(&str, bool) -> bool,
) -> Result<Written, Fault> {
    let whose = Whose {
        made_from: &made_from,
        mine: &mine,
    };
    folder::write_all(&disk::RealDisk, folder, within, files, whose)
}
