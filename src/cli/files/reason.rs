//! The operating system's reasons in plain words.

use std::io::{Error, ErrorKind};
use std::path::Path;

use crate::names::Fault;

/// Why it went wrong, to follow a colon.
pub(super) fn plain(error: &Error) -> String {
    let known = match error.kind() {
        ErrorKind::StorageFull => "the disk is full",
        ErrorKind::QuotaExceeded => "your share of the disk is used up",
        ErrorKind::FileTooLarge => "the disk takes no file of this size",
        ErrorKind::ReadOnlyFilesystem => "the disk can only be read",
        ErrorKind::PermissionDenied => "you do not have permission",
        ErrorKind::NotADirectory => "there is a file where a folder is needed",
        ErrorKind::IsADirectory => "there is a folder where a file is needed",
        ErrorKind::NotFound => "the folder is not there",
        ErrorKind::InvalidFilename => "the disk takes no such name",
        ErrorKind::AlreadyExists => "there is something of that name already",
        _ => return error.to_string(),
    };
    known.to_string()
}

/// The fault of standard output that takes nothing more.
pub fn cannot_say(error: &Error) -> Fault {
    let what = format!("cannot write to standard output: {}", plain(error));
    Fault::new("cannot-write", what)
}

/// The fault of a path that cannot be written.
pub(super) fn cannot_write(path: &Path, error: &Error) -> Fault {
    let what = format!("cannot write `{}`: {}", path.display(), plain(error));
    Fault::new("cannot-write", what)
}
