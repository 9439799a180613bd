//! Alignment: which words of a text are those of an earlier one.
//!
//! A text comes as lines (of verse, or whole paragraphs) of words. Lines that are the same are found first, then
//! lines that are alike, then words within them: so that a refrain or a common word seldom stands for another. The
//! order of both texts is kept; what has moved is told apart ([`Alignment::moved`]).

mod flowing;
mod pairs;
mod pieces;
#[cfg(test)]
mod tests;

pub use flowing::align_set;
pub use pieces::pieces;

use std::collections::HashSet;
use std::ops::Range;

use similar::{Algorithm, DiffOp, capture_diff_slices};

/// A text, line by line, each a list of its words; blank lines left out.
pub type Lines<'a> = Vec<Vec<&'a str>>;

/// Which words of a later text are which of an earlier one. Words are counted over all lines.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Alignment {
    /// For each word of the earlier text the number of the same word in the later one, in rising order.
    pub later: Vec<Option<usize>>,
    /// For each word of the later text the number of the same word in the earlier one.
    pub earlier: Vec<Option<usize>>,
    /// Lines that are each other's, changed or not, in order: (earlier, later).
    pub lines: Vec<(usize, usize)>,
    /// Lines that are word for word the same and in no pair, for they stand elsewhere now: (earlier, later). Each is
    /// in one pair at most.
    pub moved: Vec<(usize, usize)>,
}

impl Alignment {
    /// How many words of the earlier text are still there, in order.
    pub fn kept(&self) -> usize {
        self.later.iter().flatten().count()
    }

    /// Where words differ, in order: between two that are the same, those of the earlier text and those of the later
    /// one. Either may be empty, but not both. Words of lines that have moved are among them.
    pub fn gaps(&self) -> Vec<(Range<usize>, Range<usize>)> {
        let same = self.later.iter().enumerate();
        let same = same.filter_map(|(old, new)| Some((old, (*new)?)));
        let end = (self.later.len(), self.earlier.len());
        let mut from = (0, 0);
        let gaps = same.chain([end]).map(|(old, new)| {
            let gap = (from.0..old, from.1..new);
            from = (old + 1, new + 1);
            gap
        });
        gaps.filter(|(old, new)| !old.is_empty() || !new.is_empty())
            .collect()
    }
}

/// Where each line's words lie among all words.
pub fn spans(lines: &Lines<'_>) -> Vec<Range<usize>> {
    let mut at = 0;
    let span = |line: &Vec<&str>| {
        at += line.len();
        at - line.len()..at
    };
    lines.iter().map(span).collect()
}

/// A run of so many words counts as the same words even where no line around it is matched.
const RUN: usize = 3;

/// Aligns a later text with an earlier one. Where that tells fewer changes, lines count as the same that differ in
/// nothing but points and quotation marks: else a line that has lost its full stop beside one like it would be told
/// twice.
pub fn align<'a>(earlier: &Lines<'a>, later: &Lines<'a>) -> Alignment {
    let exact = align_by((earlier, later), (earlier, later));
    if exact.lines.len() + exact.moved.len() == earlier.len().max(later.len()) {
        return exact;
    }
    let bare = |text: &Lines<'a>| -> Lines<'a> {
        let line = |line: &Vec<&'a str>| line.iter().map(|word| bare(word)).collect();
        text.iter().map(line).collect()
    };
    let alike = align_by((earlier, later), (&bare(earlier), &bare(later)));
    let changes = |found: &Alignment| found.changed_lines(earlier, later);
    match changes(&alike) < changes(&exact) {
        true => alike,
        false => exact,
    }
}

/// A word without the points and marks around it, or as it is where it is nothing else.
fn bare(word: &str) -> &str {
    match word.trim_matches(|c: char| !c.is_alphanumeric()) {
        "" => word,
        bare => bare,
    }
}

/// Aligns two texts, whose lines are known by `keys`.
fn align_by<'a>(
    (earlier, later): (&Lines<'a>, &Lines<'a>),
    keys: (&Lines<'a>, &Lines<'a>),
) -> Alignment {
    let (old_spans, new_spans) = (spans(earlier), spans(later));
    let mut found = Alignment::nothing(earlier, later);
    let mut changed = Vec::new();
    for op in capture_diff_slices(Algorithm::Patience, keys.0, keys.1) {
        let (old, new) = (op.old_range(), op.new_range());
        match op {
            DiffOp::Equal { .. } => found.lines.extend(old.zip(new)),
            _ => changed.push((old, new)),
        }
    }
    // A line that is the same elsewhere is not one that happens to be like it here.
    found.find_moved(earlier, later);
    let elsewhere: (HashSet<usize>, HashSet<usize>) = found.moved.iter().copied().unzip();
    for (old, new) in changed {
        let old: Vec<usize> = old.filter(|line| !elsewhere.0.contains(line)).collect();
        let new: Vec<usize> = new.filter(|line| !elsewhere.1.contains(line)).collect();
        let words = |lines: &[usize], text: &Lines<'a>| -> Lines<'a> {
            lines.iter().map(|&line| text[line].clone()).collect()
        };
        let alike = pairs::alike(&words(&old, keys.0), &words(&new, keys.1)).into_iter();
        found
            .lines
            .extend(alike.map(|(one, other)| (old[one], new[other])));
    }
    found.lines.sort_unstable();
    for (old, new) in found.lines.clone() {
        let starts = (old_spans[old].start, new_spans[new].start);
        found.match_words(&earlier[old], &later[new], starts, 1);
    }
    found.match_between(earlier, later);
    found
}

impl Alignment {
    /// An alignment in which no word is the same.
    fn nothing(earlier: &Lines<'_>, later: &Lines<'_>) -> Alignment {
        let count = |lines: &Lines<'_>| lines.iter().map(Vec::len).sum();
        Alignment {
            later: vec![None; count(earlier)],
            earlier: vec![None; count(later)],
            ..Alignment::default()
        }
    }

    /// How many lines are told as changed: cut, added, moved, or reading otherwise.
    fn changed_lines(&self, earlier: &Lines<'_>, later: &Lines<'_>) -> usize {
        let differ = |(old, new): &&(usize, usize)| earlier[*old] != later[*new];
        let paired = self.lines.len() + self.moved.len();
        let gone = earlier.len() - paired;
        let new = later.len() - paired;
        gone + new + self.moved.len() + self.lines.iter().filter(differ).count()
    }

    fn match_word(&mut self, old: usize, new: usize) {
        self.later[old] = Some(new);
        self.earlier[new] = Some(old);
    }

    /// Matches runs of at least `least` words of two stretches that begin at these words.
    fn match_words(
        &mut self,
        old: &[&str],
        new: &[&str],
        (old_start, new_start): (usize, usize),
        least: usize,
    ) {
        for op in capture_diff_slices(Algorithm::Patience, old, new) {
            let DiffOp::Equal {
                old_index,
                new_index,
                len,
            } = op
            else {
                continue;
            };
            if len < least {
                continue;
            }
            for at in 0..len {
                self.match_word(old_start + old_index + at, new_start + new_index + at);
            }
        }
    }

    /// Looks for runs of the same words between words that are matched already, as when a line was cut in two or joined to
    /// another.
    fn match_between(&mut self, earlier: &Lines<'_>, later: &Lines<'_>) {
        let (old, new) = (earlier.concat(), later.concat());
        let matched = self.later.iter().enumerate();
        let mut anchors: Vec<(usize, usize)> = matched
            .filter_map(|(one, other)| Some((one, (*other)?)))
            .collect();
        anchors.push((old.len(), new.len()));
        let mut from = (0, 0);
        for (one, other) in anchors {
            let (gap_old, gap_new) = (from.0..one, from.1..other);
            from = (one + 1, other + 1);
            if !gap_old.is_empty() && !gap_new.is_empty() {
                let starts = (gap_old.start, gap_new.start);
                let least = RUN.min(gap_old.len()).min(gap_new.len());
                self.match_words(&old[gap_old], &new[gap_new], starts, least);
            }
        }
    }

    /// Finds lines that are the same and stand elsewhere. Of several that are the same, the first is paired with the first.
    fn find_moved(&mut self, earlier: &Lines<'_>, later: &Lines<'_>) {
        let mut old_free = vec![true; earlier.len()];
        let mut new_free = vec![true; later.len()];
        for &(old, new) in &self.lines {
            (old_free[old], new_free[new]) = (false, false);
        }
        let mut waiting: std::collections::HashMap<&[&str], Vec<usize>> = Default::default();
        for at in (0..earlier.len()).rev().filter(|&at| old_free[at]) {
            waiting.entry(&earlier[at]).or_default().push(at);
        }
        for at in (0..later.len()).filter(|&at| new_free[at]) {
            let same = waiting.get_mut(later[at].as_slice());
            if let Some(old) = same.and_then(Vec::pop) {
                self.moved.push((old, at));
            }
        }
    }
}
