//! How headings are set, as the plan asks for it: titles (`#`), headings (`##`) and lower headings (`###`).

use super::TypefaceChoice;
use crate::names::{HalfLines, Length, Location, Measure};

/// Which headings: those of one level.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HeadingLevel {
    /// `# Title`
    Title,
    /// `## Heading`
    Heading,
    /// `### Subheading`
    Subheading,
}

impl HeadingLevel {
    /// The table of the plan that is about them.
    pub fn table(self) -> &'static str {
        match self {
            HeadingLevel::Title => "[text.title]",
            HeadingLevel::Heading => "[text.heading]",
            HeadingLevel::Subheading => "[text.subheading]",
        }
    }
}

/// Something of the headings of each level.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OfLevels<T> {
    /// Of titles.
    pub title: T,
    /// Of headings.
    pub heading: T,
    /// Of lower headings.
    pub subheading: T,
}

impl<T> OfLevels<T> {
    /// That of a level.
    pub fn of(&self, level: HeadingLevel) -> &T {
        match level {
            HeadingLevel::Title => &self.title,
            HeadingLevel::Heading => &self.heading,
            HeadingLevel::Subheading => &self.subheading,
        }
    }

    /// What is made of each.
    pub fn map<'a, U>(&'a self, mut make: impl FnMut(&'a T) -> U) -> OfLevels<U> {
        OfLevels {
            title: make(&self.title),
            heading: make(&self.heading),
            subheading: make(&self.subheading),
        }
    }

    /// Each with its level, the highest first.
    pub fn all(&self) -> [(HeadingLevel, &T); 3] {
        [
            HeadingLevel::Title,
            HeadingLevel::Heading,
            HeadingLevel::Subheading,
        ]
        .map(|level| (level, self.of(level)))
    }

    /// Each, to be changed.
    pub fn all_mut(&mut self) -> [&mut T; 3] {
        [&mut self.title, &mut self.heading, &mut self.subheading]
    }
}

/// How the headings of a level are set; where the plan does not speak, as setting has it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HeadingStyle {
    /// Their typeface, where it is not that of the words.
    pub typeface: Option<TypefaceChoice>,
    /// Their type size.
    pub size: Option<Length>,
    /// How their letters are drawn.
    pub style: Option<HeadingFace>,
    /// Space added behind every letter; an em is their own size.
    pub letterspacing: Option<Measure>,
    /// How their lines stand between the margins.
    pub align: Option<HeadingAlign>,
    /// Space above them, where they do not begin a panel.
    pub space_above: Option<HalfLines>,
    /// Space below them.
    pub space_below: Option<HalfLines>,
    /// Where the plan speaks of them, and where of what may not fit.
    pub places: HeadingPlaces,
}

/// Where the plan speaks of headings.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HeadingPlaces {
    /// The table.
    pub table: Option<Location>,
    /// Their size.
    pub size: Option<Location>,
    /// What is added between their letters.
    pub letterspacing: Option<Location>,
    /// How their letters are drawn.
    pub style: Option<Location>,
    /// Where they stand on a title panel.
    pub vertical: Option<Location>,
}

/// How the letters of headings are drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HeadingFace {
    /// The upright.
    Roman,
    /// The italic.
    Italic,
    /// The bold.
    Bold,
    /// Small capitals.
    SmallCaps,
    /// Capitals.
    Capitals,
}

/// How the lines of headings stand between the margins.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HeadingAlign {
    /// Flush left.
    Left,
    /// Flush right.
    Right,
    /// Each line centred.
    Centre,
    /// Each line above the middle of the longest line of verse, its longest tenth left aside; of prose above the middle of the
    /// measure.
    LongestLine,
}
