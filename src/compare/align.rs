//! Which words of two rows are the same ones: first whole lines, then the words of lines that differ.

use std::collections::{HashMap, HashSet};
use std::ops::Range;

use similar::{Algorithm, DiffOp, capture_diff_slices};

use super::row::Word;

/// The fewest words of a line that is looked for elsewhere: single words come back by chance.
const FEWEST_WORDS: usize = 2;

/// Two rows held against each other.
pub(super) struct Aligned {
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

/// Lines that differ.
struct Lines {
    old: Vec<Range<usize>>,
    new: Vec<Range<usize>>,
}

/// Aligns two rows.
pub(super) fn align(old: &[Word], new: &[Word]) -> Aligned {
    let mut aligned = Aligned {
        hunks: Vec::new(),
        origins: vec![None; new.len()],
        strays: HashSet::new(),
    };
    let mut lines = aligned.align_lines(old, new);
    aligned.find_moved_lines(old, new, &mut lines);
    for lines in lines {
        let places = |lines: Vec<Range<usize>>| lines.into_iter().flatten().collect::<Vec<_>>();
        aligned.align_words(old, new, &places(lines.old), &places(lines.new));
    }
    aligned
}

impl Aligned {
    /// Finds whole lines that are the same; gives those that differ.
    fn align_lines(&mut self, old: &[Word], new: &[Word]) -> Vec<Lines> {
        let (old_lines, new_lines) = (lines(old), lines(new));
        let of = |words: &[Word], lines: &[Range<usize>]| -> Vec<Vec<String>> {
            let texts = lines.iter().map(|line| texts(&words[line.clone()]));
            texts
                .map(|line| line.into_iter().map(String::from).collect())
                .collect()
        };
        let (old_texts, new_texts) = (of(old, &old_lines), of(new, &new_lines));
        let mut differing = Vec::new();
        for op in capture_diff_slices(Algorithm::Myers, &old_texts, &new_texts) {
            let (old, new) = (&old_lines[op.old_range()], &new_lines[op.new_range()]);
            match op {
                DiffOp::Equal { .. } => {
                    let old = old.iter().flat_map(Clone::clone);
                    let new = new.iter().flat_map(Clone::clone);
                    new.zip(old)
                        .for_each(|(to, from)| self.origins[to] = Some(from));
                }
                _ => differing.push(Lines {
                    old: old.to_vec(),
                    new: new.to_vec(),
                }),
            }
        }
        differing
    }

    /// Takes lines that have only moved out of those that differ.
    fn find_moved_lines(&mut self, old: &[Word], new: &[Word], differing: &mut [Lines]) {
        let long = |line: &&Range<usize>| line.len() >= FEWEST_WORDS;
        let mut gone: HashMap<Vec<&str>, Vec<Range<usize>>> = HashMap::new();
        let lines = differing.iter().flat_map(|lines| &lines.old);
        for line in lines.filter(long).rev() {
            let lines = gone.entry(texts(&old[line.clone()])).or_default();
            lines.push(line.clone());
        }
        let mut moved = HashSet::new();
        for lines in differing.iter_mut() {
            lines.new.retain(|line| {
                let from = gone.get_mut(&texts(&new[line.clone()])).and_then(Vec::pop);
                let stays = from.is_none();
                for (to, from) in line.clone().zip(from.into_iter().flatten()) {
                    self.origins[to] = Some(from);
                    self.strays.insert(to);
                    moved.insert(from);
                }
                stays
            });
        }
        for lines in differing {
            lines.old.retain(|line| !moved.contains(&line.start));
        }
    }

    /// Finds the words that are the same in lines that differ.
    fn align_words(&mut self, old: &[Word], new: &[Word], from: &[usize], to: &[usize]) {
        let texts = |words: &[Word], places: &[usize]| -> Vec<String> {
            places.iter().map(|at| words[*at].text.clone()).collect()
        };
        let mut last: Option<Hunk> = None;
        let mut between = Vec::new();
        for op in capture_diff_slices(Algorithm::Myers, &texts(old, from), &texts(new, to)) {
            let (from, to) = (&from[op.old_range()], &to[op.new_range()]);
            if let DiffOp::Equal { .. } = op {
                between = to.iter().copied().zip(from.iter().copied()).collect();
                between
                    .iter()
                    .for_each(|(to, from)| self.origins[*to] = Some(*from));
                continue;
            }
            let next = Hunk {
                old: from.to_vec(),
                new: to.to_vec(),
            };
            // One word that two changes leave between them is read with them: “[that year → a night]”.
            match (&mut last, &between[..]) {
                (Some(last), [(to, from)]) if last.replaces_with(&next) => {
                    self.origins[*to] = None;
                    last.old.extend([*from].into_iter().chain(next.old));
                    last.new.extend([*to].into_iter().chain(next.new));
                }
                _ => {
                    let before = last.replace(next);
                    self.add(before, old, new);
                }
            }
            between.clear();
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
        self.hunks.push(hunk);
    }
}

impl Hunk {
    /// Whether words are taken out and put in by the two of them.
    fn replaces_with(&self, next: &Hunk) -> bool {
        let old = !self.old.is_empty() || !next.old.is_empty();
        old && (!self.new.is_empty() || !next.new.is_empty())
    }
}

fn texts(words: &[Word]) -> Vec<&str> {
    words.iter().map(|word| word.text.as_str()).collect()
}

/// The places of each line's words.
fn lines(words: &[Word]) -> Vec<Range<usize>> {
    let mut at = 0;
    let lines = words.chunk_by(|one, next| one.line == next.line);
    let lines = lines.map(|line| {
        at += line.len();
        at - line.len()..at
    });
    lines.collect()
}
