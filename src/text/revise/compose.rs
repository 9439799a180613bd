//! The new manuscript, line by line.

use std::ops::Range;

use super::matching::Matching;
use super::places::{AnchorSide, CalloutFate, PlacedCallout};
use super::stress::StressedStretches;
use super::view::{ClientView, TextUnit};

/// A line of the new manuscript.
#[derive(Clone, Debug)]
pub(super) struct ComposedLine {
    pub text: String,
    /// Its line end, if it is a line of the manuscript.
    pub end: Option<String>,
    /// Which callout of the manuscript it is, if it is one.
    pub call: Option<usize>,
    /// Which new unit it belongs to, if it holds words.
    pub unit: Option<usize>,
    /// The line without its `>>`, for where that has no meaning any more.
    pub without_sign: Option<String>,
}

/// All that the new manuscript is made of.
pub(super) struct Composer<'a> {
    pub old: &'a ClientView,
    pub new: &'a ClientView,
    pub matched: &'a Matching,
    pub placed: &'a [PlacedCallout],
    /// Whether the client's file has mark-up of its own.
    pub marked: bool,
    /// Whether the client writes readings himself.
    pub literal: bool,
    /// Whether every line is written anew, even an unchanged one.
    pub anew: bool,
    pub stretches: &'a StressedStretches,
}

impl Composer<'_> {
    /// The lines, and the mark-up that could not be carried over.
    pub(super) fn compose(&self) -> (Vec<ComposedLine>, Vec<String>) {
        let (mut composed, mut lost) = (Vec::new(), Vec::new());
        let verbatim = self.verbatim();
        for unit in 0..=self.new.units.len() {
            self.slot(unit, &mut composed);
            match verbatim.get(unit) {
                None => {}
                Some(true) => self.copy(unit, &mut composed),
                Some(false) if self.marked => self.copy_new(unit, &mut composed),
                Some(false) => self.write(unit, &mut composed, &mut lost),
            }
        }
        if !self.marked {
            self.lost_signs(&mut lost);
        }
        (composed, lost)
    }

    /// The old unit that a new one is.
    pub(super) fn partner(&self, unit: usize) -> Option<(usize, &TextUnit)> {
        let old = self.matched.old_of[unit]?;
        Some((old, &self.old.units[old]))
    }

    /// Whether a new unit is the old one, word for word.
    pub(super) fn unchanged(&self, unit: usize) -> bool {
        let new = &self.new.units[unit];
        self.partner(unit).is_some_and(|(_, old)| {
            let indents = old.half_ems.zip(new.half_ems);
            old.prose == new.prose
                && old.key == new.key
                && indents.is_none_or(|(one, other)| one == other)
        })
    }

    /// Callouts that stand within a unit.
    pub(super) fn within(&self, unit: &TextUnit) -> Vec<usize> {
        let inside =
            |placed: &PlacedCallout| placed.at > unit.words.start && placed.at < unit.words.end;
        self.ordered(|placed| inside(placed))
    }

    /// The callouts that stand somewhere, in order.
    fn ordered(&self, here: impl Fn(&PlacedCallout) -> bool) -> Vec<usize> {
        let mut found: Vec<usize> = (0..self.placed.len())
            .filter(|&call| {
                !matches!(
                    self.placed[call].fate,
                    CalloutFate::BrokenPromise | CalloutFate::There
                ) && here(&self.placed[call])
            })
            .collect();
        found.sort_by_key(|&call| (self.placed[call].at, self.placed[call].side, call));
        found
    }

    /// Which units keep the manuscript's bytes.
    fn verbatim(&self) -> Vec<bool> {
        let count = self.new.units.len();
        let mut verbatim: Vec<bool> = (0..count)
            .map(|unit| {
                !self.anew && !self.marked && self.unchanged(unit) && self.same_callouts(unit)
            })
            .collect();
        // Emphasis that runs over lines needs them all.
        let alone: Vec<bool> = self
            .old
            .units
            .iter()
            .map(|unit| self.old.is_alone(unit))
            .collect();
        let mut from = 0;
        while from < alone.len() {
            if alone[from] {
                from += 1;
                continue;
            }
            let goes_on = |unit: &usize| !alone[*unit] && self.old.blanks(*unit).1 == 0;
            let to = (from + 1..alone.len())
                .take_while(goes_on)
                .last()
                .unwrap_or(from)
                + 1;
            let new: Vec<Option<usize>> =
                (from..to).map(|unit| self.matched.new_of[unit]).collect();
            let follow = new.windows(2).all(|pair| match (pair[0], pair[1]) {
                (Some(one), Some(other)) => one + 1 == other && self.new.blanks(other).1 == 0,
                _ => false,
            });
            let intact = follow && new.iter().flatten().all(|&unit| verbatim[unit]);
            if !intact {
                new.into_iter()
                    .flatten()
                    .for_each(|unit| verbatim[unit] = false);
            }
            from = to;
        }
        verbatim
    }

    /// Whether the same callouts stand within a unit as did.
    fn same_callouts(&self, unit: usize) -> bool {
        let new = &self.new.units[unit];
        let Some((_, old)) = self.partner(unit) else {
            return false;
        };
        let calls = self.old.calls.iter().enumerate();
        let inside = calls.filter(|(_, call)| call.at > old.words.start && call.at < old.words.end);
        let were: Vec<(usize, usize)> = inside
            .map(|(n, call)| (n, call.at - old.words.start))
            .collect();
        let are = self.within(new).into_iter();
        let are: Vec<(usize, usize)> = are
            .map(|n| (n, self.placed[n].at - new.words.start))
            .collect();
        were == are && old.words.len() == new.words.len()
    }

    fn old_line(&self, line: usize, unit: Option<usize>) -> ComposedLine {
        let end = self.old.lines[line].end.clone();
        ComposedLine {
            text: self.old.raw(line).to_string(),
            end: Some(self.old.source.text[end].to_string()),
            call: self.old.calls.iter().position(|call| call.line == line),
            unit,
            without_sign: self.old.lines[line].stepped.then(|| {
                super::super::escape(
                    &self.old.lines[line].view,
                    self.old.lines[line].region.reads,
                )
            }),
        }
    }

    pub(super) fn line(text: String) -> ComposedLine {
        ComposedLine {
            text,
            end: None,
            call: None,
            unit: None,
            without_sign: None,
        }
    }

    pub(super) fn callout(&self, call: usize) -> ComposedLine {
        let line = self.old.calls[call].line;
        ComposedLine {
            call: Some(call),
            ..Self::line(self.old.raw(line).to_string())
        }
    }

    /// The blank lines and callouts before a unit, or behind the last.
    fn slot(&self, unit: usize, composed: &mut Vec<ComposedLine>) {
        let at = match self.new.units.get(unit) {
            Some(unit) => unit.words.start,
            None => self.new.words.len(),
        };
        let here = self.ordered(|placed| placed.at == at);
        if self.marked {
            self.slot_of_client(unit, &here, composed);
        } else if let Some(lines) = self.same_slot(unit, &here) {
            composed.extend(lines.map(|line| self.old_line(line, None)));
        } else {
            self.slot_anew(unit, &here, composed);
        }
    }

    /// The callouts that stand in a slot, those that belong to the words before it and those that belong to the words
    /// behind it.
    fn by_side(&self, here: &[usize]) -> (Vec<ComposedLine>, Vec<ComposedLine>) {
        let side = |side| {
            let own = here
                .iter()
                .filter(move |&&call| self.placed[call].side == side);
            own.map(|&call| self.callout(call)).collect()
        };
        (side(AnchorSide::Before), side(AnchorSide::After))
    }

    /// The client's own blank lines and callouts, with the callouts that his file had lost around them.
    fn slot_of_client(&self, unit: usize, here: &[usize], composed: &mut Vec<ComposedLine>) {
        let (above, below) = self.by_side(here);
        let own = self.new.slot(unit);
        composed.extend(above);
        composed.extend(own.map(|line| Self::line(self.new.raw(line).to_string())));
        composed.extend(below);
    }

    /// The old lines of a slot, if the same units, callouts and blank lines are still there.
    fn same_slot(&self, unit: usize, here: &[usize]) -> Option<Range<usize>> {
        let count = self.new.units.len();
        let (first, last) = (unit == 0, unit == count);
        let before = unit
            .checked_sub(1)
            .and_then(|unit| self.matched.old_of[unit]);
        let behind = self.matched.old_of.get(unit).copied().flatten();
        let old = match (before, behind) {
            (Some(one), Some(other)) => (one + 1 == other).then_some(other),
            (None, Some(0)) if first => Some(0),
            (Some(one), None) if last => (one + 1 == self.old.units.len()).then_some(one + 1),
            _ => None,
        }?;
        let blanks = self.new.blanks(unit).0;
        let (most, all) = self.old.blanks(old);
        let slot = self.old.slot(old);
        let calls = self.old.calls.iter().enumerate();
        let were = calls
            .filter(|(_, call)| slot.contains(&call.line))
            .map(|(n, _)| n);
        let same_calls = were.eq(here.iter().copied());
        (same_calls && (first || last || blanks == most || blanks == all)).then_some(slot)
    }

    /// As many blank lines as the client has, with the callouts on their sides.
    fn slot_anew(&self, unit: usize, here: &[usize], composed: &mut Vec<ComposedLine>) {
        let last = unit == self.new.units.len();
        // What is blank before and behind all words says nothing.
        let blanks = match (unit == 0, last) {
            (true, _) => self.old.blanks(0).0,
            (_, true) => self.old.blanks(self.old.units.len()).0,
            _ => self.new.blanks(unit).0,
        };
        let (above, below) = self.by_side(here);
        let blank = std::iter::repeat_with(|| Self::line(String::new())).take(blanks);
        composed.extend(above);
        if last {
            composed.extend(below);
            composed.extend(blank);
        } else {
            composed.extend(blank);
            composed.extend(below);
        }
    }

    /// The manuscript's own lines of an unchanged unit, byte for byte.
    fn copy(&self, unit: usize, composed: &mut Vec<ComposedLine>) {
        let Some((_, old)) = self.partner(unit) else {
            return;
        };
        let (first, last) = (old.lines[0], old.lines[old.lines.len() - 1]);
        composed.extend((first..=last).map(|line| self.old_line(line, Some(unit))));
    }

    /// The client's own lines of a unit, mark-up and all.
    fn copy_new(&self, unit: usize, composed: &mut Vec<ComposedLine>) {
        let lines = &self.new.units[unit].lines;
        for line in lines[0]..=lines[lines.len() - 1] {
            let from = self.new.lines[line].words.start;
            let calls = self.within(&self.new.units[unit]).into_iter();
            if self.new.lines[line].is_text() {
                let here = calls.filter(|&call| self.placed[call].at == from);
                composed.extend(here.map(|call| self.callout(call)));
            }
            composed.push(ComposedLine {
                unit: Some(unit),
                ..Self::line(self.new.raw(line).to_string())
            });
        }
    }
}
