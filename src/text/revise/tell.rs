//! What the client changed, told line by line and numbered, so that each change can be taken in or left out.

use std::collections::BTreeSet;
use std::ops::Range;

use super::super::paragraph;
use super::super::scan::PhysicalKind;
use super::matching::Matching;
use super::view::{ClientView, TextUnit};

/// What happened to a line of verse or a paragraph.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ChangeKind {
    /// It reads otherwise.
    Changed,
    /// It is new.
    Added,
    /// It is gone.
    Cut,
    /// It stands elsewhere.
    Moved,
    /// It is indented otherwise.
    Indented,
    /// There are more or fewer blank lines above it.
    Spaced,
}

/// Words as they stand, or what was there and what is there now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Wording {
    /// Words that stayed.
    Same(String),
    /// Words that gave way to others, or are spaced otherwise; either may be empty.
    Other {
        /// The number of this change among all of the client's, from 1.
        number: usize,
        /// What was there.
        was: String,
        /// What is there now.
        now: String,
    },
}

/// One change of the client's.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// Its number among all of the client's changes, from 1. Of a line that reads otherwise, that of its first
    /// difference; lines that were added, cut or moved together have one number.
    pub number: usize,
    /// What happened.
    pub kind: ChangeKind,
    /// The line of the new manuscript, from 1, where it begins, or where it first differs. For what was cut, the line that it
    /// stood after; 0 at the head.
    pub line: usize,
    /// The line of the old manuscript, from 1, where it began, if it was there.
    pub was: Option<usize>,
    /// Whether it is a paragraph of prose.
    pub paragraph: bool,
    /// Whether it is, or was, a title or a heading.
    pub heading: bool,
    /// Its words, with the differences where it reads otherwise.
    pub words: Vec<Wording>,
}

impl Change {
    /// The change as far as it is one of these numbers: its other differences as words that stay.
    pub(super) fn only(&self, numbers: &BTreeSet<usize>) -> Option<Change> {
        let differs = |wording: &Wording| matches!(wording, Wording::Other { .. });
        if !self.words.iter().any(differs) {
            return numbers.contains(&self.number).then(|| self.clone());
        }
        let mut first = None;
        let words = self.words.iter().map(|wording| match wording {
            Wording::Other { number, now, .. } if !numbers.contains(number) => {
                Wording::Same(now.clone())
            }
            Wording::Other { number, .. } => {
                first.get_or_insert(*number);
                wording.clone()
            }
            Wording::Same(_) => wording.clone(),
        });
        let words: Vec<Wording> = words.collect();
        Some(Change {
            number: first?,
            words,
            ..self.clone()
        })
    }
}

/// A change, and the words that it concerns.
pub(super) struct Correction {
    pub change: Change,
    /// The unit of the client's text, unless it was cut.
    pub new: Option<usize>,
    /// The unit of the manuscript, unless it was added.
    pub old: Option<usize>,
    /// Where its words differ.
    pub hunks: Vec<Hunk>,
}

impl Correction {
    /// The numbers of all that it tells.
    pub(super) fn numbers(&self) -> impl Iterator<Item = usize> {
        let own = self.hunks.is_empty().then_some(self.change.number);
        own.into_iter()
            .chain(self.hunks.iter().map(|hunk| hunk.number))
    }
}

/// Old words, and the new ones in their place; either may be empty.
#[derive(Clone, Debug)]
pub(super) struct Hunk {
    pub number: usize,
    pub was: Range<usize>,
    pub now: Range<usize>,
}

/// Two texts, and which words of the one are which of the other.
#[derive(Clone, Copy)]
pub(super) struct Texts<'a> {
    pub old: &'a ClientView,
    pub new: &'a ClientView,
    pub matched: &'a Matching,
}

/// Every change, in the order of the new manuscript. `made` is that manuscript: it has the units and words of `new`.
/// `whole` numbers a unit's differences as one: they are taken in or left out together.
pub(super) fn corrections(
    texts: Texts<'_>,
    unchanged: impl Fn(usize) -> bool,
    made: &ClientView,
    whole: bool,
) -> Vec<Correction> {
    let mut found = Vec::new();
    let mut behind = texts.cut_behind();
    let cut_at_head = behind.remove(0);
    found.extend(cut_at_head.into_iter().map(|gone| texts.cut(gone, 0)));
    for (unit, gone) in behind.into_iter().enumerate() {
        let kinds = texts.kinds_of_change(unit, unchanged(unit)).into_iter();
        found.extend(kinds.map(|kind| texts.change(made, unit, kind)));
        let last = made.units.get(unit).and_then(|unit| unit.lines.last());
        let line = last.map_or(0, |line| line + 1);
        found.extend(gone.into_iter().map(|gone| texts.cut(gone, line)));
    }
    number(&mut found, whole);
    found
}

/// Numbers the changes.
fn number(found: &mut [Correction], whole: bool) {
    let mut next = 1;
    for at in 0..found.len() {
        let (before, own) = found.split_at_mut(at);
        let own = &mut own[0];
        if before.last().is_some_and(|before| goes_on(before, own)) {
            next -= 1;
        }
        own.change.number = next;
        for hunk in &mut own.hunks {
            hunk.number = next;
            next += usize::from(!whole);
        }
        next += usize::from(whole || own.hunks.is_empty());
        let mut numbers = own.hunks.iter().map(|hunk| hunk.number);
        for wording in &mut own.change.words {
            if let Wording::Other { number, .. } = wording {
                *number = numbers.next().unwrap_or(own.change.number);
            }
        }
    }
}

/// Whether a change goes on with the one before it: lines that follow each other and moved together, or were added or cut
/// together, are told together.
fn goes_on(one: &Correction, other: &Correction) -> bool {
    let follow = |one: Option<usize>, other: Option<usize>| match (one, other) {
        (Some(one), Some(other)) => one + 1 == other,
        (one, other) => one == other,
    };
    let runs = matches!(
        one.change.kind,
        ChangeKind::Moved | ChangeKind::Added | ChangeKind::Cut
    );
    let alike = one.change.kind == other.change.kind;
    runs && alike && follow(one.new, other.new) && follow(one.old, other.old)
}

impl Texts<'_> {
    /// The old units that are gone, behind what stood before them and is still in its place: first those at the head, then
    /// those behind each new unit.
    fn cut_behind(&self) -> Vec<Vec<usize>> {
        let matched = self.matched;
        let in_place = |unit: usize| matched.new_of[unit].filter(|&new| !matched.moved[new]);
        let mut behind: Vec<Vec<usize>> = vec![Vec::new(); self.new.units.len() + 1];
        let mut after = 0;
        for unit in 0..self.old.units.len() {
            match matched.new_of[unit] {
                None => behind[after].push(unit),
                Some(_) => after = in_place(unit).map_or(after, |new| new + 1),
            }
        }
        behind
    }

    /// An old unit that is gone; `line` is the line of the new manuscript that it stood after.
    fn cut(&self, old: usize, line: usize) -> Correction {
        let unit = &self.old.units[old];
        let change = Change {
            number: 0,
            kind: ChangeKind::Cut,
            line,
            was: Some(unit.lines[0] + 1),
            paragraph: unit.prose,
            heading: has_heading(self.old, unit),
            words: vec![Wording::Same(unit.key.clone())],
        };
        Correction {
            change,
            new: None,
            old: Some(old),
            hunks: Vec::new(),
        }
    }

    /// What happened to a new unit.
    fn kinds_of_change(&self, unit: usize, unchanged: bool) -> Vec<ChangeKind> {
        let Some(partner) = self.matched.old_of[unit] else {
            return vec![ChangeKind::Added];
        };
        let (own, was) = (&self.new.units[unit], &self.old.units[partner]);
        let mut kinds = Vec::new();
        if self.matched.moved[unit] {
            kinds.push(ChangeKind::Moved);
        }
        let indents = own.half_ems.zip(was.half_ems);
        let indented = indents.is_some_and(|(one, other)| one != other);
        if indented {
            kinds.push(ChangeKind::Indented);
        }
        let same_words = (&own.key, own.prose) == (&was.key, was.prose);
        if !(unchanged || indented && same_words) {
            kinds.push(ChangeKind::Changed);
        }
        let before = unit
            .checked_sub(1)
            .and_then(|unit| self.matched.old_of[unit]);
        let follows = before.is_some_and(|before| before + 1 == partner);
        let (blanks, (most, all)) = (self.new.blanks(unit).0, self.old.blanks(partner));
        if follows && blanks != most && blanks != all {
            kinds.push(ChangeKind::Spaced);
        }
        kinds
    }

    /// The change of a new unit, with its words and where it stands in the new manuscript.
    fn change(&self, made: &ClientView, unit: usize, kind: ChangeKind) -> Correction {
        let own = &self.new.units[unit];
        let partner = self.matched.old_of[unit];
        let hunks = match (kind, partner) {
            (ChangeKind::Changed, Some(partner)) => self.hunks(partner, unit),
            _ => Vec::new(),
        };
        let differs = hunks.first().map(|hunk| hunk.now.start);
        let differs = differs.map(|word| word.min(own.words.end.saturating_sub(1)));
        let first = made.words.get(differs.unwrap_or(own.words.start));
        let was = partner.map(|partner| &self.old.units[partner]);
        let change = Change {
            number: 0,
            kind,
            line: first.map_or(0, |word| word.line + 1),
            was: was.map(|was| was.lines[0] + 1),
            paragraph: own.prose,
            heading: has_heading(made, &made.units[unit])
                || was.is_some_and(|was| has_heading(self.old, was)),
            words: self.wordings(unit, &hunks),
        };
        Correction {
            change,
            new: Some(unit),
            old: partner,
            hunks,
        }
    }

    /// Where the words of two units differ, in order: where others stand, and where they are spaced otherwise.
    fn hunks(&self, from: usize, to: usize) -> Vec<Hunk> {
        let (was, now) = (&self.old.units[from].words, &self.new.units[to].words);
        let mut found: Vec<Hunk> = Vec::new();
        let mut at = (was.start, now.start);
        for word in now.clone() {
            let same = self.matched.to_old[word];
            let Some(old) = same.filter(|old| was.contains(old) && *old >= at.0) else {
                continue;
            };
            if at != (old, word) {
                found.push(Hunk {
                    number: 0,
                    was: at.0..old,
                    now: at.1..word,
                });
            } else if word > now.start && gap(self.old, old) != gap(self.new, word) {
                match found
                    .last_mut()
                    .filter(|last| last.was.end == old && last.now.end == word)
                {
                    Some(last) => (last.was.end, last.now.end) = (old + 1, word + 1),
                    None => found.push(Hunk {
                        number: 0,
                        was: old - 1..old + 1,
                        now: word - 1..word + 1,
                    }),
                }
            }
            at = (old + 1, word + 1);
        }
        if at != (was.end, now.end) {
            found.push(Hunk {
                number: 0,
                was: at.0..was.end,
                now: at.1..now.end,
            });
        }
        found
    }

    /// The words of a unit with what they were.
    fn wordings(&self, unit: usize, hunks: &[Hunk]) -> Vec<Wording> {
        let own = &self.new.units[unit];
        if hunks.is_empty() {
            return vec![Wording::Same(own.key.clone())];
        }
        let mut found = Vec::new();
        let mut from = own.words.start;
        let same = |words: Range<usize>| Wording::Same(joined(self.new, words));
        for hunk in hunks {
            if from < hunk.now.start {
                found.push(same(from..hunk.now.start));
            }
            found.push(Wording::Other {
                number: 0,
                was: joined(self.old, hunk.was.clone()),
                now: joined(self.new, hunk.now.clone()),
            });
            from = hunk.now.end;
        }
        if from < own.words.end {
            found.push(same(from..own.words.end));
        }
        found
    }
}

fn has_heading(view: &ClientView, unit: &TextUnit) -> bool {
    let kinds = unit.lines.iter().map(|&line| view.lines[line].kind);
    let mut kinds = kinds;
    kinds.any(PhysicalKind::is_heading)
}

/// Words of a text with what stands between them.
fn joined(view: &ClientView, words: Range<usize>) -> String {
    let mut text = String::new();
    for word in words.clone() {
        if word > words.start {
            text.push_str(gap(view, word));
        }
        text.push_str(view.word(word));
    }
    text
}

/// What stands between a word of a unit and the one before it: in verse the very white space, in prose one space or
/// none.
pub(super) fn gap(view: &ClientView, word: usize) -> &str {
    let (before, own) = (&view.words[word - 1], &view.words[word]);
    let line = &view.lines[own.line];
    let is_parted = match before.line == own.line {
        true => {
            let between = &line.view[before.at.end..own.at.start];
            if view.units[view.unit_of(word)].prose {
                !between.is_empty()
            } else {
                return between;
            }
        }
        false => paragraph::parts_words(&view.lines[before.line].view, &line.view),
    };
    if is_parted { " " } else { "" }
}
