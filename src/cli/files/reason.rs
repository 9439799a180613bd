//! What cannot be written, in plain words.

use std::io::Error;
use std::path::Path;

use crate::assets::plain;
use crate::names::Fault;

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
