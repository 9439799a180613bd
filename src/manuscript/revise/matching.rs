//! Which words and units of the client's text are those of the manuscript.

use super::view::{Unit, View};
use crate::alignment::{self, Lines};

/// Words and units of two texts that are each other's.
pub(super) struct Matched {
    /// For each old word the new one, moved ones too.
    pub to_new: Vec<Option<usize>>,
    /// The same for those that stand in the order of the old text.
    pub in_order: Vec<Option<usize>>,
    /// For each new word the old one, moved ones too.
    pub to_old: Vec<Option<usize>>,
    /// For each old unit the new one, changed or not.
    pub new_of: Vec<Option<usize>>,
    pub old_of: Vec<Option<usize>>,
    /// Which new units stood elsewhere.
    pub moved: Vec<bool>,
    /// How many units were paired for their place alone, having hardly a word in common.
    pub by_place: Vec<bool>,
}

impl Matched {
    /// How many old words are found again.
    pub(super) fn found(&self) -> usize {
        self.to_new.iter().flatten().count()
    }

    pub(super) fn of(old: (&View, &[Unit]), new: (&View, &[Unit])) -> Matched {
        let (old_lines, new_lines) = (lines(old.0, old.1), lines(new.0, new.1));
        let found = alignment::align(&old_lines, &new_lines);
        let mut matched = Matched {
            to_new: found.later.clone(),
            in_order: found.later,
            to_old: found.earlier,
            new_of: vec![None; old.1.len()],
            old_of: vec![None; new.1.len()],
            moved: vec![false; new.1.len()],
            by_place: vec![false; new.1.len()],
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
        let mut from = (0, 0);
        let ends = (old.1.len(), new.1.len());
        for (one, other) in found.lines.iter().copied().chain([ends]) {
            matched.pair_by_place(from.0..one, from.1..other);
            if (one, other) != ends {
                matched.pair(one, other);
            }
            from = (one + 1, other + 1);
        }
        matched
    }

    fn pair(&mut self, old: usize, new: usize) {
        self.new_of[old] = Some(new);
        self.old_of[new] = Some(old);
    }

    /// As many units as were there stand where others were: each takes the place of one.
    fn pair_by_place(&mut self, old: std::ops::Range<usize>, new: std::ops::Range<usize>) {
        let old: Vec<usize> = old.filter(|&unit| self.new_of[unit].is_none()).collect();
        let new: Vec<usize> = new.filter(|&unit| self.old_of[unit].is_none()).collect();
        if old.len() == new.len() {
            for (old, new) in old.into_iter().zip(new) {
                self.pair(old, new);
                self.by_place[new] = true;
            }
        }
    }
}

fn lines<'a>(view: &'a View, units: &[Unit]) -> Lines<'a> {
    let words = |unit: &Unit| unit.words.clone().map(|word| view.word(word)).collect();
    units.iter().map(words).collect()
}
