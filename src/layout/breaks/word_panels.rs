//! Which panel the words of a part belong to, now that they have been corrected.

use std::ops::Range;

use super::KeptPanel;
use super::text::PartText;
use crate::text::alignment::{Alignment, Lines, align, pieces, spans};

/// The words that were kept of a part, and what has become of them.
pub(super) struct WordPanels {
    /// For each word of the text as it now is, the panel that it belongs to, by its number in the part; nothing where it has
    /// been added between the words of two panels.
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

/// The words that were kept, line by line, and the panel that each was kept for.
struct KeptWords<'a> {
    lines: Lines<'a>,
    owners: Vec<usize>,
}

impl<'a> KeptWords<'a> {
    /// The words of panels, in order; `panels` has what is kept of each panel of the part.
    fn new(panels: &[Option<&'a KeptPanel>]) -> KeptWords<'a> {
        let mut old = KeptWords {
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
        let old = KeptWords::new(panels);
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
    fn of_lines(&mut self, old: &KeptWords<'_>, found: &Alignment, text: &PartText<'_>) {
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

    /// A word that is still there belongs to its panel.
    fn of_words(&mut self, old: &KeptWords<'_>, found: &Alignment) {
        for (word, earlier) in found.earlier.iter().enumerate() {
            if let Some(earlier) = earlier {
                self.now[word] = Some(old.owners[*earlier]);
            }
        }
    }

    /// What has been added within the words of one panel belongs to it; so does what has come in the place of its
    /// last or first words.
    fn between(&mut self, old: &KeptWords<'_>, found: &Alignment, text: &PartText<'_>) {
        let added = AddedWords::new(old, found, text);
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
                _ => added.owner(at..end, (left, right)),
            };
            self.now[at..end].fill(owner);
            at = end;
        }
    }

    fn find_touched(&mut self, old: &KeptWords<'_>, found: &Alignment) {
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

    /// Whether any words of a panel are left.
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

    /// How many words lie before the beginning of a panel: from that behind the last word of the panels before it, to the
    /// first of its own and of those after it.
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

/// What tells to which panel words belong that stand between the words of two panels.
struct AddedWords<'a> {
    old: &'a KeptWords<'a>,
    found: &'a Alignment,
    old_spans: Vec<Range<usize>>,
    new_spans: Vec<Range<usize>>,
    old_words: Vec<&'a str>,
    new_words: Vec<&'a str>,
    /// For each old word whether its line is gone: lines that have been changed stand where they stood, so only the words
    /// of lines that are gone can have been replaced.
    gone: Vec<bool>,
}

impl<'a> AddedWords<'a> {
    fn new(old: &'a KeptWords<'a>, found: &'a Alignment, text: &PartText<'a>) -> AddedWords<'a> {
        let old_spans = spans(&old.lines);
        let mut gone = vec![true; old.owners.len()];
        for &(one, _) in &found.lines {
            gone[old_spans[one].clone()].fill(false);
        }
        AddedWords {
            old,
            found,
            old_spans,
            new_spans: spans(&text.lines),
            old_words: old.lines.concat(),
            new_words: text.lines.concat(),
            gone,
        }
    }

    /// The panel of some words, the panels of the words beside them given: that of the words whose place they took, or
    /// one beside them from which they only moved.
    fn owner(
        &self,
        words: Range<usize>,
        (left, right): (Option<usize>, Option<usize>),
    ) -> Option<usize> {
        let earlier = &self.found.earlier;
        let from = earlier[..words.start].iter().flatten().next_back();
        let to = earlier[words.end..].iter().flatten().next();
        let from = from.map_or(0, |from| from + 1);
        let to = to.map_or(self.old.owners.len(), |to| *to);
        let gone = (from..to.max(from)).filter(|&word| self.gone[word]);
        let mut owners: Vec<usize> = gone.map(|word| self.old.owners[word]).collect();
        owners.dedup();
        if let [one] = owners.as_slice() {
            return Some(*one);
        }
        let beside = |owner: &usize| [left, right].contains(&Some(*owner));
        let line = self.line_moved_from(words.clone()).filter(beside);
        let mut sides = left.into_iter().chain(right);
        line.or_else(|| sides.find(|&side| self.words_moved_from(words.clone(), side)))
    }

    /// The panel of a line that only changed places with its neighbours and begins among these words.
    fn line_moved_from(&self, words: Range<usize>) -> Option<usize> {
        let here = |(_, now): &&(usize, usize)| words.contains(&self.new_spans[*now].start);
        let (was, _) = self.found.moved.iter().find(here)?;
        self.old.owners.get(self.old_spans[*was].start).copied()
    }

    /// Whether these words only changed places within their line, as two sentences of a paragraph may, and stood on that
    /// panel.
    fn words_moved_from(&self, words: Range<usize>, owner: usize) -> bool {
        let moved = &self.new_words[words];
        let mut runs = self.old_words.windows(moved.len()).enumerate();
        runs.any(|(at, run)| {
            let mut all = at..at + moved.len();
            run == moved
                && all
                    .all(|word| self.found.later[word].is_none() && self.old.owners[word] == owner)
        })
    }
}
