//! How much space stands between two lines.

use crate::names::{HalfLines, Length};
use crate::plan::{Align, TextStyle};
use crate::text::{LineKind, TextLine};

/// No space is larger, however many lines the author leaves blank.
const MOST: u32 = 200;

/// The space above a line: as many stanza spaces as blank lines; at least a line below a heading, and above and below a
/// caption, and two above a heading.
pub fn space_between(above: &TextLine, line: &TextLine, style: &TextStyle) -> HalfLines {
    let mut blank = u32::try_from(line.blank_above).unwrap_or(u32::MAX);
    // The first blank line only ends the paragraph above, where an indent shows that a new one begins.
    let shown_by_indent = line.kind == LineKind::Prose
        && above.kind == LineKind::Prose
        && style.paragraph_indent > Length::ZERO
        && style.align != Align::Centre;
    if shown_by_indent {
        blank = blank.saturating_sub(1);
    }
    let asked = (style.stanza_space * blank).min(HalfLines::new(MOST));
    let least = match (&line.kind, &above.kind) {
        (LineKind::Heading, LineKind::Title) => 1,
        (LineKind::Title | LineKind::Heading, _) => 2,
        (_, LineKind::Title | LineKind::Heading) => 1,
        (LineKind::Caption, _) | (_, LineKind::Caption) => 1,
        _ => 0,
    };
    asked.max(HalfLines::lines(least))
}

/// What spaces surely take together on so many panels: at the head of each the largest may vanish.
pub fn space_on_panels(spaces: &[HalfLines], panels: usize) -> u64 {
    let mut spaces = spaces.to_vec();
    spaces.sort_unstable_by(|one, other| other.cmp(one));
    spaces.into_iter().skip(panels).map(u64::from).sum()
}
