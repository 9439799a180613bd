//! The pictures of a part: those that have a name, and panels that are kept for others.

use super::Problem;
use crate::names::Role;
use crate::rules::EachPanel;

impl Problem {
    /// How many pictures with a name the part places: those that wait in its queue, and those pinned to its panels.
    pub fn named_pictures(&self) -> usize {
        let placed = |picture: &&super::PictureFacts| picture.queued || picture.panel.is_some();
        self.pictures.iter().filter(placed).count()
    }

    /// How many panels are kept for pictures without a name: in the body, as many as named ones leave of the number that is
    /// asked.
    pub fn unnamed_pictures(&self) -> usize {
        let asked = if self.body { self.rules.pictures } else { 0 };
        (asked as usize).saturating_sub(self.named_pictures())
    }

    /// Whether any picture stands in the part, or shall stand there.
    pub fn has_pictures(&self) -> bool {
        self.named_pictures() + self.unnamed_pictures() > 0
    }

    /// Whether a picture without a name may stand on a panel.
    pub fn may_have_unnamed(&self, panel: usize) -> bool {
        let facts = &self.panels[panel];
        let open = facts.role.is_none_or(|role| role == Role::Picture);
        open && facts.picture.is_none() && self.unnamed_pictures() > 0
    }

    /// Works out how many panels the words should take ([`Problem::word_panels`]): as many as `each-panel` asks, else those
    /// that they fill as far as the four fullnesses ask; at least one, and no more than pictures without a name leave.
    pub fn count_word_panels(&mut self) {
        let open = |role: Option<Role>| role.is_none_or(|role| role == Role::Text);
        let panels = self.panels.iter().filter(|panel| open(panel.role));
        let room = panels.filter(|panel| panel.area.is_some()).count();
        let most = room.saturating_sub(self.unnamed_pictures());
        let asked = match self.rules.each_panel {
            EachPanel::Free => self.panels_by_fullness(),
            EachPanel::Stanzas(stanzas) => {
                let rows = self.rows.iter();
                let words: Vec<_> = rows.filter(|row| row.verse || row.prose).collect();
                let blocks = words.chunk_by(|one, next| one.block == next.block).count();
                blocks.div_ceil(stanzas as usize)
            }
            EachPanel::Lines(lines) => {
                let verse = self.rows.iter().filter(|row| row.verse).count();
                verse.div_ceil(lines as usize)
            }
        };
        self.word_panels = asked.min(most).max(1);
    }

    /// How many panels of the first plain text area the words fill.
    fn panels_by_fullness(&self) -> usize {
        let plain = self.panels.iter().filter(|panel| panel.role.is_none());
        let Some(area) = plain.filter_map(|panel| panel.area).next() else {
            return 0;
        };
        let titles = self
            .panels
            .iter()
            .any(|panel| panel.role == Some(Role::Title));
        let first = if titles { self.opening } else { 0 };
        let depth = u64::from(self.depth(area.column, first, self.rows.len()));
        let rules = &self.rules;
        let asked = u64::from(rules.text_fullness.0.max(1));
        let ends = if self.body {
            u64::from(rules.first_fullness.0) + u64::from(rules.last_fullness.0)
        } else {
            2 * asked
        };
        // What the two ends carry less than others takes room on others.
        let capacity = u64::from(area.capacity).max(1);
        let hundredths = (depth * 100 + 2 * asked * capacity).saturating_sub(ends * capacity);
        let panels = (hundredths + asked * capacity / 2) / (asked * capacity);
        usize::try_from(panels).unwrap_or(usize::MAX)
    }
}
