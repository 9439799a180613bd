//! How many panels of a part may be blank where the plan does not speak of `blanks`.

use super::{PanelFacts, Problem};
use crate::names::Role;
use crate::rules::{BlankBetween, Blanks, BlanksAt};

impl Problem {
    /// Asks `blanks` of a part with pictures where the plan does not speak of it: as many blank panels as other rules
    /// ask for. Where all were free, pictures would crowd upon words while panels stand empty behind them. One that is
    /// pinned costs what it would cost unpinned, so that to pin it saves nothing. While pictures have no name yet, their
    /// pace keeps them from crowding, and panels that nothing is there for may be blank.
    pub fn ask_usual_blanks(&mut self) {
        if self.blanks_unsaid {
            self.rules.blanks = self.usual_blanks();
        }
    }

    fn usual_blanks(&self) -> Option<Blanks> {
        if self.unnamed_pictures() > 0 {
            return None;
        }
        let mut placed = self
            .pictures
            .iter()
            .filter(|picture| picture.queued || picture.panel.is_some())
            .peekable();
        placed.peek()?;
        let end = usize::from(self.rules.ends_with == Some(Role::Blank));
        let spread = |pair: &&[PanelFacts]| pair[0].spread == pair[1].spread;
        let last = match self.rules.last_spread {
            Some(Role::Blank) => 1 + self.panels.windows(2).rev().take_while(spread).count(),
            _ => end,
        };
        let sections = self.rows.windows(2);
        let sections = sections.filter(|pair| pair[0].section != pair[1].section);
        let between = match self.rules.blank_between {
            Some(BlankBetween::Sections) => sections.count(),
            None => 0,
        };
        let before = placed.filter(|picture| picture.blank_before).count();
        let count = before + between + last;
        Some(Blanks {
            count: u16::try_from(count).unwrap_or(u16::MAX),
            at: BlanksAt::Anywhere,
        })
    }
}
