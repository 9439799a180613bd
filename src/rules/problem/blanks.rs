//! How many panels of a part may be blank where the plan does not speak of `blanks`.

use super::Problem;
use crate::names::Role;
use crate::rules::{Blanks, BlanksAt, PanelFacts};

impl Problem {
    /// Asks `blanks` of a part with pictures where the plan does not speak of it: as many blank panels as it asks for
    /// otherwise. Where all were free, pictures would crowd upon words while panels stand empty behind them.
    pub fn ask_usual_blanks(&mut self) {
        if self.blanks_unsaid {
            self.rules.blanks = self.usual_blanks();
        }
    }

    fn usual_blanks(&self) -> Option<Blanks> {
        let pinned = |panel: &PanelFacts| panel.role == Some(Role::Blank);
        let mut placed = self
            .pictures
            .iter()
            .filter(|picture| picture.queued || picture.panel.is_some())
            .peekable();
        placed.peek()?;
        let panels = &self.panels;
        let before = placed.filter(|picture| {
            let before = picture.panel.and_then(|panel| panel.checked_sub(1));
            picture.blank_before && !before.is_some_and(|before| pinned(&panels[before]))
        });
        let asks_last = self.rules.ends_with == Some(Role::Blank);
        let last = asks_last && !panels.last().is_some_and(pinned);
        let count = panels.iter().filter(|panel| pinned(panel)).count()
            + before.count()
            + usize::from(last);
        Some(Blanks {
            count: u16::try_from(count).unwrap_or(u16::MAX),
            at: BlanksAt::Anywhere,
        })
    }
}
