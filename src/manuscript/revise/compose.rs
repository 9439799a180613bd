//! The new manuscript, line by line.

use std::collections::HashMap;

use super::super::scan::PhysicalKind;
use super::super::{Style, paragraph};
use super::matching::Matched;
use super::places::{Fate, Placed, Side};
use super::stress::{self, Stretches};
use super::view::{Read, Unit, View};
use super::write::{Sign, Wanted};

/// By how many characters a line of prose may become longer than the longest of its paragraph was.
const LONGER: usize = 12;

/// A line of the new manuscript.
#[derive(Clone, Debug)]
pub(super) struct Out {
    pub text: String,
    /// Its line end, where it is a line of the manuscript.
    pub end: Option<String>,
    /// Which callout it is.
    pub call: Option<usize>,
    /// Which unit it is of.
    pub unit: Option<usize>,
    /// What to write where its sign has no meaning any more.
    pub without_sign: Option<String>,
}

/// All that the new manuscript is made of.
pub(super) struct Composer<'a> {
    pub old: &'a View,
    pub new: &'a View,
    pub matched: &'a Matched,
    pub placed: &'a [Placed],
    /// Whether the client's file has mark-up of its own.
    pub marked: bool,
    /// Whether the client writes readings himself.
    pub literal: bool,
    /// Whether every line is written anew, though it be unchanged.
    pub anew: bool,
    pub stretches: &'a Stretches,
}

impl Composer<'_> {
    /// The lines, and the mark-up that could not be carried over.
    pub(super) fn compose(&self) -> (Vec<Out>, Vec<String>) {
        let (mut outs, mut lost) = (Vec::new(), Vec::new());
        let verbatim = self.verbatim();
        for unit in 0..=self.new.units.len() {
            self.slot(unit, &mut outs);
            match verbatim.get(unit) {
                None => {}
                Some(true) => self.copy(unit, &mut outs),
                Some(false) if self.marked => self.copy_new(unit, &mut outs),
                Some(false) => self.write(unit, &mut outs, &mut lost),
            }
        }
        (outs, lost)
    }

    /// The old unit that a new one is.
    fn partner(&self, unit: usize) -> Option<(usize, &Unit)> {
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
    fn within(&self, unit: &Unit) -> Vec<usize> {
        let inside = |placed: &Placed| placed.at > unit.words.start && placed.at < unit.words.end;
        self.ordered(|placed| inside(placed))
    }

    /// The callouts that stand somewhere, in order.
    fn ordered(&self, here: impl Fn(&Placed) -> bool) -> Vec<usize> {
        let mut found: Vec<usize> = (0..self.placed.len())
            .filter(|&call| {
                !matches!(self.placed[call].fate, Fate::Lost | Fate::There)
                    && here(&self.placed[call])
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

    fn old_line(&self, line: usize, unit: Option<usize>) -> Out {
        let end = self.old.lines[line].end.clone();
        Out {
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

    fn line(text: String) -> Out {
        Out {
            text,
            end: None,
            call: None,
            unit: None,
            without_sign: None,
        }
    }

    fn callout(&self, call: usize) -> Out {
        let line = self.old.calls[call].line;
        Out {
            call: Some(call),
            ..Self::line(self.old.raw(line).to_string())
        }
    }

    /// The blank lines and callouts before a unit.
    fn slot(&self, unit: usize, outs: &mut Vec<Out>) {
        let at = match self.new.units.get(unit) {
            Some(unit) => unit.words.start,
            None => self.new.words.len(),
        };
        let here = self.ordered(|placed| placed.at == at);
        if self.marked {
            let side = |side| {
                here.iter()
                    .filter(move |&&call| self.placed[call].side == side)
            };
            outs.extend(side(Side::Before).map(|&call| self.callout(call)));
            outs.extend(
                self.new
                    .slot(unit)
                    .map(|line| Self::line(self.new.raw(line).to_string())),
            );
            outs.extend(side(Side::After).map(|&call| self.callout(call)));
            return;
        }
        let count = self.new.units.len();
        let before = unit
            .checked_sub(1)
            .and_then(|unit| self.matched.old_of[unit]);
        let behind = self.matched.old_of.get(unit).copied().flatten();
        let (first, last) = (unit == 0, unit == count);
        let same = match (before, behind) {
            (Some(one), Some(other)) => (one + 1 == other).then_some(other),
            (None, Some(0)) if first => Some(0),
            (Some(one), None) if last => (one + 1 == self.old.units.len()).then_some(one + 1),
            _ => None,
        };
        let blanks = self.new.blanks(unit).0;
        if let Some(old) = same {
            let (most, all) = self.old.blanks(old);
            let slot = self.old.slot(old);
            let calls = self.old.calls.iter().enumerate();
            let were = calls
                .filter(|(_, call)| slot.contains(&call.line))
                .map(|(n, _)| n);
            if were.eq(here.iter().copied()) && (first || last || blanks == most || blanks == all) {
                outs.extend(slot.map(|line| self.old_line(line, None)));
                return;
            }
        }
        // What is blank before and behind the words says nothing.
        let blanks = match (first, last) {
            (true, _) => self.old.blanks(0).0,
            (_, true) => self.old.blanks(self.old.units.len()).0,
            _ => blanks,
        };
        let (above, below): (Vec<usize>, Vec<usize>) = here
            .iter()
            .partition(|&&call| self.placed[call].side == Side::Before);
        let blank = std::iter::repeat_with(|| Self::line(String::new())).take(blanks);
        if last {
            outs.extend(
                above
                    .into_iter()
                    .chain(below)
                    .map(|call| self.callout(call)),
            );
            outs.extend(blank);
        } else {
            outs.extend(above.into_iter().map(|call| self.callout(call)));
            outs.extend(blank);
            outs.extend(below.into_iter().map(|call| self.callout(call)));
        }
    }

    fn copy(&self, unit: usize, outs: &mut Vec<Out>) {
        let Some((_, old)) = self.partner(unit) else {
            return;
        };
        let (first, last) = (old.lines[0], old.lines[old.lines.len() - 1]);
        outs.extend((first..=last).map(|line| self.old_line(line, Some(unit))));
    }

    /// The client's own lines, mark-up and all.
    fn copy_new(&self, unit: usize, outs: &mut Vec<Out>) {
        let lines = &self.new.units[unit].lines;
        for line in lines[0]..=lines[lines.len() - 1] {
            let from = self.new.lines[line].words.start;
            let calls = self.within(&self.new.units[unit]).into_iter();
            if self.new.lines[line].is_text() {
                let here = calls.filter(|&call| self.placed[call].at == from);
                outs.extend(here.map(|call| self.callout(call)));
            }
            outs.push(Out {
                unit: Some(unit),
                ..Self::line(self.new.raw(line).to_string())
            });
        }
    }

    /// A unit that was changed, is new, or cannot be copied.
    fn write(&self, unit: usize, outs: &mut Vec<Out>, lost: &mut Vec<String>) {
        let own = &self.new.units[unit];
        let partner = self.partner(unit);
        let assigned = stress::assigned(
            self.old,
            self.stretches,
            self.matched,
            own,
            partner.map(|p| p.1),
        );
        let of = |word: usize| assigned[word - own.words.start];
        let mut signs = self.signs(unit);
        let calls = self.within(own);
        let breaks = self.breaks(unit, &calls, &signs);
        let mut kept_stress = vec![false; own.words.len()];
        let mut from = own.words.start;
        for to in breaks.into_iter().chain([own.words.end]) {
            let here = calls.iter().filter(|&&call| self.placed[call].at == from);
            if from > own.words.start {
                outs.extend(here.map(|&call| self.callout(call)));
            }
            let line = self.joined(from..to, &of);
            let readings = self.readings(&line.1, &line.0);
            let sign = signs.remove(&from).unwrap_or(Sign::None);
            let wanted = Wanted {
                words: &line.0,
                styles: line.2,
                readings,
                sign,
                indent: self.indent(unit, sign, from == own.words.start),
                region: self.new.lines[own.lines[0]].region,
                literal: self.literal,
            };
            let written = wanted.write();
            if written.sign != sign {
                lost.push(format!(
                    "`{}` before: {}",
                    sign.written().trim_end(),
                    line.0
                ));
            }
            if !written.with_readings {
                lost.extend(
                    wanted
                        .readings
                        .iter()
                        .map(|read| format!("the reading 《{}》", read.reading)),
                );
            }
            if written.styled {
                let stressed = (from..to).filter(|&word| of(word).is_some());
                stressed.for_each(|word| kept_stress[word - own.words.start] = true);
            }
            let stepped = written.sign == Sign::Step;
            let without = || super::super::escape(&line.0, wanted.region.reads);
            outs.push(Out {
                unit: Some(unit),
                without_sign: stepped.then(without),
                ..Self::line(written.text)
            });
            from = to;
        }
        self.lost_stress(unit, &assigned, &kept_stress, lost);
        self.lost_readings(unit, lost);
    }

    /// Where a line of the manuscript's own wording ends and the next begins, by words.
    fn breaks(&self, unit: usize, calls: &[usize], signs: &HashMap<usize, Sign>) -> Vec<usize> {
        let own = &self.new.units[unit];
        if !own.prose {
            return Vec::new();
        }
        let partner = self.partner(unit).map(|(_, old)| old);
        let is_heading = |line: &usize| {
            matches!(
                self.old.lines[*line].kind,
                PhysicalKind::Title | PhysicalKind::Heading
            )
        };
        let is_only_heading = partner.is_some_and(|old| old.lines.iter().all(is_heading));
        let widths = partner.iter().flat_map(|old| &old.lines);
        let widest = widths
            .map(|&line| self.old.lines[line].view.chars().count())
            .max();
        let wraps = partner.is_some_and(|old| old.lines.len() > 1);
        let (mut found, mut width) = (Vec::new(), 0);
        for word in own.words.clone().skip(1) {
            let line_end = self.new.words[word].line != self.new.words[word - 1].line;
            let called = calls.iter().any(|&call| self.placed[call].at == word);
            let after_heading = self.matched.to_old[word - 1].is_some_and(|old| {
                let line = self.old.words[old].line;
                is_heading(&line) && old + 1 == self.old.lines[line].words.end
            });
            let may = line_end || self.space_is_line_end(word);
            let began_line = self.matched.to_old[word]
                .is_some_and(|old| self.old.lines[self.old.words[old].line].words.start == old);
            let length = self.new.word(word).chars().count();
            let breaks = called
                || signs.contains_key(&word)
                || after_heading && !is_only_heading
                || match partner {
                    _ if is_only_heading => false,
                    None => line_end,
                    Some(_) => {
                        may && (began_line
                            || wraps
                                && widest.is_some_and(|most| width + 1 + length > most + LONGER))
                    }
                };
            width = if breaks { length } else { width + 1 + length };
            if breaks {
                found.push(word);
            }
        }
        found
    }

    /// Whether the white space before a word is what a line end would say.
    fn space_is_line_end(&self, word: usize) -> bool {
        let (one, other) = (&self.new.words[word - 1], &self.new.words[word]);
        let view = &self.new.lines[other.line].view;
        let between = &view[one.at.end..other.at.start];
        let parts = paragraph::parts_words(&view[..one.at.end], &view[other.at.start..]);
        match between.chars().all(|c| c == ' ' || c == '\t') {
            true => parts != between.is_empty(),
            false => false,
        }
    }

    /// Words joined to one line: the line, where each word lies in it, and how each byte is stressed.
    fn joined(
        &self,
        words: std::ops::Range<usize>,
        of: &impl Fn(usize) -> Option<usize>,
    ) -> (String, Vec<(usize, std::ops::Range<usize>)>, Vec<Style>) {
        let (mut text, mut places, mut styles) = (String::new(), Vec::new(), Vec::new());
        let stretch = |word: usize| of(word).and_then(|old| self.stretches.of_word(old));
        for word in words.clone() {
            let own = &self.new.words[word];
            let view = &self.new.lines[own.line].view;
            let is_first = self.new.lines[own.line].words.start == word;
            let from = if is_first {
                0
            } else {
                self.new.words[word - 1].at.end
            };
            let mut lead = view[from..own.at.start].to_string();
            if is_first && word > words.start {
                let space = paragraph::parts_words(&text, view);
                lead = format!("{}{lead}", if space { " " } else { "" });
            }
            if word == words.start && !is_first {
                lead = lead.trim_matches([' ', '\t']).to_string();
            }
            let goes_on =
                word > words.start && stretch(word).is_some() && stretch(word) == stretch(word - 1);
            let last = styles.last().copied().unwrap_or_default();
            styles.extend(vec![
                if goes_on { last } else { Style::default() };
                lead.len()
            ]);
            text.push_str(&lead);
            let at = text.len();
            text.push_str(&view[own.at.clone()]);
            places.push((word, at..text.len()));
            match of(word) {
                Some(old) if self.matched.to_old[word].is_some() => {
                    styles.extend_from_slice(stress::styles_of(self.old, old));
                }
                Some(old) => styles.extend(stress::styles_for(self.old, old, self.new.word(word))),
                None => styles.resize(text.len(), Style::default()),
            }
            if self.new.lines[own.line].words.end == word + 1 {
                text.push_str(&view[own.at.end..]);
                styles.resize(text.len(), Style::default());
            }
        }
        (text, places, styles)
    }

    /// The signs before lines of a new unit, by the word they stand before.
    fn signs(&self, unit: usize) -> HashMap<usize, Sign> {
        let mut signs = HashMap::new();
        let own = &self.new.units[unit];
        let Some((_, old)) = self.partner(unit) else {
            return signs;
        };
        for (number, &line) in old.lines.iter().enumerate() {
            let line = &self.old.lines[line];
            let sign = Sign::of(line.kind, line.stepped);
            let first = match number {
                0 => Some(own.words.start),
                _ => self.matched.to_new[line.words.start].filter(|word| own.words.contains(word)),
            };
            if let (Some(first), true) = (first, sign != Sign::None) {
                signs.insert(first, sign);
            }
        }
        signs
    }

    /// The white space before a line: the manuscript's where it says the same.
    fn indent(&self, unit: usize, sign: Sign, first: bool) -> &str {
        let own = &self.new.units[unit];
        let white = |raw: &'_ str| raw.len() - raw.trim_start_matches([' ', '\t']).len();
        if own.prose || !first {
            return "";
        }
        let line = own.lines[0];
        if let Some((_, old)) = self.partner(unit) {
            let old_line = &self.old.lines[old.lines[0]];
            let raw = &self.old.source.text[old_line.raw.clone()];
            let raw = raw.trim_start_matches('\u{feff}');
            if sign != Sign::None || old_line.half_ems == self.new.lines[line].half_ems {
                return &raw[..white(raw)];
            }
        }
        let raw = &self.new.source.text[self.new.lines[line].raw.clone()];
        let raw = raw.trim_start_matches('\u{feff}');
        &raw[..white(raw)]
    }

    /// The readings whose bases stand whole in a line.
    fn readings(&self, places: &[(usize, std::ops::Range<usize>)], text: &str) -> Vec<Read> {
        let mut found: Vec<Read> = Vec::new();
        for (word, at) in places {
            let Some(old) = self.matched.to_old[*word] else {
                continue;
            };
            let line = &self.old.lines[self.old.words[old].line];
            let begins = |read: &&Read| read.base.start == self.old.words[old].at.start;
            for read in line.readings.iter().filter(begins) {
                let base = at.start..at.start + read.base.len();
                if text.get(base.clone()) == Some(&line.view[read.base.clone()]) {
                    found.push(Read {
                        base,
                        ..read.clone()
                    });
                }
            }
        }
        found
    }

    fn lost_readings(&self, unit: usize, lost: &mut Vec<String>) {
        let Some((_, old)) = self.partner(unit) else {
            return;
        };
        for &line in &old.lines {
            let line = &self.old.lines[line];
            for read in &line.readings {
                let base = &line.view[read.base.clone()];
                let first = line
                    .words
                    .clone()
                    .find(|&word| self.old.words[word].at.start == read.base.start);
                let here = first
                    .and_then(|word| self.matched.to_new[word])
                    .is_some_and(|word| {
                        let word = &self.new.words[word];
                        self.new.lines[word.line].view[word.at.start..].starts_with(base)
                    });
                if !here {
                    lost.push(format!("the reading {base}《{}》", read.reading));
                }
            }
        }
    }

    /// Tells stressed words of which none is left, though their line is.
    fn lost_stress(
        &self,
        unit: usize,
        assigned: &[Option<usize>],
        kept: &[bool],
        lost: &mut Vec<String>,
    ) {
        let Some((_, old)) = self.partner(unit) else {
            return;
        };
        for stretch in self.stretches.within(old) {
            let words = self.stretches.words(stretch);
            let carried = assigned
                .iter()
                .zip(kept)
                .any(|(old, kept)| *kept && old.is_some_and(|old| words.contains(&old)));
            let elsewhere = words.iter().filter_map(|&word| self.matched.to_new[word]);
            let elsewhere = elsewhere
                .into_iter()
                .any(|word| !self.new.units[unit].words.contains(&word));
            if !carried && !elsewhere {
                lost.push(format!("the emphasis of: {}", self.old_words(words)));
            }
        }
    }

    fn old_words(&self, words: &[usize]) -> String {
        let mut text = String::new();
        for (number, &word) in words.iter().enumerate() {
            let own = &self.old.words[word];
            let begins = self.old.lines[own.line].words.start == word;
            let from = if begins {
                own.at.start
            } else {
                self.old.words[word - 1].at.end
            };
            if number > 0 {
                text.push_str(if begins {
                    " "
                } else {
                    &self.old.lines[own.line].view[from..own.at.start]
                });
            }
            text.push_str(self.old.word(word));
        }
        text
    }
}
