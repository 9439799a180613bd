//! The client's text without some of his changes: what it would be had he not made them.

use std::collections::BTreeSet;
use std::ops::Range;

use super::super::scan::PhysicalKind;
use super::tell::{ChangeKind, Correction, Hunk, Texts, gap};
use super::view::{ClientView, TextUnit};

/// A unit of the text that is put together.
struct Placed {
    /// The unit of the manuscript that it is, if it was there.
    old: Option<usize>,
    /// The unit of the client's text that it is, if it is there.
    new: Option<usize>,
    lines: Vec<String>,
    /// Whether it stands where the manuscript has it, as far as others do.
    in_place: bool,
    /// Whether the blank lines above it are those of the manuscript.
    spaced_as_it_was: bool,
}

/// The client's text without the changes of these numbers. `marked` says that it has callouts and mark-up of its own:
/// then its lines are taken as they are written.
pub(super) fn without(
    texts: Texts<'_>,
    corrections: &[Correction],
    numbers: &BTreeSet<usize>,
    marked: bool,
) -> String {
    let left_out = corrections
        .iter()
        .filter(|own| own.numbers().any(|number| numbers.contains(&number)));
    let left_out = LeftOut {
        texts,
        corrections: left_out.collect(),
        numbers,
        marked,
    };
    left_out.text()
}

struct LeftOut<'a> {
    texts: Texts<'a>,
    /// Those of which something is left out.
    corrections: Vec<&'a Correction>,
    numbers: &'a BTreeSet<usize>,
    marked: bool,
}

impl LeftOut<'_> {
    fn text(&self) -> String {
        let placed = self.placed();
        let mut text = String::new();
        for (at, unit) in placed.iter().enumerate() {
            let before = at.checked_sub(1).map(|before| &placed[before]);
            self.space_above(before, unit, &mut text);
            for line in &unit.lines {
                text.push_str(line);
                text.push('\n');
            }
        }
        if self.marked {
            self.callouts_of(self.texts.new.units.len(), &mut text);
        }
        text
    }

    fn find(&self, new: usize, kind: ChangeKind) -> Option<&Correction> {
        let mut found = self.corrections.iter();
        found
            .find(|own| own.new == Some(new) && own.change.kind == kind)
            .copied()
    }

    /// The units in their order, those that come back where the manuscript has them.
    fn placed(&self) -> Vec<Placed> {
        let matched = self.texts.matched;
        let mut placed: Vec<Placed> = Vec::new();
        let mut back: Vec<(usize, Option<usize>)> = Vec::new();
        for unit in 0..self.texts.new.units.len() {
            let old = matched.old_of[unit];
            if self.find(unit, ChangeKind::Added).is_some() {
                continue;
            }
            if let (Some(old), Some(_)) = (old, self.find(unit, ChangeKind::Moved)) {
                back.push((old, Some(unit)));
                continue;
            }
            placed.push(Placed {
                old,
                new: Some(unit),
                lines: self.lines_of(unit),
                in_place: !matched.moved[unit],
                spaced_as_it_was: self.find(unit, ChangeKind::Spaced).is_some(),
            });
        }
        let cut = self.corrections.iter().filter(|own| own.new.is_none());
        back.extend(cut.filter_map(|own| Some((own.old?, None))));
        back.sort_unstable();
        for (old, new) in back {
            let before = placed
                .iter()
                .enumerate()
                .filter(|(_, unit)| unit.in_place && unit.old.is_some_and(|own| own < old))
                .max_by_key(|(_, unit)| unit.old);
            let at = before.map_or(0, |(at, _)| at + 1);
            let lines = match new {
                Some(unit) => self.lines_of(unit),
                None => self.old_lines(old),
            };
            let unit = Placed {
                old: Some(old),
                new,
                lines,
                in_place: true,
                spaced_as_it_was: true,
            };
            placed.insert(at, unit);
        }
        placed
    }

    /// Blank lines, and callouts where the client's file has some.
    fn space_above(&self, before: Option<&Placed>, unit: &Placed, text: &mut String) {
        let (old, new) = (self.texts.old, self.texts.new);
        let as_old = |unit: &Placed| unit.old.map(|own| old.blanks(own).0);
        let as_new = |unit: &Placed| unit.new.map(|own| new.blanks(own).0);
        let follows = |one: Option<usize>, other: Option<usize>| {
            one.zip(other).is_some_and(|(one, other)| one + 1 == other)
        };
        let as_written = before.is_none_or(|before| follows(before.new, unit.new));
        if let (true, false, true, Some(own)) =
            (self.marked, unit.spaced_as_it_was, as_written, unit.new)
        {
            for line in new.slot(own) {
                text.push_str(new.raw(line));
                text.push('\n');
            }
            return;
        }
        let blanks = match before {
            None => 0,
            Some(_) if unit.spaced_as_it_was => as_old(unit).unwrap_or(1),
            Some(before) if follows(before.new, unit.new) => as_new(unit).unwrap_or(1),
            Some(before) if follows(before.old, unit.old) => as_old(unit).unwrap_or(1),
            Some(_) => as_new(unit).or(as_old(unit)).unwrap_or(1),
        };
        let prose = |placed: &Placed| match (placed.new, placed.old) {
            (Some(own), _) => new.units[own].prose,
            (None, own) => own.is_some_and(|own| old.units[own].prose),
        };
        // Paragraphs that nothing parts would be one.
        let apart = before
            .is_some_and(|before| prose(before) && prose(unit) && !follows(before.new, unit.new));
        for _ in 0..blanks.max(usize::from(apart)) {
            text.push('\n');
        }
        if let (true, Some(own)) = (self.marked, unit.new) {
            self.callouts_of(own, text);
        }
    }

    /// The callouts that the client's file has above a unit.
    fn callouts_of(&self, unit: usize, text: &mut String) {
        let new = self.texts.new;
        let slot = new.slot(unit);
        for line in slot.filter(|&line| new.lines[line].kind == PhysicalKind::Callout) {
            text.push_str(new.raw(line));
            text.push('\n');
        }
    }

    /// The lines of a unit of the client's, as far as its changes are taken.
    fn lines_of(&self, unit: usize) -> Vec<String> {
        let own = &self.texts.new.units[unit];
        let changed = self.find(unit, ChangeKind::Changed);
        let indented = self.find(unit, ChangeKind::Indented);
        let Some(old) = self.texts.matched.old_of[unit] else {
            return self.as_written(own);
        };
        let is_out = |hunk: &&Hunk| self.numbers.contains(&hunk.number);
        match changed {
            None if indented.is_none() => self.as_written(own),
            Some(own) if self.marked || own.hunks.iter().all(|hunk| is_out(&hunk)) => {
                self.old_lines(old)
            }
            None if self.marked => self.old_lines(old),
            _ => {
                let hunks = changed.map_or(&[] as &[Hunk], |own| &own.hunks);
                let hunks: Vec<&Hunk> = hunks.iter().filter(is_out).collect();
                let half_ems = match indented {
                    Some(_) => self.texts.old.units[old].half_ems,
                    None => own.half_ems,
                };
                let indent = " ".repeat(half_ems.unwrap_or(0));
                vec![format!("{indent}{}", self.words(own.words.clone(), &hunks))]
            }
        }
    }

    /// Words of the client's, but for those differences the manuscript's.
    fn words(&self, words: Range<usize>, hunks: &[&Hunk]) -> String {
        let Texts { old, new, matched } = self.texts;
        let mut text = String::new();
        let mut put = |view: &ClientView, word: usize, spaced: Option<&str>| {
            if let (false, Some(space)) = (text.is_empty(), spaced) {
                text.push_str(space);
            }
            text.push_str(view.word(word));
        };
        let mut hunks = hunks.iter().peekable();
        let mut at = words.start;
        let mut after_old = false;
        while at < words.end || hunks.peek().is_some() {
            if let Some(hunk) = hunks.next_if(|hunk| hunk.now.start <= at) {
                for word in hunk.was.clone() {
                    put(old, word, (word > 0).then(|| gap(old, word)));
                }
                (at, after_old) = (hunk.now.end, true);
                continue;
            }
            let was = matched.to_old[at].filter(|&was| after_old && was > 0);
            let space = match was {
                Some(was) => Some(gap(old, was)),
                None => (at > 0).then(|| gap(new, at)),
            };
            put(new, at, space);
            (at, after_old) = (at + 1, false);
        }
        text
    }

    /// The lines of a unit of the client's as he wrote them.
    fn as_written(&self, unit: &TextUnit) -> Vec<String> {
        let new = self.texts.new;
        let lines = unit.lines[0]..=unit.lines[unit.lines.len() - 1];
        lines.map(|line| new.raw(line).to_string()).collect()
    }

    /// The lines of a unit of the manuscript, as the client would write them, or as they are written where his file has
    /// mark-up.
    fn old_lines(&self, unit: usize) -> Vec<String> {
        let old = self.texts.old;
        let lines = old.units[unit].lines.iter();
        let written = lines.map(|&line| {
            let own = &old.lines[line];
            match self.marked {
                true => old.raw(line).to_string(),
                false if own.is_indented() => {
                    format!("{}{}", " ".repeat(own.half_ems), own.view)
                }
                false => own.view.clone(),
            }
        });
        written.collect()
    }
}
