//! Which panel the words of a part belong to, now that they have been corrected.

use super::KeptPanel;
use super::text::PartText;
use crate::text::alignment::{Alignment, Lines, align, pieces, spans};

/// The words that were kept of a part, and what has become of them.
pub(super) struct WordPanels {
    /// For each word as it now is, the panel that it belongs to, by its number in the part; nothing where it has been
    /// added between the words of two.
    now: Vec<Option<usize>>,
    /// How many words were kept.
    pub kept: usize,
    /// How many of them are still there.
    pub found: usize,
    /// By panel: whether a word of it has been changed, added or cut.
    touched: Vec<bool>,
    /// By panel: whether words were kept of it.
    had_words: Vec<bool>,
}

/// A word that was kept, with the panel that it was kept for.
struct Old<'a> {
    lines: Lines<'a>,
    owners: Vec<usize>,
}

impl<'a> Old<'a> {
    /// The words of panels, in order; `panels` has what is kept of each panel of the part.
    fn new(panels: &[Option<&'a KeptPanel>]) -> Old<'a> {
        let mut old = Old {
            lines: Vec::new(),
            owners: Vec::new(),
        };
        for (index, kept) in panels.iter().enumerate() {
            let Some(kept) = kept else { continue };
            let lines = kept.words.lines().filter(|line| !line.trim().is_empty());
            for (number, line) in lines.enumerate() {
                let words: Vec<&str> = pieces(line).into_iter().map(|at| &line[at]).collect();
                old.owners.extend(words.iter().map(|_| index));
                match old.lines.last_mut() {
                    Some(last) if number == 0 && kept.goes_on => last.extend(words),
                    _ => old.lines.push(words),
                }
            }
        }
        old
    }
}

impl WordPanels {
    pub fn new(panels: &[Option<&KeptPanel>], text: &PartText<'_>) -> WordPanels {
        let old = Old::new(panels);
        let found = align(&old.lines, &text.lines);
        let mut had_words = vec![false; panels.len()];
        old.owners.iter().for_each(|&owner| had_words[owner] = true);
        let mut owners = WordPanels {
            now: vec![None; text.count()],
            kept: old.owners.len(),
            found: found.kept(),
            touched: vec![false; panels.len()],
            had_words,
        };
        owners.of_lines(&old, &found, text);
        owners.of_words(&old, &found);
        owners.between(&old, &found, text);
        owners.find_touched(&old, &found);
        owners
    }

    /// A line that is another's, corrected, belongs where that stood, if it stood on one panel.
    fn of_lines(&mut self, old: &Old<'_>, found: &Alignment, text: &PartText<'_>) {
        let (old_spans, new_spans) = (spans(&old.lines), spans(&text.lines));
        for &(one, other) in &found.lines {
            let owners = &old.owners[old_spans[one].clone()];
            if let Some(&owner) = owners.first()
                && owners.iter().all(|other| *other == owner)
            {
                self.now[new_spans[other].clone()].fill(Some(owner));
            }
        }
    }

    fn of_words(&mut self, old: &Old<'_>, found: &Alignment) {
        for (word, earlier) in found.earlier.iter().enumerate() {
            if let Some(earlier) = earlier {
                self.now[word] = Some(old.owners[*earlier]);
            }
        }
    }

    /// What has been added within the words of one panel belongs to it; so does what has come in the place of its
    /// last or first words.
    fn between(&mut self, old: &Old<'_>, found: &Alignment, text: &PartText<'_>) {
        // Lines that have been changed stand where they stood; only lines that are gone can have been replaced.
        let old_spans = spans(&old.lines);
        let mut gone = vec![true; old.owners.len()];
        for &(one, _) in &found.lines {
            gone[old_spans[one].clone()].fill(false);
        }
        // A line that only changed places with its neighbours still belongs to its panel.
        let new_spans = spans(&text.lines);
        let moved_from = |words: std::ops::Range<usize>| {
            let here = |(_, now): &&(usize, usize)| words.contains(&new_spans[*now].start);
            let mut moved = found.moved.iter().filter(here);
            let (was, _) = moved.next()?;
            old.owners.get(old_spans[*was].start).copied()
        };
        // So do words that did within their line, as two sentences of a paragraph may.
        let (old_words, new_words) = (old.lines.concat(), text.lines.concat());
        let words_from = |words: std::ops::Range<usize>, owner: usize| {
            let moved = &new_words[words];
            let mut runs = old_words.windows(moved.len()).enumerate();
            runs.any(|(at, run)| {
                let mut all = at..at + moved.len();
                run == moved
                    && all.all(|word| found.later[word].is_none() && old.owners[word] == owner)
            })
        };
        let mut at = 0;
        while at < self.now.len() {
            if self.now[at].is_some() {
                at += 1;
                continue;
            }
            let end = (at..self.now.len()).find(|&word| self.now[word].is_some());
            let end = end.unwrap_or(self.now.len());
            let left = at.checked_sub(1).and_then(|left| self.now[left]);
            let right = self.now.get(end).copied().flatten();
            let owner = match (left, right) {
                (Some(left), Some(right)) if left == right => Some(left),
                _ => {
                    let from = found.earlier[..at].iter().flatten().next_back();
                    let to = found.earlier[end..].iter().flatten().next();
                    let from = from.map_or(0, |from| from + 1);
                    let to = to.map_or(old.owners.len(), |to| *to);
                    let gone = (from..to.max(from)).filter(|&word| gone[word]);
                    let mut owners: Vec<usize> = gone.map(|word| old.owners[word]).collect();
                    owners.dedup();
                    match owners.as_slice() {
                        [one] => Some(*one),
                        _ => {
                            let beside = |from: &usize| [left, right].contains(&Some(*from));
                            let line = moved_from(at..end).filter(beside);
                            let mut sides = left.into_iter().chain(right);
                            line.or_else(|| sides.find(|&side| words_from(at..end, side)))
                        }
                    }
                }
            };
            self.now[at..end].fill(owner);
            at = end;
        }
    }

    fn find_touched(&mut self, old: &Old<'_>, found: &Alignment) {
        for (word, later) in found.later.iter().enumerate() {
            if later.is_none() {
                self.touched[old.owners[word]] = true;
            }
        }
        for (word, earlier) in found.earlier.iter().enumerate() {
            if let (None, Some(owner)) = (earlier, self.now[word]) {
                self.touched[owner] = true;
            }
        }
    }

    /// Whether a word of a panel has been changed, added or cut.
    pub fn touched(&self, panel: usize) -> bool {
        self.touched[panel]
    }

    /// Whether words were kept of a panel.
    pub fn had_words(&self, panel: usize) -> bool {
        self.had_words[panel]
    }

    /// Whether any of its words are left.
    pub fn has_words(&self, panel: usize) -> bool {
        self.now.contains(&Some(panel))
    }

    /// How many words lie before the end of a panel: from that behind the last word of it and of the panels before
    /// it, to the first of those after it.
    pub fn ends(&self, panel: usize) -> (usize, usize) {
        let upto = |owner: &Option<usize>| owner.is_some_and(|owner| owner <= panel);
        let after = |owner: &Option<usize>| owner.is_some_and(|owner| owner > panel);
        let last = self.now.iter().rposition(upto);
        let first = self.now.iter().position(after);
        (
            last.map_or(0, |last| last + 1),
            first.unwrap_or(self.now.len()),
        )
    }

    /// The same of its beginning.
    pub fn begins(&self, panel: usize) -> (usize, usize) {
        match panel.checked_sub(1) {
            Some(before) => {
                let (from, to) = self.ends(before);
                (from.min(to), to)
            }
            None => (0, 0),
        }
    }
}
