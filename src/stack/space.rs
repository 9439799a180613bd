//! How much space stands between two lines.

use crate::names::HalfLines;

/// No space is larger, however many lines the author leaves blank.
const MOST: u32 = 200;

/// What a line is, as far as the space above and below it goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spaced {
    /// The title of a part.
    Title,
    /// A heading.
    Heading,
    /// Words that stand with a picture.
    Caption,
    /// A paragraph.
    Paragraph,
    /// A line of verse, and all else.
    Other,
}

/// Two lines that follow each other.
#[derive(Clone, Copy, Debug)]
pub struct Neighbours {
    /// The line above.
    pub above: Spaced,
    /// The line below.
    pub below: Spaced,
    /// How many blank lines the author leaves between them.
    pub blank_lines: usize,
    /// The space that a blank line stands for.
    pub stanza_space: HalfLines,
    /// Whether an indent shows where a new paragraph begins.
    pub indented: bool,
}

/// The space between two lines: as many stanza spaces as blank lines; at least a line below a heading, and above and below
/// a caption, and two above a heading.
pub fn space_between(lines: &Neighbours) -> HalfLines {
    let mut blank = u32::try_from(lines.blank_lines).unwrap_or(u32::MAX);
    // The first blank line only ends the paragraph above, where an indent shows that a new one begins.
    let paragraphs = (lines.above, lines.below) == (Spaced::Paragraph, Spaced::Paragraph);
    if paragraphs && lines.indented {
        blank = blank.saturating_sub(1);
    }
    let asked = (lines.stanza_space * blank).min(HalfLines::new(MOST));
    let least = match (lines.below, lines.above) {
        (Spaced::Heading, Spaced::Title) => 1,
        (Spaced::Title | Spaced::Heading, _) => 2,
        (_, Spaced::Title | Spaced::Heading) => 1,
        (Spaced::Caption, _) | (_, Spaced::Caption) => 1,
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
