//! What plain lines are, and what a font is asked for.

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
