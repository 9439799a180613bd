//! What is said of typefaces that are installed on the machine.

use crate::plan::{Plan, TypefaceNamed};
use crate::setting::Note;

/// A note for each installed typeface that a plan names: elsewhere its name may mean another.
pub(super) fn typefaces(plan: &Plan) -> Vec<Note> {
    let parts = plan.parts.iter().map(|part| &part.text);
    let named = std::iter::once(&plan.text).chain(parts);
    let mut names: Vec<&str> = Vec::new();
    for choice in named.flat_map(|text| text.typefaces()) {
        if let TypefaceNamed::Installed(name) = &choice.named
            && !names.contains(&name.as_str())
        {
            names.push(name);
        }
    }
    let note = |name: &str| Note {
        word: "installed",
        what: format!(
            "`{name}` is set in the face that this machine has under that name; another machine may have another, and a \
             font file in the book's folder stays the same"
        ),
        place: None,
    };
    names.into_iter().map(note).collect()
}
