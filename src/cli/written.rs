//! What is said of files that were written, and of those that stood in their way.

use serde_json::{Value, json};

use super::speak;
use crate::cli::files::Written;

/// Says which files were moved aside, and which were left for having been changed by hand.
pub(super) fn tell(written: &Written) {
    for (from, to) in &written.moved_aside {
        speak::message(&format!(
            "{from} was not as the program left it: it is kept as {to}, beside the new one."
        ));
    }
    for kept in &written.kept {
        speak::message(&format!(
            "{kept} is no longer needed, but was changed by hand: it was left."
        ));
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
        "kept": written.kept,
    })
}
