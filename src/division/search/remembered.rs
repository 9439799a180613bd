//! What a search has found of the words that panels may carry, kept for the next time: after one changed word nearly all
//! words stand as they did.
//!
//! A part is held against the one before row by row: all that is equal from its beginning on, and all that is equal up to its
//! end, but that it lies so many places farther on. Rules without memory look at the words of a panel, at the lines that the
//! stanza or paragraph above and below has, and at what holds of the whole part. So what was found from a place on holds
//! still where all these rows lie within what is equal, and nothing else is taken over.

use std::ops::Range;

use super::stretches::{Found, Kind, Stretch};
use crate::division::{Cost, Problem, RowFacts};
use crate::plan::RuleName;
use crate::rules::Weighed;
use crate::stack::{Filled, Line, Start, Takes};

/// For how many runs a search is remembered that none of them asks for.
const RUNS: usize = 4;

/// What is remembered of the searches of the last runs: of each part under the rules that it was asked, the stretches of its
/// last search alone.
#[derive(Default)]
pub struct Remembered {
    known: Vec<Known>,
    run: usize,
    /// Whether nothing is to be remembered.
    none: bool,
}

/// What a search has found of a part.
struct Known {
    problem: Problem,
    rules: Vec<(RuleName, bool, Cost)>,
    kinds: Vec<(Kind, Vec<Option<Found>>)>,
    /// The last run that searched it.
    run: usize,
}

/// What of an earlier search holds of a part as it is now.
pub(super) struct Holding<'k> {
    kinds: &'k [(Kind, Vec<Option<Found>>)],
    alike: Alike,
}

/// What two parts have in common, by the places of the later one.
struct Alike {
    /// What a panel looks at has to lie before the first place, or begin behind the second.
    before: usize,
    behind: usize,
    /// How many places farther on than in the earlier part what is behind lies.
    farther: isize,
    /// By place: the first row from there on that is no caption.
    words_from: Vec<usize>,
}

impl Remembered {
    /// What remembers nothing.
    pub fn none() -> Remembered {
        Remembered {
            none: true,
            ..Remembered::default()
        }
    }

    /// Begins a run: what the last ones did not search is forgotten.
    pub fn begin(&mut self) {
        self.run += 1;
        self.known.retain(|known| known.run + RUNS >= self.run);
    }

    /// What holds of a part that is asked these rules.
    pub(super) fn holding(&self, problem: &Problem, rules: &[Weighed]) -> Option<Holding<'_>> {
        let known = self
            .known
            .iter()
            .find(|known| known.is_of(problem, rules))?;
        Some(Holding {
            kinds: &known.kinds,
            alike: Alike::of(&known.problem, problem)?,
        })
    }

    /// Keeps what a search has found of a part, in the place of what was known of it.
    pub(super) fn keep(
        &mut self,
        problem: &Problem,
        rules: &[Weighed],
        kinds: Vec<(Kind, Vec<Option<Found>>)>,
    ) {
        if self.none {
            return;
        }
        self.known.retain(|known| !known.is_of(problem, rules));
        self.known.push(Known {
            problem: problem.clone(),
            rules: asked(rules),
            kinds,
            run: self.run,
        });
    }
}

fn asked(rules: &[Weighed]) -> Vec<(RuleName, bool, Cost)> {
    let rules = rules.iter();
    let rules = rules.map(|weighed| (weighed.name, weighed.hard, weighed.importance));
    rules.collect()
}

impl Known {
    /// Whether it is the same part, asked the same.
    fn is_of(&self, problem: &Problem, rules: &[Weighed]) -> bool {
        self.problem.panels == problem.panels && self.rules == asked(rules)
    }
}

impl Holding<'_> {
    /// The stretches from a place on, if they hold still.
    pub fn stretches(&self, kind: &Kind, from: usize) -> Option<Found> {
        let (_, known) = self.kinds.iter().find(|(known, _)| known == kind)?;
        if from < self.alike.before {
            let found = known.get(from)?.as_ref()?;
            let below = *self.alike.words_from.get(found.seen as usize)?;
            return (below < self.alike.before).then(|| found.clone());
        }
        if from < self.alike.behind {
            return None;
        }
        let farther = self.alike.farther;
        let found = known.get(from.checked_add_signed(-farther)?)?.as_ref()?;
        if farther == 0 {
            return Some(found.clone());
        }
        let moved = found.stretches.iter().map(|stretch| Stretch {
            to: (stretch.to as isize + farther) as u32,
            ..*stretch
        });
        Some(Found {
            stretches: moved.collect(),
            seen: (found.seen as isize + farther) as u32,
        })
    }
}

impl Alike {
    /// What two parts have in common; nothing where what holds of the whole part is not the same, or where places are
    /// named in it.
    fn of(old: &Problem, new: &Problem) -> Option<Alike> {
        let kept = |part: &Problem| {
            let mut panels = part.panels.iter();
            let named = panels.any(|panel| {
                (panel.begins.or(panel.ends)).is_some()
                    || panel.passed.is_some()
                    || panel.chosen.is_some()
            });
            named || !part.chosen_ends.is_empty() || !part.printed_ends.is_empty()
        };
        let whole = (old.opening, old.body, old.word_panels, old.blanks_unsaid)
            == (new.opening, new.body, new.word_panels, new.blanks_unsaid);
        if !whole || kept(old) || kept(new) || old.rules != new.rules {
            return None;
        }
        let farther = new.rows.len() as isize - old.rows.len() as isize;
        let (before, behind) = equal_rows(old, new, farther)?;
        let alike = Alike {
            before: before_last_stanza(&new.rows[..before]),
            behind: behind_first_stanza(&new.rows, behind),
            farther,
            words_from: words_from(&new.rows),
        };
        let opening = new.opening <= alike.before;
        let pictures = pictures_are_alike(old, new, &(before..behind), farther);
        (opening && pictures).then_some(alike)
    }
}

/// The rows that two parts have in common: up to one place, and from another of the later part on; nothing where columns are
/// others, or their lines lie in no order that is known.
fn equal_rows(old: &Problem, new: &Problem, farther: isize) -> Option<(usize, usize)> {
    let row = |part: &Problem, at: usize| (part.rows[at], part.stack.spaces.get(at).copied());
    let from_end = |part: &Problem, last: usize| row(part, part.rows.len() - 1 - last);
    let shorter = old.rows.len().min(new.rows.len());
    let first = (0..shorter).take_while(|&at| row(old, at) == row(new, at));
    let last = (0..shorter).take_while(|&at| from_end(old, at) == from_end(new, at));
    let (mut before, mut last) = (first.count(), last.count());
    let columns = || old.stack.columns.iter().zip(&new.stack.columns);
    if old.stack.columns.len() != new.stack.columns.len() {
        return None;
    }
    let columns: Option<Vec<Columns<'_>>> = columns()
        .map(|(old, new)| Columns::of(old, new, farther))
        .collect();
    let columns = columns?;
    for column in &columns {
        (before, last) = (before.min(column.first), last.min(column.last));
    }
    let mut behind = new.rows.len() - last.min(shorter);
    // Whole paragraphs, in both.
    let inner = |part: &Problem, at: usize| part.rows.get(at).is_some_and(|row| row.inner);
    let earlier = |at: usize| at.wrapping_add_signed(-farther);
    let within = |at: usize, of_old: usize| inner(new, at) || inner(old, of_old);
    while before > 0
        && (within(before, before) || !columns.iter().all(|column| column.begins_alike(before)))
    {
        before -= 1;
    }
    while behind < new.rows.len()
        && (within(behind, earlier(behind))
            || !columns.iter().all(|column| column.ends_alike(behind)))
    {
        behind += 1;
    }
    // Nothing is counted to both.
    let behind = behind
        .max(before)
        .max(before.saturating_add_signed(farther));
    Some((before, behind))
}

/// A column in both parts.
struct Columns<'a> {
    new: &'a Filled,
    /// How many places from the beginning on have the same starts, and how many from the end.
    first: usize,
    last: usize,
    /// The same of its takes and of its lines.
    takes: (usize, usize),
    lines: (usize, usize),
    /// By place: how many takes and lines those before it have.
    taken: Vec<(usize, usize)>,
}

impl<'a> Columns<'a> {
    fn of(old: &'a Filled, new: &'a Filled, farther: isize) -> Option<Columns<'a>> {
        if old.boxes != new.boxes {
            return None;
        }
        let more = |old: usize, new: usize| new as isize - old as isize;
        let by_takes = more(old.takes.len(), new.takes.len());
        let by_lines = more(old.lines.len(), new.lines.len());
        let moved = |at: u32, by: isize| (at as isize + by) as u32;
        let start = |start: Start| match start {
            Start::Row(at) => Start::Row(moved(at, by_takes)),
            Start::Within(at) => Start::Within(moved(at, by_lines)),
        };
        let take = |take: Takes| Takes {
            line: take.line.map(|at| moved(at, by_lines)),
            ..take
        };
        let line = |line: Line| Line {
            to: line.to.map(|to| moved(to, farther)),
            next: line.next.map(|at| moved(at, by_lines)),
            ..line
        };
        let first = equal_at_first(&old.starts, &new.starts);
        Some(Columns {
            new,
            first,
            last: equal_at_last(&old.starts, &new.starts, start),
            takes: (
                equal_at_first(&old.takes, &new.takes),
                equal_at_last(&old.takes, &new.takes, take),
            ),
            lines: (
                equal_at_first(&old.lines, &new.lines),
                equal_at_last(&old.lines, &new.lines, line),
            ),
            taken: taken(new)?,
        })
    }

    /// Whether the paragraphs and rows before a place have the same lines.
    fn begins_alike(&self, before: usize) -> bool {
        let taken = self.taken[before];
        taken.0 <= self.takes.0 && taken.1 <= self.lines.0
    }

    /// Whether those from a place on do.
    fn ends_alike(&self, behind: usize) -> bool {
        let taken = self.taken[behind];
        let all = (self.new.takes.len(), self.new.lines.len());
        all.0 - taken.0 <= self.takes.1 && all.1 - taken.1 <= self.lines.1
    }
}

/// How many takes and lines the rows before each place have, the end counted; nothing where rows do not have theirs one
/// behind the other, or a line does not go on with one of its own row that was laid down before it.
fn taken(column: &Filled) -> Option<Vec<(usize, usize)>> {
    let slots = column.boxes.slots() + 1;
    let mut taken = Vec::with_capacity(column.starts.len() + 1);
    let (mut takes, mut lines) = (0, 0);
    // Where the takes and lines of the row begin that is being gone through.
    let mut row = (0, 0);
    let in_order = |line: u32, begin: usize, lines: &mut usize| {
        let at = line as usize;
        let mut known = column
            .lines
            .get(*lines..=at)
            .unwrap_or_default()
            .iter()
            .zip(*lines..);
        let follows = known.all(|(line, at)| {
            line.next
                .is_none_or(|next| (begin..at).contains(&(next as usize)))
        });
        *lines = (*lines).max(at + 1);
        at >= begin && follows
    };
    for start in &column.starts {
        if let Start::Row(first) = *start
            && first as usize >= takes
        {
            row = (takes, lines);
            taken.push(row);
            takes = first as usize + slots;
            let own = column.takes.get(row.0..takes)?;
            for line in own.iter().filter_map(|take| take.line) {
                if !in_order(line, row.1, &mut lines) {
                    return None;
                }
            }
            continue;
        }
        taken.push((takes, lines));
        if let Start::Within(line) = *start
            && !in_order(line, row.1, &mut lines)
        {
            return None;
        }
    }
    taken.push((column.takes.len(), column.lines.len()));
    Some(taken)
}

fn equal_at_first<T: PartialEq>(old: &[T], new: &[T]) -> usize {
    let pairs = old.iter().zip(new);
    pairs.take_while(|(old, new)| old == new).count()
}

fn equal_at_last<T: PartialEq + Copy>(old: &[T], new: &[T], moved: impl Fn(T) -> T) -> usize {
    let pairs = old.iter().rev().zip(new.iter().rev());
    pairs.take_while(|(old, new)| moved(**old) == **new).count()
}

/// Where the last stanza or paragraph of some rows begins, captions looked through.
fn before_last_stanza(rows: &[RowFacts]) -> usize {
    let words = |row: &&RowFacts| row.caption.is_none();
    let Some(block) = rows.iter().rfind(words).map(|row| row.block) else {
        return 0;
    };
    let of_it = |row: &RowFacts| row.block == block || row.caption.is_some();
    let other = rows.iter().rposition(|row| !of_it(row));
    other.map_or(0, |other| other + 1)
}

/// The first place from one on above which there are words of another stanza or paragraph than the first from there on.
fn behind_first_stanza(rows: &[RowFacts], from: usize) -> usize {
    let mut words = (from..rows.len()).filter(|&at| rows[at].caption.is_none());
    let first = words.next().map(|at| rows[at].block);
    let other = words.find(|&at| Some(rows[at].block) != first);
    other.map_or(rows.len() + 1, |other| other + 1)
}

/// By place, the end counted: the first row from there on that is no caption.
fn words_from(rows: &[RowFacts]) -> Vec<usize> {
    let mut found = vec![rows.len(); rows.len() + 1];
    for at in (0..rows.len()).rev() {
        found[at] = match rows[at].caption {
            None => at,
            Some(_) => found[at + 1],
        };
    }
    found
}

/// Whether pictures are the same, their words where they were or as much farther on as all that is behind.
fn pictures_are_alike(old: &Problem, new: &Problem, other: &Range<usize>, farther: isize) -> bool {
    let moved = |row: usize| match row {
        _ if row < other.start => Some(row),
        _ => row
            .checked_add_signed(farther)
            .filter(|row| *row >= other.end),
    };
    let mut pairs = old.pictures.iter().zip(&new.pictures);
    old.pictures.len() == new.pictures.len()
        && pairs.all(|(old, new)| {
            let alike = crate::division::PictureFacts {
                word_row: new.word_row,
                ..old.clone()
            };
            alike == *new && old.word_row.map(moved) == new.word_row.map(Some)
        })
}
