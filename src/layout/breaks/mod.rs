//! Breaks: where the author chose to divide the text, and which panels are passed for press.
//!
//! `breaks.toml` lists what stands on each panel, in words, so that it can be read and edited by hand and holds when
//! the manuscript is corrected: its words are found again in the manuscript as it now is ([`alignment`]), and what
//! was chosen is asked of the division ([`ask`]). Of a panel that is passed for press it keeps the lines too, each
//! where it stands on the printed sheet.
//!
//! [`alignment`]: crate::text::alignment

mod ask;
mod read;
mod refused;
mod text;
mod way;
mod word_panels;
mod write;
mod written;

pub use ask::{BreaksOutcome, ask};
pub use read::read;
pub use text::{bare, between, row_text};
pub use way::WayName;
pub use write::write;

use crate::names::{Length, Location, PanelName, Role};

/// The name of the file in a book's folder.
pub const BREAKS_FILE: &str = "breaks.toml";

/// What an author chose and passed, panel by panel.
#[derive(Clone, Debug, PartialEq)]
pub struct Breaks {
    /// The panels, in reading order; none twice.
    pub panels: Vec<KeptPanel>,
    /// How many words they held when the program last wrote them.
    pub words: Option<usize>,
}

/// What stands on one panel.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptPanel {
    /// The panel.
    pub panel: PanelName,
    /// Its role.
    pub role: Role,
    /// Its picture.
    pub picture: Option<String>,
    /// Whether the author chose it so. If not, its words are kept only so that those of the others are found again.
    pub chosen: bool,
    /// Whether its first line goes on a paragraph that begins on a panel before.
    pub goes_on: bool,
    /// Its words: a verse line, a paragraph or its part to a line; stanzas parted by a blank one.
    pub words: String,
    /// The lines as they are printed, if it is passed for press.
    pub passed: Option<Vec<KeptLine>>,
    /// The page that they are printed on: its width, height and bleed.
    pub page: Option<[Length; 3]>,
    /// Where the file speaks of it; nothing for one that has just been taken from a layout.
    pub place: Option<Location>,
}

/// A line of a panel that is passed for press.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptLine {
    /// Its words.
    pub words: String,
    /// Where it begins, from the panel's left edge.
    pub left: Length,
    /// Its baseline, from the panel's top edge.
    pub baseline: Length,
    /// Whether it goes on the line above: a turnover, or the next line of a paragraph.
    pub goes_on: bool,
    /// Whether the program adds it below the panel's words, as it does an author.
    pub added: bool,
    /// What tells its glyphs from all others, wherever they stand.
    pub seal: String,
}

impl Breaks {
    /// What is kept of a panel.
    pub fn panel(&self, panel: PanelName) -> Option<&KeptPanel> {
        self.panels.iter().find(|kept| kept.panel == panel)
    }

    /// Whether the author chose anything.
    pub fn chosen(&self) -> bool {
        self.panels.iter().any(|kept| kept.chosen)
    }

    /// The panels that are passed for press.
    pub fn passed(&self) -> impl Iterator<Item = &KeptPanel> {
        self.panels.iter().filter(|kept| kept.passed.is_some())
    }

    /// What is chosen here, and what is passed for press there: what is printed stays, whatever way is looked at.
    pub fn beside_passed(mut self, passed: &Breaks) -> Breaks {
        for printed in passed.passed() {
            match self
                .panels
                .iter_mut()
                .find(|own| own.panel == printed.panel)
            {
                Some(own) => *own = printed.clone(),
                None => self.panels.push(printed.clone()),
            }
        }
        self.panels.sort_by_key(|own| own.panel);
        // They may hold other words than either file had.
        self.words = None;
        self
    }

    /// These breaks with nothing passed for press; what is chosen stays so.
    pub fn only_chosen(mut self) -> Breaks {
        for kept in &mut self.panels {
            (kept.passed, kept.page) = (None, None);
        }
        self
    }

    /// These breaks with nothing chosen; what is passed stays so.
    pub fn only_passed(mut self) -> Breaks {
        for kept in &mut self.panels {
            kept.chosen = false;
        }
        self
    }
}
