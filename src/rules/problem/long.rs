//! Which stanzas cannot stay whole: no panel has room for them with what must stand with them.

use super::super::RuleName;
use super::{AreaFacts, PanelFacts, Problem};
use crate::names::Role;

impl Problem {
    /// Marks the lines of every stanza that no panel has room for, with what must stand with it: headings above, who
    /// speaks below, what `[keep together]` holds. To be asked again where rows, panels or `fullest` have changed.
    pub fn mark_long_stanzas(&mut self) {
        let rows = self.rows.len();
        let mut long = vec![false; rows];
        let mut from = 0;
        for to in 1..=rows {
            if to < rows && self.stays_with_above(to) {
                continue;
            }
            let divides = (from + 1..to).any(|at| self.divides_stanza(at));
            long[from..to].fill(divides && !self.fits_whole(from, to));
            from = to;
        }
        for (row, long) in self.rows.iter_mut().zip(long) {
            row.too_long = long && row.verse;
        }
    }

    /// Whether the row at a place must stand with the row above it, where the stanza is to stay whole.
    fn stays_with_above(&self, at: usize) -> bool {
        let row = &self.rows[at];
        let kept = row.kept.is_some() && row.kept == self.rows[at - 1].kept;
        row.joined || self.divides_stanza(at) || kept && self.rules.is_hard(RuleName::KeepTogether)
    }

    /// Whether some panel has room for these rows, and for them alone.
    fn fits_whole(&self, from: usize, to: usize) -> bool {
        let mut captions = self.rows[from..to].iter().filter_map(|row| row.caption);
        let caption = captions.next();
        if captions.any(|other| Some(other) != caption) {
            return false;
        }
        let most = match self.rules.is_hard(RuleName::Fullest) {
            true => u64::from(self.rules.fullest.0),
            false => 100,
        };
        let fits = |area: &AreaFacts| {
            let stop = self.stop(area.column, from, to);
            stop.to == to && u64::from(stop.used) * 100 <= most * u64::from(area.capacity)
        };
        // Most panels have the same areas.
        let mut tried: Vec<AreaFacts> = Vec::new();
        (0..self.panels.len()).any(|panel| {
            self.areas_of_words(panel, caption).any(|area| {
                let known = tried.contains(&area);
                tried.push(area);
                !known && fits(&area)
            })
        })
    }

    /// The areas that words may have on a panel: its own, or those beside pictures; with a caption among them, beside
    /// its picture.
    fn areas_of_words(
        &self,
        panel: usize,
        caption: Option<usize>,
    ) -> impl Iterator<Item = AreaFacts> + '_ {
        let facts: &PanelFacts = &self.panels[panel];
        let may = move |role: Role| facts.role.is_none_or(|pinned| pinned == role);
        let own = facts
            .area
            .filter(|_| may(Role::Text) && facts.picture.is_none() && caption.is_none());
        let beside = (0..self.pictures.len()).filter(move |&picture| {
            let stands = match facts.picture {
                Some(pinned) => pinned == picture,
                None => self.pictures[picture].queued,
            };
            let captioned = caption.is_none_or(|caption| caption == picture);
            may(Role::Shared) && stands && captioned && self.may_share(panel, picture)
        });
        own.into_iter()
            .chain(beside.filter_map(|picture| facts.shared[picture]))
    }

    /// Whether words that are no captions may stand beside a picture on a panel.
    pub fn may_share(&self, panel: usize, picture: usize) -> bool {
        let facts = &self.panels[panel];
        let chosen = facts
            .chosen
            .as_ref()
            .is_some_and(|chosen| chosen.role == Role::Shared && chosen.picture == Some(picture));
        let says = facts.lets_words || facts.role == Some(Role::Shared) || chosen;
        facts.shared[picture].is_some() && (self.pictures[picture].leaves_room || says)
    }

    /// How many lines the stanza around a place has, counted up to one more than `most`; captions are looked through.
    pub fn stanza_lines(&self, at: usize, most: usize) -> usize {
        let Some((above, _)) = self.around(at) else {
            return 0;
        };
        let block = self.rows[above].block;
        let (up, down) = self.rows.split_at(at);
        let up = up.iter().rev().filter(|row| row.caption.is_none());
        let down = down.iter().filter(|row| row.caption.is_none());
        let up = up.take_while(|row| row.verse && row.block == block);
        let down = down.take_while(|row| row.verse && row.block == block);
        up.take(most + 1)
            .count()
            .saturating_add(down.take(most + 1).count())
            .min(most + 1)
    }
}
