//! What a layout puts on each panel, taken down to be kept.

use std::ops::Range;

use super::fingerprint::{self, Age, seal};
use super::passed::is_printed;
use super::{LaidLine, LaidPanel, Layout};
use crate::division::Division;
use crate::layout::breaks::{Breaks, KeptLine, KeptPanel, bare, between, row_text};
use crate::names::{HalfLines, PanelName, Role};
use crate::setting::{SetLines, SetPart};
use crate::text::Manuscript;
use crate::text::alignment::pieces;

/// What is taken down, and what was kept before.
#[derive(Clone, Copy)]
pub struct Taking<'a> {
    /// The manuscript.
    pub manuscript: &'a Manuscript,
    /// The set lines.
    pub set: &'a SetLines,
    /// The division.
    pub division: &'a Division,
    /// The layout made of it.
    pub layout: &'a Layout,
    /// What was kept before: panels that are passed stay as they were printed.
    pub before: Option<&'a Breaks>,
}

/// Takes a layout down. With `choose`, every panel is chosen as it stands; the panels of `pass` are passed for press.
pub fn take(taking: Taking<'_>, choose: bool, pass: &[PanelName]) -> Breaks {
    let panels = taking.layout.panels.iter();
    let panels = panels.filter(|laid| laid.role != Role::PasteDown);
    let panels: Vec<KeptPanel> = panels
        .map(|laid| taking.panel(laid, choose, pass))
        .collect();
    let words = panels.iter().flat_map(|kept| kept.words.lines());
    Breaks {
        words: Some(words.map(|line| pieces(line).len()).sum()),
        panels,
    }
}

impl Taking<'_> {
    fn panel(&self, laid: &LaidPanel, choose: bool, pass: &[PanelName]) -> KeptPanel {
        let before = self.before.and_then(|before| before.panel(laid.panel));
        let chosen = choose || before.is_some_and(|before| before.chosen);
        let passes = pass.contains(&laid.panel);
        if let Some(before) = before.filter(|before| before.passed.is_some() && !passes) {
            let mut before = before.clone();
            before.chosen = chosen;
            seal_anew(&mut before, laid);
            return before;
        }
        let (goes_on, words) = match self.stands(laid.panel) {
            Some((set, places)) => self.words(set, places),
            None => (false, String::new()),
        };
        KeptPanel {
            panel: laid.panel,
            role: laid.role,
            picture: laid.picture.clone(),
            chosen,
            goes_on,
            words,
            passed: passes.then(|| lines(laid)),
            page: passes.then(|| [laid.size.0, laid.size.1, self.layout.strip.paper().bleed]),
            place: None,
        }
    }

    /// The part that has a panel, and the places that stand on it.
    fn stands(&self, panel: PanelName) -> Option<(&SetPart, Range<usize>)> {
        let parts = self.set.parts.iter().zip(&self.division.parts);
        let mut found = parts.filter_map(|(set, divided)| {
            let on = divided.panels.iter().find(|on| on.panel == panel)?;
            Some((set, on.rows.clone()))
        });
        found.next()
    }

    /// The words between two places, and whether the first go on a paragraph.
    fn words(&self, set: &SetPart, places: Range<usize>) -> (bool, String) {
        let mut text = String::new();
        let stretches = between(self.manuscript, set, places);
        let goes_on = stretches.first().is_some_and(|(_, bytes)| bytes.start > 0);
        for (number, (row, bytes)) in stretches.into_iter().enumerate() {
            let row = &set.rows[row];
            if number > 0 {
                text.push('\n');
                if row.space_above > HalfLines::ZERO {
                    text.push('\n');
                }
            }
            text.push_str(bare(&row_text(self.manuscript, set, row)[bytes]));
        }
        (goes_on, text)
    }
}

/// Gives the lines that an older version of the program sealed seals of this one, where they are the same.
fn seal_anew(kept: &mut KeptPanel, laid: &LaidPanel) {
    let lines = kept.passed.iter_mut().flatten();
    for printed in lines.filter(|line| fingerprint::age(&line.seal) == Age::Older) {
        if let Some(same) = laid.lines.iter().find(|line| is_printed(line, printed)) {
            printed.seal = seal(same);
        }
    }
}

fn lines(laid: &LaidPanel) -> Vec<KeptLine> {
    let has_words = laid.lines.iter().any(|line| line.part.is_some());
    let mut above = None;
    let line = |line: &LaidLine| {
        let row = (line.part.clone(), line.row);
        let goes_on = above.as_ref() == Some(&row);
        above = Some(row);
        KeptLine {
            words: bare(&line.text).to_string(),
            left: line.x,
            baseline: line.baseline,
            goes_on,
            added: has_words && line.part.is_none(),
            seal: seal(line),
        }
    };
    laid.lines.iter().map(line).collect()
}
