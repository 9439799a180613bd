//! Mark-up of a unit that is still there, but not the words that it was for.

use super::compose::Composer;
use super::write::LineSign;

impl Composer<'_> {
    /// Adds to `lost` the signs before lines that are no lines any more, though words of them are there.
    pub(super) fn lost_signs(&self, lost: &mut Vec<String>) {
        for (number, unit) in self.old.units.iter().enumerate() {
            let line = &self.old.lines[unit.lines[0]];
            let sign = LineSign::of(line.kind, line.stepped);
            let left = |word: usize| self.matched.to_new[word].is_some();
            let joined = self.matched.new_of[number].is_none() && unit.words.clone().any(left);
            if sign != LineSign::None && joined {
                lost.push(format!(
                    "`{}` before: {}",
                    sign.written().trim_end(),
                    line.view
                ));
            }
        }
    }

    /// Adds to `lost` the readings of a unit whose bases are gone.
    pub(super) fn lost_readings(&self, unit: usize, lost: &mut Vec<String>) {
        let Some((_, old)) = self.partner(unit) else {
            return;
        };
        for &line in &old.lines {
            let line = &self.old.lines[line];
            for read in &line.readings {
                let base = &line.view[read.base.clone()];
                let first = line
                    .words
                    .clone()
                    .find(|&word| self.old.words[word].at.start == read.base.start);
                let here = first
                    .and_then(|word| self.matched.to_new[word])
                    .is_some_and(|word| {
                        let word = &self.new.words[word];
                        self.new.lines[word.line].view[word.at.start..].starts_with(base)
                    });
                if !here {
                    lost.push(format!("the reading {base}《{}》", read.reading));
                }
            }
        }
    }

    /// Adds to `lost` the stressed words of a unit of which none is left, though their line is. `assigned` is the old word
    /// whose stress each new word has, `kept` whether it could be written with it.
    pub(super) fn lost_stress(
        &self,
        unit: usize,
        assigned: &[Option<usize>],
        kept: &[bool],
        lost: &mut Vec<String>,
    ) {
        let Some((_, old)) = self.partner(unit) else {
            return;
        };
        for stretch in self.stretches.within(old) {
            let words = self.stretches.words(stretch);
            let carried = assigned
                .iter()
                .zip(kept)
                .any(|(old, kept)| *kept && old.is_some_and(|old| words.contains(&old)));
            let elsewhere = words.iter().filter_map(|&word| self.matched.to_new[word]);
            let elsewhere = elsewhere
                .into_iter()
                .any(|word| !self.new.units[unit].words.contains(&word));
            if !carried && !elsewhere {
                lost.push(format!("the emphasis of: {}", self.old_words(words)));
            }
        }
    }

    fn old_words(&self, words: &[usize]) -> String {
        let mut text = String::new();
        for (number, &word) in words.iter().enumerate() {
            let own = &self.old.words[word];
            let begins = self.old.lines[own.line].words.start == word;
            let from = if begins {
                own.at.start
            } else {
                self.old.words[word - 1].at.end
            };
            if number > 0 {
                text.push_str(if begins {
                    " "
                } else {
                    &self.old.lines[own.line].view[from..own.at.start]
                });
            }
            text.push_str(self.old.word(word));
        }
        text
    }
}
