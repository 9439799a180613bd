//! Which words were changed between two layouts, and which only stand elsewhere.
//!
//! The words of both are compared as one long row each, in the order of reading, so that what flowed on to another
//! panel is not taken for changed.

use std::collections::BTreeMap;

use super::hunks::{self, Compared, Hunk};
use super::record::Record;
use super::row::{Word, joined, row};
use crate::names::PanelName;

/// Words of context before a difference, and after it.
const CONTEXT: (usize, usize) = (3, 2);

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

/// The words that were changed, each with its panel, and those that moved. What is only taken out is told of the
/// panel where it stood.
pub(super) fn compare(old: &Record, new: &Record) -> (Vec<(PanelName, Difference)>, Vec<Moved>) {
    let (old, new) = (row(old), row(new));
    let compared = hunks::compare(&old, &new);
    let found = compared
        .hunks
        .iter()
        .flat_map(|hunk| differences(hunk, &old, &new));
    (found.collect(), moved(&old, &new, &compared))
}

/// A hunk as differences, panel by panel: each panel's new words with what stood there before; what stood on a panel
/// that has no new words belongs to the first.
fn differences(hunk: &Hunk, old: &[Word], new: &[Word]) -> Vec<(PanelName, Difference)> {
    let runs = |places: &[usize], words: &[Word]| -> Vec<Vec<usize>> {
        let runs = places.chunk_by(|one, next| words[*one].panel == words[*next].panel);
        runs.map(<[usize]>::to_vec).collect()
    };
    let mut earlier = runs(&hunk.old, old);
    let panel = |run: &[usize], words: &[Word]| words[run[0]].panel;
    if hunk.new.is_empty() {
        let found = earlier.iter().map(|run| {
            let (before, after) = around(old, run);
            let difference = Difference {
                before,
                old: joined(old, run),
                new: String::new(),
                after,
            };
            (panel(run, old), difference)
        });
        return found.collect();
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
    let found = later.iter().zip(stood).map(|(run, stood)| {
        let (before, after) = around(new, run);
        let difference = Difference {
            before,
            old: joined(old, &stood),
            new: joined(new, run),
            after,
        };
        (panel(run, new), difference)
    });
    found.collect()
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

/// What stands on another panel than before, or out of its order.
fn moved(old: &[Word], new: &[Word], compared: &Compared) -> Vec<Moved> {
    let mut found: BTreeMap<(PanelName, PanelName), (usize, usize)> = BTreeMap::new();
    let mut line = None;
    for (at, (word, from)) in new.iter().zip(&compared.origins).enumerate() {
        let Some(from) = from else { continue };
        let begins = line.replace(word.line) != Some(word.line);
        let from = old[*from].panel;
        if from != word.panel || compared.strays.contains(&at) {
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
