//! What plain lines are, where words stand, and what a font is asked for.

/// What plain lines of a manuscript are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum SetAs {
    /// A line is a line.
    #[default]
    Verse,
    /// Lines join to a paragraph; a blank line ends it.
    Prose,
}

/// An OpenType feature and its value: 0 off, 1 on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Feature {
    /// Four ASCII characters.
    pub tag: [u8; 4],
    /// Its value.
    pub value: u32,
}

/// Whether a character may stand in the name of something: it is no control, separates no lines and says nothing of the
/// direction of the characters around it (Unicode Standard, 23.1; Bidi_Control of Unicode Standard Annex #9).
pub fn stands_in_a_name(c: char) -> bool {
    !c.is_control()
        && !matches!(c, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// Where words stand in the text area.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Vertical {
    /// From the first line down.
    Head,
    /// In the middle, on the grid.
    Centre,
    /// Where the eye takes for the middle: the space above is to that below as two to three, on the grid.
    OpticalCentre,
    /// Down to the last line.
    Foot,
}
