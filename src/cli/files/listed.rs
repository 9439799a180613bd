//! Reading back what an earlier run wrote.

use std::fs;
use std::path::Path;

use super::manifest::{MANIFEST, Manifest, checksum};
use crate::outputs::OutputFile;

/// The largest file that is read back, in bytes.
const MAX_FILE: u64 = 256 << 20;

/// A file below an output folder, as an earlier run left it or not.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Listed {
    /// No run has written it, and it is not there.
    Never,
    /// It is not what the last run wrote: edited, damaged, taken away, or left by a run that was cut short.
    Otherwise,
    /// It is what the last run wrote.
    AsWritten(Vec<u8>),
}

/// Reads a file that an earlier run wrote to `folder`, if the manifest there vouches for it.
pub fn read_listed(folder: &Path, name: &str) -> Listed {
    let path = folder.join(name);
    let list = Manifest::read(&folder.join(MANIFEST));
    let listed = list.as_ref().is_some_and(|list| list.names(name));
    let Ok(metadata) = path.symlink_metadata() else {
        return match listed {
            true => Listed::Otherwise,
            false => Listed::Never,
        };
    };
    let ordinary = metadata.is_file() && metadata.len() <= MAX_FILE;
    let bytes = ordinary.then(|| fs::read(&path).ok()).flatten();
    match (bytes, list) {
        (Some(bytes), Some(list)) if list.knows(name, &checksum(&bytes)) => {
            Listed::AsWritten(bytes)
        }
        _ => Listed::Otherwise,
    }
}

/// Names of those files that the last run wrote to `folder` too, with another content, by the manifest there. What
/// has been done to them since plays no part.
pub fn other_than_listed(folder: &Path, files: &[OutputFile]) -> Vec<String> {
    let list = Manifest::read(&folder.join(MANIFEST)).unwrap_or_default();
    let other = files
        .iter()
        .filter(|file| list.names(&file.name) && !list.knows(&file.name, &checksum(&file.bytes)));
    other.map(|file| file.name.clone()).collect()
}
