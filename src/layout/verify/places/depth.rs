//! Words go as far down as the search has counted.

use super::area::Reaches;
use super::{BrokenPromise, On, broken};

impl On<'_> {
    /// The half lines from the top of the panel's first line to the foot of its last, or of a large initial or of room
    /// that reaches farther, are those that were counted; on the slots of a shape, all from the first slot on.
    pub(super) fn is_as_deep(&self, reaches: Reaches) -> Result<(), BrokenPromise> {
        let counted = self.panel.fullness.map(|(used, _)| i64::from(used.count()));
        let found = reaches.to - reaches.from;
        if counted == Some(found) {
            return Ok(());
        }
        Err(broken(format!(
            "the words go {found} half lines down, and {} were counted",
            counted.unwrap_or(0)
        )))
    }
}
