//! How much space stands between two lines.

use crate::names::HalfLines;

/// No space is larger, however many lines the author leaves blank.
const MOST: u32 = 200;

/// What a line is, as far as the space above and below it goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spaced {
    /// A heading of a level, the highest being 0.
    Heading(u8, HeadingSpace),
    /// What stands below a title to say more of it, with the space below a title.
    Subtitle(SpaceAsked),
    /// Who wrote the words, with the space around a title.
    Author(HeadingSpace),
    /// Words that stand with a picture.
    Caption,
    /// A paragraph.
    Paragraph,
    /// A line of verse, and all else.
    Other,
}

/// The space around a heading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HeadingSpace {
    /// Above it.
    pub above: SpaceAsked,
    /// Below it.
    pub below: SpaceAsked,
}

/// A space, and whether the author asks for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SpaceAsked {
    /// How much.
    pub space: HalfLines,
    /// Whether she does: then one blank line is no more than that.
    pub said: bool,
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

/// The space between two lines: as many stanza spaces as blank lines; at least what headings ask for, and a line above and
/// below a caption. Where the author says what a heading asks for, one blank line is no more than that.
pub fn space_between(lines: &Neighbours) -> HalfLines {
    let mut blank = u32::try_from(lines.blank_lines).unwrap_or(u32::MAX);
    // The first blank line only ends the paragraph above, where an indent shows that a new one begins.
    let paragraphs = (lines.above, lines.below) == (Spaced::Paragraph, Spaced::Paragraph);
    if paragraphs && lines.indented {
        blank = blank.saturating_sub(1);
    }
    let least = around(lines.above, lines.below);
    if least.said && blank == 1 {
        blank = 0;
    }
    let asked = (lines.stanza_space * blank).min(HalfLines::new(MOST));
    asked.max(least.space)
}

/// The least space between two lines.
fn around(above: Spaced, below: Spaced) -> SpaceAsked {
    let usual = |lines: usize| SpaceAsked {
        space: HalfLines::lines(lines),
        said: false,
    };
    let larger = |one: SpaceAsked, other: SpaceAsked| SpaceAsked {
        space: one.space.max(other.space),
        said: one.said || other.said,
    };
    use Spaced::{Author, Caption, Heading, Subtitle};
    match (above, below) {
        // What stands with a title keeps close to it, whatever stands around both.
        (Heading(..) | Subtitle(_) | Author(_), Subtitle(_)) => usual(1),
        (Heading(..) | Subtitle(_), Author(_)) | (Author(_), Heading(0, _)) => usual(2),
        (Heading(level, one), Heading(lower, _)) if lower > level => one.below,
        (Heading(_, one) | Author(one), Heading(_, other)) => larger(one.below, other.above),
        (Subtitle(below), Heading(_, other)) => larger(below, other.above),
        (_, Heading(_, heading) | Author(heading)) => heading.above,
        (_, Subtitle(_)) => usual(1),
        (Heading(_, heading) | Author(heading), _) => heading.below,
        (Subtitle(below), _) => below,
        (Caption, _) | (_, Caption) => usual(1),
        _ => usual(0),
    }
}

/// What spaces surely take together on so many panels: at the head of each the largest may vanish.
pub fn space_on_panels(spaces: &[HalfLines], panels: usize) -> u64 {
    let mut spaces = spaces.to_vec();
    spaces.sort_unstable_by(|one, other| other.cmp(one));
    spaces.into_iter().skip(panels).map(u64::from).sum()
}
