//! How many panels of a part may be blank where the plan does not speak of `blanks`.

use super::Problem;
use crate::names::Role;
use crate::rules::{Blanks, BlanksAt};

impl Problem {
    /// Asks `blanks` of a part with pictures where the plan does not speak of it: as many blank panels as other rules
    /// ask for. Where all were free, pictures would crowd upon words while panels stand empty behind them. One that is
    /// pinned costs what it would cost unpinned, so that to pin it saves nothing.
    pub fn ask_usual_blanks(&mut self) {
        if self.blanks_unsaid {
            self.rules.blanks = self.usual_blanks();
        }
    }

    fn usual_blanks(&self) -> Option<Blanks> {
        let mut placed = self
            .pictures
            .iter()
            .filter(|picture| picture.queued || picture.panel.is_some())
            .peekable();
        placed.peek()?;
        let last = self.rules.ends_with == Some(Role::Blank);
        let count = placed.filter(|picture| picture.blank_before).count() + usize::from(last);
        Some(Blanks {
            count: u16::try_from(count).unwrap_or(u16::MAX),
            at: BlanksAt::Anywhere,
        })
    }
}
