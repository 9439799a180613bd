//! Reading an author's text files, replacing them one by one, and writing output folders whole or not at all.

// A fault is made once in a run that then ends; its size costs nothing.
#![allow(clippy::result_large_err)]

#[cfg(test)]
mod bad_disk;
mod changes;
mod disk;
mod encoding;
mod folder;
mod guard;
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
use crate::outputs::OutputFile;

pub use disk::write_new;
pub use listed::{Listed, other_than_listed, read_listed};
pub use own::{Held, hold};
pub use read::{open, read_text, unreadable};

/// What was done to an output folder. Names are as in [`OutputFile`]. The manifest is not among them,
/// unless something that was no manifest had its name and was moved aside.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Written {
    /// Files that are new or have a new content.
    pub written: Vec<String>,
    /// Files that already had the very bytes and were left untouched.
    pub unchanged: Vec<String>,
    /// Files of an earlier run that are no longer wanted and were removed.
    pub removed: Vec<String>,
    /// Somebody's own work that stood in the way: its name, and the name it has now.
    pub moved_aside: Vec<(String, String)>,
    /// Files of an earlier run that are no longer wanted, but were edited and so were left.
    pub kept: Vec<String>,
}

/// Writes `files` under `folder` and then `folder/manifest.json`; all or nothing. Of what earlier runs wrote, only
/// names that are `mine` may be removed; what another command wrote stays, and stays on the list.
///
/// The folder is made when it is missing. With `within`, the folder must lie inside that one, links
/// followed. What is in the way and was not written by an earlier run is moved aside, never
/// overwritten. A run that is cut short is finished by the next one.
///
/// # Errors
/// A [`Fault`] of the word `bad-name` (a name that is no plain relative name, or that is there
/// twice), `leads-out` (a link leads out of the book or of the folder), `busy` (another run is
/// writing there) or `cannot-write` (with the operating system's reason; what was there before is
/// whole and in its place).
pub fn write_all(
    folder: &Path,
    within: Option<&Path>,
    files: &[OutputFile],
    mine: impl Fn(&str) -> bool,
) -> Result<Written, Fault> {
    folder::write_all(&disk::RealDisk, folder, within, files, &mine)
}
