//! The operating system's reasons in plain words.

use std::io::{Error, ErrorKind};

use crate::names::Fault;

/// Why it went wrong, to follow a colon.
pub(crate) fn plain(error: &Error) -> String {
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

/// The fault of a file that is there and cannot be read.
pub(crate) fn unreadable(name: &str, error: &Error) -> Fault {
    let what = format!("`{name}` cannot be read: {}", plain(error));
    Fault::new("cannot-read", what)
}
