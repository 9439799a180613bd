//! Which words and units of the client's text are those of the manuscript.

use super::view::{ClientView, TextUnit};
use crate::text::alignment::{self, Lines};

/// The fewest words of a unit that is looked for elsewhere even though it is changed.
const LEAST_LONG: usize = 4;
/// The most pairs of such units that are compared.
const MOST: usize = 20_000;

/// Which words and units of two texts are the same, by number.
pub(super) struct Matching {
    /// For each old word the new one, even where it has moved.
    pub to_new: Vec<Option<usize>>,
    /// For each old word the new one, if it still stands in the order of the old text.
    pub in_order: Vec<Option<usize>>,
    /// For each new word the old one, even where it has moved.
    pub to_old: Vec<Option<usize>>,
    /// For each old unit the new one, changed or not.
    pub new_of: Vec<Option<usize>>,
    /// For each new unit the old one, changed or not.
    pub old_of: Vec<Option<usize>>,
    /// Which new units stood elsewhere.
    pub moved: Vec<bool>,
}

impl Matching {
    /// How many old words are found again.
    pub(super) fn found(&self) -> usize {
        self.to_new.iter().flatten().count()
    }

    pub(super) fn of(old: (&ClientView, &[TextUnit]), new: (&ClientView, &[TextUnit])) -> Matching {
        let (old_lines, new_lines) = (lines(old.0, old.1), lines(new.0, new.1));
        let found = alignment::align(&old_lines, &new_lines);
        let mut matched = Matching {
            to_new: found.later.clone(),
            in_order: found.later,
            to_old: found.earlier,
            new_of: vec![None; old.1.len()],
            old_of: vec![None; new.1.len()],
            moved: vec![false; new.1.len()],
        };
        for &(one, other) in &found.moved {
            matched.moved[other] = true;
            matched.pair(one, other);
            let words = old.1[one].words.clone().zip(new.1[other].words.clone());
            for (one, other) in words {
                if matched.to_new[one].is_none() && matched.to_old[other].is_none() {
                    matched.to_new[one] = Some(other);
                    matched.to_old[other] = Some(one);
                }
            }
        }
        for &(one, other) in &found.lines {
            matched.pair(one, other);
        }
        matched.find_moved_and_changed(old, new);
        let mut from = (0, 0);
        let ends = (old.1.len(), new.1.len());
        for (one, other) in found.lines.iter().copied().chain([ends]) {
            matched.pair_by_place(from.0..one, from.1..other);
            from = (one + 1, other + 1);
        }
        matched
    }

    /// Units that stand elsewhere now and are changed a little.
    fn find_moved_and_changed(
        &mut self,
        old: (&ClientView, &[TextUnit]),
        new: (&ClientView, &[TextUnit]),
    ) {
        let long = |unit: &TextUnit| unit.words.len() >= LEAST_LONG;
        let free_old = (0..old.1.len()).filter(|&at| self.new_of[at].is_none() && long(&old.1[at]));
        let free_old: Vec<usize> = free_old.collect();
        let free_new = (0..new.1.len()).filter(|&at| self.old_of[at].is_none() && long(&new.1[at]));
        let free_new: Vec<usize> = free_new.collect();
        if free_old.len().saturating_mul(free_new.len()) > MOST {
            return;
        }
        for other in free_new {
            let later = lines(new.0, &new.1[other..=other]);
            let mut best: Option<(usize, usize, alignment::Alignment)> = None;
            for &one in free_old.iter().filter(|&&one| self.new_of[one].is_none()) {
                let found = alignment::align(&lines(old.0, &old.1[one..=one]), &later);
                let kept = found.kept();
                let enough = kept * 10 >= (found.later.len() + found.earlier.len()) * 3;
                if enough && best.as_ref().is_none_or(|(_, most, _)| kept > *most) {
                    best = Some((one, kept, found));
                }
            }
            let Some((one, _, found)) = best else {
                continue;
            };
            self.moved[other] = true;
            self.pair(one, other);
            let (from, to) = (old.1[one].words.start, new.1[other].words.start);
            for (at, word) in found.later.iter().enumerate() {
                let Some(word) = word.map(|word| to + word) else {
                    continue;
                };
                if self.to_new[from + at].is_none() && self.to_old[word].is_none() {
                    self.to_new[from + at] = Some(word);
                    self.to_old[word] = Some(from + at);
                }
            }
        }
    }

    fn pair(&mut self, old: usize, new: usize) {
        self.new_of[old] = Some(new);
        self.old_of[new] = Some(old);
    }

    /// Pairs the units of two stretches one by one where both have as many that are not paired yet: each takes the place of
    /// one.
    fn pair_by_place(&mut self, old: std::ops::Range<usize>, new: std::ops::Range<usize>) {
        let old: Vec<usize> = old.filter(|&unit| self.new_of[unit].is_none()).collect();
        let new: Vec<usize> = new.filter(|&unit| self.old_of[unit].is_none()).collect();
        if old.len() == new.len() {
            for (old, new) in old.into_iter().zip(new) {
                self.pair(old, new);
            }
        }
    }
}

fn lines<'a>(view: &'a ClientView, units: &[TextUnit]) -> Lines<'a> {
    let words = |unit: &TextUnit| unit.words.clone().map(|word| view.word(word)).collect();
    units.iter().map(words).collect()
}
