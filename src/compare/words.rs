//! Which words were changed between two layouts, and which only stand elsewhere.
//!
//! The words of both are compared as one long row each, in the order of reading, so that what flowed on to another
//! panel is not taken for changed.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::ops::Range;

use similar::{Algorithm, DiffOp, capture_diff_slices};

use super::record::Record;
use super::row::{Word, joined, row};
use crate::plan::PanelName;

/// Words of context before a difference, and after it.
const CONTEXT: (usize, usize) = (3, 2);

/// The fewest words of a line that is looked for elsewhere: single words come back by chance.
const FEWEST_WORDS: usize = 2;

/// Words that were changed, put in (`old` is empty) or taken out (`new` is empty), with a little of what stands
/// around them on their panel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// The words before them.
    pub before: String,
    /// What stood there.
    pub old: String,
    /// What stands there.
    pub new: String,
    /// The words after them.
    pub after: String,
}

/// Words that stand elsewhere without being changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Moved {
    /// The panel where they stood.
    pub from: PanelName,
    /// The panel where they stand; the same one where they only stand in another order.
    pub to: PanelName,
    /// Lines of the later layout that begin with them.
    pub lines: usize,
    /// How many words they are.
    pub words: usize,
}

/// Words that differ: places in the earlier row and in the later one.
struct Hunk {
    old: Vec<usize>,
    new: Vec<usize>,
}

/// The words that were changed, each with its panel, and those that moved. What is only taken out is told of the
/// panel where it stood.
pub(super) fn compare(old: &Record, new: &Record) -> (Vec<(PanelName, Difference)>, Vec<Moved>) {
    let (old, new) = (row(old), row(new));
    let (mut hunks, mut origins) = differ(&old, &new);
    let strays = find_moved_lines(&old, &new, &mut hunks, &mut origins);
    let told = hunks.iter().flat_map(|hunk| told(hunk, &old, &new));
    (told.collect(), moved(&old, &new, &origins, &strays))
}

/// Where the rows differ, and for each later word the earlier one that it is.
fn differ(old: &[Word], new: &[Word]) -> (Vec<Hunk>, Vec<Option<usize>>) {
    let mut numbers: HashMap<&str, usize> = HashMap::new();
    let mut numbered = |words| -> Vec<usize> { number(words, &mut numbers) };
    let (old_numbers, new_numbers) = (numbered(old), numbered(new));
    let mut origins = vec![None; new.len()];
    let mut hunks: Vec<Hunk> = Vec::new();
    let mut equal = 0;
    for op in capture_diff_slices(Algorithm::Myers, &old_numbers, &new_numbers) {
        if let DiffOp::Equal {
            old_index,
            new_index,
            len,
        } = op
        {
            for at in 0..len {
                origins[new_index + at] = Some(old_index + at);
            }
            equal = len;
            continue;
        }
        let hunk = Hunk {
            old: op.old_range().collect(),
            new: op.new_range().collect(),
        };
        let replaces = |hunk: &Hunk| !hunk.old.is_empty() && !hunk.new.is_empty();
        match hunks.last_mut() {
            // One word that two changes leave between them is read with them: “[that year → a night]”.
            Some(last) if equal == 1 && replaces(last) && replaces(&hunk) => {
                let (old_at, new_at) = (hunk.old[0] - 1, hunk.new[0] - 1);
                origins[new_at] = None;
                last.old.push(old_at);
                last.new.push(new_at);
                last.old.extend(hunk.old);
                last.new.extend(hunk.new);
            }
            _ => hunks.push(hunk),
        }
        equal = 0;
    }
    (hunks, origins)
}

fn number<'w>(words: &'w [Word], numbers: &mut HashMap<&'w str, usize>) -> Vec<usize> {
    let number = |word: &'w Word| {
        let next = numbers.len();
        *numbers.entry(&word.text).or_insert(next)
    };
    words.iter().map(number).collect()
}

/// Lines that are gone in one place and new in another have moved: takes them out of what differs. Gives the places
/// of their words.
fn find_moved_lines(
    old: &[Word],
    new: &[Word],
    hunks: &mut Vec<Hunk>,
    origins: &mut [Option<usize>],
) -> HashSet<usize> {
    let gone: HashSet<usize> = hunks.iter().flat_map(|hunk| hunk.old.clone()).collect();
    let fresh: HashSet<usize> = hunks.iter().flat_map(|hunk| hunk.new.clone()).collect();
    let mut waiting: HashMap<Vec<&str>, Vec<Range<usize>>> = HashMap::new();
    for line in whole_lines(old, &gone).into_iter().rev() {
        waiting
            .entry(texts(&old[line.clone()]))
            .or_default()
            .push(line);
    }
    let (mut old_moved, mut new_moved) = (HashSet::new(), HashSet::new());
    for line in whole_lines(new, &fresh) {
        let Some(from) = waiting.get_mut(&texts(&new[line.clone()])) else {
            continue;
        };
        let Some(from) = from.pop() else { continue };
        for (from, to) in from.zip(line) {
            origins[to] = Some(from);
            old_moved.insert(from);
            new_moved.insert(to);
        }
    }
    for hunk in hunks.iter_mut() {
        hunk.old.retain(|at| !old_moved.contains(at));
        hunk.new.retain(|at| !new_moved.contains(at));
    }
    hunks.retain(|hunk| !hunk.old.is_empty() || !hunk.new.is_empty());
    new_moved
}

fn texts(words: &[Word]) -> Vec<&str> {
    words.iter().map(|word| word.text.as_str()).collect()
}

/// The lines all of whose words are among these.
fn whole_lines(words: &[Word], among: &HashSet<usize>) -> Vec<Range<usize>> {
    let mut at = 0;
    let lines = words.chunk_by(|one, next| one.line == next.line);
    let lines = lines.map(|line| {
        at += line.len();
        at - line.len()..at
    });
    lines
        .filter(|line| line.len() >= FEWEST_WORDS && line.clone().all(|at| among.contains(&at)))
        .collect()
}

/// A hunk as differences, panel by panel: each panel's new words with what stood there before; what stood on a panel
/// that has no new words belongs to the first.
fn told(hunk: &Hunk, old: &[Word], new: &[Word]) -> Vec<(PanelName, Difference)> {
    let runs = |places: &[usize], words: &[Word]| -> Vec<Vec<usize>> {
        let runs = places.chunk_by(|one, next| words[*one].panel == words[*next].panel);
        runs.map(<[usize]>::to_vec).collect()
    };
    let mut earlier = runs(&hunk.old, old);
    let panel = |run: &[usize], words: &[Word]| words[run[0]].panel;
    if hunk.new.is_empty() {
        let told = earlier.iter().map(|run| {
            let (before, after) = around(old, run);
            let difference = Difference {
                before,
                old: joined(old, run),
                new: String::new(),
                after,
            };
            (panel(run, old), difference)
        });
        return told.collect();
    }
    let later = runs(&hunk.new, new);
    let mut stood: Vec<Vec<usize>> = later
        .iter()
        .map(|run| {
            let here = panel(run, new);
            let found = earlier.iter().position(|run| panel(run, old) == here);
            found.map_or(Vec::new(), |found| earlier.remove(found))
        })
        .collect();
    let rest = earlier.concat();
    stood[0].extend(rest);
    stood[0].sort_unstable();
    let told = later.iter().zip(stood).map(|(run, stood)| {
        let (before, after) = around(new, run);
        let difference = Difference {
            before,
            old: joined(old, &stood),
            new: joined(new, run),
            after,
        };
        (panel(run, new), difference)
    });
    told.collect()
}

/// A few words before and after a run, of its panel.
fn around(words: &[Word], run: &[usize]) -> (String, String) {
    let (first, last) = (run[0], run[run.len() - 1]);
    let here = |at: &usize| words[*at].panel == words[first].panel;
    let mut before: Vec<usize> = (0..first).rev().take_while(here).take(CONTEXT.0).collect();
    before.reverse();
    let after = (last + 1..words.len()).take_while(here).take(CONTEXT.1);
    (
        joined(words, &before),
        joined(words, &after.collect::<Vec<_>>()),
    )
}

/// What stands on another panel than before; `strays` stand out of their order too.
fn moved(
    old: &[Word],
    new: &[Word],
    origins: &[Option<usize>],
    strays: &HashSet<usize>,
) -> Vec<Moved> {
    let mut found: BTreeMap<(PanelName, PanelName), (usize, usize)> = BTreeMap::new();
    let mut line = None;
    for (at, (word, from)) in new.iter().zip(origins).enumerate() {
        let Some(from) = from else { continue };
        let begins = line.replace(word.line) != Some(word.line);
        let from = old[*from].panel;
        if from != word.panel || strays.contains(&at) {
            let (lines, words) = found.entry((word.panel, from)).or_default();
            *lines += usize::from(begins);
            *words += 1;
        }
    }
    let moved = found.into_iter();
    let moved = moved.map(|((to, from), (lines, words))| Moved {
        from,
        to,
        lines,
        words,
    });
    moved.collect()
}
