//! Units that are written anew: the client's words, line by line, with the signs and the emphasis that they keep.

use std::collections::HashMap;
use std::ops::Range;

use super::super::{Style, paragraph};
use super::compose::{ComposedLine, Composer};
use super::stress;
use super::view::BaseReading;
use super::write::{LineSign, LineToWrite};

/// How many characters longer a line of prose may become than the longest of its paragraph was.
const LONGER: usize = 12;

/// A new word, and its bytes in the line that is written.
type WordInLine = (usize, Range<usize>);

impl Composer<'_> {
    /// Writes a unit that was changed, is new, or cannot be copied.
    pub(super) fn write(
        &self,
        unit: usize,
        composed: &mut Vec<ComposedLine>,
        lost: &mut Vec<String>,
    ) {
        let own = &self.new.units[unit];
        let partner = self.partner(unit).map(|(_, old)| old);
        let assigned = stress::assigned(self.stretches, self.matched, own, partner);
        let mut signs = self.signs(unit);
        let calls = self.within(own);
        let breaks = self.breaks(unit, &calls, &signs);
        let mut kept_stress = vec![false; own.words.len()];
        let mut from = own.words.start;
        for to in breaks.into_iter().chain([own.words.end]) {
            let here = calls.iter().filter(|&&call| self.placed[call].at == from);
            if from > own.words.start {
                composed.extend(here.map(|&call| self.callout(call)));
            }
            let sign = signs.remove(&from).unwrap_or(LineSign::None);
            let (line, styled) = self.written_line(unit, from..to, sign, &assigned, lost);
            composed.push(line);
            if styled {
                let place = |word: usize| word - own.words.start;
                (from..to).for_each(|word| {
                    kept_stress[place(word)] = assigned[place(word)].is_some();
                });
            }
            from = to;
        }
        self.lost_stress(unit, &assigned, &kept_stress, lost);
        self.lost_readings(unit, lost);
    }

    /// One line of a unit that is written anew, and whether its words are stressed as they should be. `assigned` is the old word whose
    /// stress each word of the unit has; a sign or a reading that cannot be written is added to `lost`.
    fn written_line(
        &self,
        unit: usize,
        words: Range<usize>,
        sign: LineSign,
        assigned: &[Option<usize>],
        lost: &mut Vec<String>,
    ) -> (ComposedLine, bool) {
        let own = &self.new.units[unit];
        let begins_unit = words.start == own.words.start;
        let (text, places, styles) =
            self.joined(words, &|word: usize| assigned[word - own.words.start]);
        let wanted = LineToWrite {
            words: &text,
            styles,
            readings: self.readings(&places, &text),
            sign,
            indent: self.indent(unit, sign, begins_unit),
            region: self.new.lines[own.lines[0]].region,
            literal: self.literal,
        };
        let written = wanted.write();
        if written.sign != sign {
            lost.push(format!("`{}` before: {text}", sign.written().trim_end()));
        }
        if !written.with_readings {
            let readings = wanted.readings.iter();
            lost.extend(readings.map(|read| format!("the reading 《{}》", read.reading)));
        }
        let stepped = written.sign == LineSign::Step;
        let without_sign = stepped.then(|| super::super::escape(&text, wanted.region.reads));
        let line = ComposedLine {
            unit: Some(unit),
            without_sign,
            ..Self::line(written.text)
        };
        (line, written.styled)
    }

    /// The words of a unit of prose, but the first, that begin a line of the file.
    fn breaks(&self, unit: usize, calls: &[usize], signs: &HashMap<usize, LineSign>) -> Vec<usize> {
        let own = &self.new.units[unit];
        if !own.prose {
            return Vec::new();
        }
        let partner = self.partner(unit).map(|(_, old)| old);
        let is_heading = |line: &usize| self.old.lines[*line].kind.is_heading();
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

    /// Whether a line end could stand in place of the white space before a word, and say the same.
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
        words: Range<usize>,
        of: &impl Fn(usize) -> Option<usize>,
    ) -> (String, Vec<WordInLine>, Vec<Style>) {
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
    fn signs(&self, unit: usize) -> HashMap<usize, LineSign> {
        let mut signs = HashMap::new();
        let own = &self.new.units[unit];
        let Some((_, old)) = self.partner(unit) else {
            return signs;
        };
        for (number, &line) in old.lines.iter().enumerate() {
            let line = &self.old.lines[line];
            let sign = LineSign::of(line.kind, line.stepped);
            let first = match number {
                0 => Some(own.words.start),
                _ => self.matched.to_new[line.words.start].filter(|word| own.words.contains(word)),
            };
            if let (Some(first), true) = (first, sign != LineSign::None) {
                signs.insert(first, sign);
            }
        }
        signs
    }

    /// The white space before a line: the manuscript's where it means the same indent, otherwise the client's.
    fn indent(&self, unit: usize, sign: LineSign, first: bool) -> &str {
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
            if sign != LineSign::None || old_line.half_ems == self.new.lines[line].half_ems {
                return &raw[..white(raw)];
            }
        }
        let raw = &self.new.source.text[self.new.lines[line].raw.clone()];
        let raw = raw.trim_start_matches('\u{feff}');
        &raw[..white(raw)]
    }

    /// The readings whose bases stand whole in a line.
    fn readings(&self, places: &[WordInLine], text: &str) -> Vec<BaseReading> {
        let mut found: Vec<BaseReading> = Vec::new();
        for (word, at) in places {
            let Some(old) = self.matched.to_old[*word] else {
                continue;
            };
            let line = &self.old.lines[self.old.words[old].line];
            let begins = |read: &&BaseReading| read.base.start == self.old.words[old].at.start;
            for read in line.readings.iter().filter(begins) {
                let base = at.start..at.start + read.base.len();
                if text.get(base.clone()) == Some(&line.view[read.base.clone()]) {
                    found.push(BaseReading {
                        base,
                        ..read.clone()
                    });
                }
            }
        }
        found
    }
}
