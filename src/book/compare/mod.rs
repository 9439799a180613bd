//! What has changed between two layouts of one book: which panels have other words, which have the same words in
//! other places, and which layers must be replaced where they were placed.
//!
//! A [`Record`] is what a `layout.json` tells of a layout; [`compare`] holds an earlier one against a later one.

mod hunks;
mod layers;
mod record;
mod row;
mod words;

pub use layers::LayerChanges;
pub use record::{Record, RecordError};
pub use words::{Difference, Moved};

use record::Panel;

use crate::names::{Length, PanelName};

/// What has changed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Changes {
    /// Every panel whose layer looks or reads otherwise, in the order of the later layout; panels that it no longer
    /// has come last.
    pub panels: Vec<PanelChange>,
    /// Words that stand on another panel, or in another order, without being changed.
    pub moved: Vec<Moved>,
    /// What is to be done with each layer.
    pub layers: LayerChanges,
    /// Whether the layers hold their words in another form, as outlines or as text.
    pub other_form: bool,
    /// Whether an older version of the program wrote the earlier record, so that only lines and pages were compared:
    /// another ink or bleed, or a face that is as wide, would not be seen.
    pub lines_alone: bool,
}

impl Changes {
    /// Whether everything that is shown is as it was.
    pub fn none(&self) -> bool {
        self.panels.is_empty() && !self.other_form && self.layers.none()
    }
}

/// What has changed on a panel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PanelChange {
    /// The panel.
    pub panel: PanelName,
    /// What of it.
    pub what: What,
    /// The words that were changed, taken out or put in here. Of a panel with other words it may be empty: then
    /// they only came from elsewhere or went there.
    pub differences: Vec<Difference>,
    /// How far a line moved at most, where all that changed is where lines stand.
    pub shift: Option<Length>,
}

/// What has changed on a panel: the first of these that has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// It has other words.
    Words,
    /// Its words stand in other places, in other lines, in another size or on other paper.
    Places,
    /// It looks otherwise, although every line is in its place: another face, ink or bleed.
    Look,
}

impl What {
    /// `words`, `places` or `look`.
    pub fn word(self) -> &'static str {
        match self {
            What::Words => "words",
            What::Places => "places",
            What::Look => "look",
        }
    }
}

/// Compares two layouts of a book.
pub fn compare(old: &Record, new: &Record) -> Changes {
    let (differences, moved) = words::compare(old, new);
    let nothing = Panel::nothing;
    let mut panels: Vec<PanelChange> = Vec::new();
    let mut add = |panel: PanelName, before: &Panel, after: &Panel| {
        if let Some(what) = what(before, after) {
            let here = differences.iter().filter(|(on, _)| *on == panel);
            let differences = here.map(|(_, difference)| difference.clone()).collect();
            panels.push(PanelChange {
                panel,
                what,
                differences,
                shift: before.shift(after).filter(|_| what == What::Places),
            });
        }
    };
    for panel in &new.panels {
        let before = old.panel(panel.name);
        add(panel.name, before.unwrap_or(&nothing(panel)), panel);
    }
    for panel in &old.panels {
        if new.panel(panel.name).is_none() {
            add(panel.name, panel, &nothing(panel));
        }
    }
    let other_form = matches!(
        (&old.words_as, &new.words_as),
        (Some(old), Some(new)) if old != new
    );
    Changes {
        layers: layers::compare(old, new, other_form),
        panels,
        moved,
        other_form,
        lines_alone: old.has_lines_alone(),
    }
}

/// What has changed on a panel; nothing of one that has no words before and after.
fn what(old: &Panel, new: &Panel) -> Option<What> {
    if old.lines.is_empty() && new.lines.is_empty() {
        None
    } else if !row::same(old, new) {
        Some(What::Words)
    } else if old.shows_the_same(new) {
        None
    } else if old.lines != new.lines || old.size != new.size {
        Some(What::Places)
    } else {
        Some(What::Look)
    }
}
