//! Lines that are marked together: those of a paragraph, so that words divided between them are read as one.

use crate::layout::LaidLine;

/// Whether two lines are marked together, as the lines of one paragraph are.
pub(super) fn are_one(one: &LaidLine, next: &LaidLine) -> bool {
    one.kind.is_prose() && one.part == next.part && one.row == next.row
}

/// The words of lines that are marked together.
pub(super) fn joined(lines: &[LaidLine]) -> String {
    let mut text = String::new();
    let mut glued = true;
    for line in lines {
        if !glued {
            text.push(' ');
        }
        text.push_str(&line.text);
        glued = line.glued;
    }
    text
}
