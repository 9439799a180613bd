//! Stanzas that no panel has room for.

use std::ops::Range;

use versefold::division::AreaFacts;
use versefold::names::Role;
use versefold::plan::RuleName;

use super::{Book, lines_of, used};

impl Book<'_> {
    /// Whether the stanza of a row fits no panel, with all that must stand with it: rows joined to those above them, what
    /// is kept together, and the rest of stanzas, captions within them too.
    pub fn is_too_long(&self, row: usize) -> bool {
        let (mut from, mut to) = (row, row + 1);
        while from > 0 && self.stays(from) {
            from -= 1;
        }
        while to < self.problem.rows.len() && self.stays(to) {
            to += 1;
        }
        let divides = (from + 1..to).any(|at| self.divides_stanza(at));
        divides
            && !self
                .areas(&(from..to))
                .into_iter()
                .any(|area| self.fits(area, &(from..to)))
    }

    fn is_hard(&self, name: RuleName) -> bool {
        self.problem.rules.weight(name).hard.unwrap_or(true)
    }

    fn stays(&self, at: usize) -> bool {
        let rows = &self.problem.rows;
        let kept = rows[at].kept.is_some() && rows[at].kept == rows[at - 1].kept;
        rows[at].joined || kept && self.is_hard(RuleName::KeepTogether) || self.divides_stanza(at)
    }

    /// Whether a panel that ended there would divide a stanza, and not at the author's word.
    fn divides_stanza(&self, at: usize) -> bool {
        let text = self.text();
        let above = text.iter().rev().find(|row| **row < at);
        let below = text.iter().find(|row| **row >= at);
        let Some((&above, &below)) = above.zip(below) else {
            return false;
        };
        let stanzas = self.stanzas();
        let mut stanzas = stanzas.iter();
        let one = stanzas.any(|stanza| stanza.contains(&above) && stanza.contains(&below));
        one && !self.author_divides((above, below))
    }

    /// The text areas that these rows might have, on any panel.
    fn areas(&self, rows: &Range<usize>) -> Vec<AreaFacts> {
        let captions: Vec<usize> = rows
            .clone()
            .filter_map(|row| self.problem.rows[row].caption)
            .collect();
        let mut areas = Vec::new();
        for panel in &self.problem.panels {
            let may = |role: Role| panel.role.is_none_or(|pinned| pinned == role);
            if may(Role::Text) && panel.picture.is_none() && captions.is_empty() {
                areas.extend(panel.area);
            }
            for (index, picture) in self.problem.pictures.iter().enumerate() {
                let stands = panel
                    .picture
                    .map_or(picture.queued, |pinned| pinned == index);
                let chosen = panel.chosen.as_ref().is_some_and(|chosen| {
                    chosen.role == Role::Shared && chosen.picture == Some(index)
                });
                let room =
                    picture.leaves_room || panel.lets_words || panel.role.is_some() || chosen;
                if may(Role::Shared) && stands && room && captions.iter().all(|of| *of == index) {
                    areas.extend(panel.shared[index]);
                }
            }
        }
        areas
    }

    fn fits(&self, area: AreaFacts, rows: &Range<usize>) -> bool {
        let within = self.problem.rows.get(rows.end).is_some_and(|row| row.inner);
        let lines = || lines_of(self.problem, area.column, rows, rows.end - 1);
        let chosen = [&self.problem.chosen_ends, &self.problem.printed_ends];
        let chosen = chosen.iter().any(|ends| ends.contains(&rows.end));
        let plain = self.problem.stack.columns[area.column].boxes.is_plain();
        if within && !(chosen && plain) && !lines().contains(&Some(rows.end)) {
            return false;
        }
        let most = match self.is_hard(RuleName::Fullest) {
            true => u64::from(self.problem.rules.fullest.0),
            false => 100,
        };
        let used = u64::from(used(self.problem, area.column, rows));
        used * 100 <= most * u64::from(area.capacity)
    }
}
