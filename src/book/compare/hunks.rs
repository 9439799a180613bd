//! Where two rows differ, each change in one piece, and which words only stand elsewhere.

use std::collections::HashSet;

use super::row::Word;
use crate::text::alignment::{Alignment, Lines, align_set, spans};

/// Two rows held against each other.
pub(super) struct Compared {
    /// Where they differ, in their order.
    pub hunks: Vec<Hunk>,
    /// For each later word the earlier one that it is.
    pub origins: Vec<Option<usize>>,
    /// Later words that stand out of their order: with their whole line they are gone in one place and new in another.
    pub strays: HashSet<usize>,
}

/// Words that differ: places in the earlier row and in the later one, of which one may have none.
#[derive(Default)]
pub(super) struct Hunk {
    pub old: Vec<usize>,
    pub new: Vec<usize>,
}

/// Compares two rows.
pub(super) fn compare(old: &[Word], new: &[Word]) -> Compared {
    let (old_lines, new_lines) = (lines(old), lines(new));
    let found = align_set(&old_lines, &new_lines);
    let mut compared = Compared {
        hunks: Vec::new(),
        origins: found.earlier.clone(),
        strays: HashSet::new(),
    };
    let (old_spans, new_spans) = (spans(&old_lines), spans(&new_lines));
    let mut gone = HashSet::new();
    for &(from, to) in &found.moved {
        for (from, to) in old_spans[from].clone().zip(new_spans[to].clone()) {
            compared.origins[to] = Some(from);
            compared.strays.insert(to);
            gone.insert(from);
        }
    }
    compared.find_hunks(&found, &gone, old, new);
    compared
}

impl Compared {
    fn find_hunks(&mut self, found: &Alignment, gone: &HashSet<usize>, old: &[Word], new: &[Word]) {
        let mut last: Option<Hunk> = None;
        let mut end = (0, 0);
        for (from, to) in found.gaps() {
            // One word that two changes leave between them is read with them: “[that year → a night]”.
            let between = (from.start == end.0 + 1).then_some(end);
            end = (from.end, to.end);
            let next = Hunk {
                old: from.filter(|at| !gone.contains(at)).collect(),
                new: to.filter(|at| !self.strays.contains(at)).collect(),
            };
            match (&mut last, between) {
                (Some(last), Some((from, to))) if last.replaces_with(&next) => {
                    self.origins[to] = None;
                    last.old.extend([from].into_iter().chain(next.old));
                    last.new.extend([to].into_iter().chain(next.new));
                }
                _ => {
                    let before = last.replace(next);
                    self.add(before, old, new);
                }
            }
        }
        self.add(last, old, new);
    }

    /// Adds a hunk without words that are the same at its ends: where a word could be taken for either of two, the
    /// change is then told in one piece.
    fn add(&mut self, hunk: Option<Hunk>, old: &[Word], new: &[Word]) {
        let Some(mut hunk) = hunk else { return };
        let same = |from: Option<&usize>, to: Option<&usize>| match (from, to) {
            (Some(from), Some(to)) => old[*from].text == new[*to].text,
            _ => false,
        };
        while same(hunk.old.last(), hunk.new.last()) {
            if let (Some(from), Some(to)) = (hunk.old.pop(), hunk.new.pop()) {
                self.origins[to] = Some(from);
            }
        }
        while same(hunk.old.first(), hunk.new.first()) {
            let (from, to) = (hunk.old.remove(0), hunk.new.remove(0));
            self.origins[to] = Some(from);
        }
        if !hunk.old.is_empty() || !hunk.new.is_empty() {
            self.hunks.push(hunk);
        }
    }
}

impl Hunk {
    fn is_empty(&self) -> bool {
        self.old.is_empty() && self.new.is_empty()
    }

    /// Whether words are taken out and put in by the two of them.
    fn replaces_with(&self, next: &Hunk) -> bool {
        let old = !self.old.is_empty() || !next.old.is_empty();
        let new = !self.new.is_empty() || !next.new.is_empty();
        old && new && !self.is_empty() && !next.is_empty()
    }
}

/// The words of each line.
fn lines(words: &[Word]) -> Lines<'_> {
    let lines = words.chunk_by(|one, next| one.line == next.line);
    lines
        .map(|line| line.iter().map(|word| word.text.as_str()).collect())
        .collect()
}
