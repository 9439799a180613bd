//! A text that is being read for breaks, and a place in it.

use std::cell::OnceCell;
use std::ops::Range;

use unicode_segmentation::UnicodeSegmentation;

use super::{Tailoring, addresses};

/// What stands between words. This is a choice: other white space is a sign that the author put where it is.
pub(super) const BLANK: [char; 2] = [' ', '\t'];

/// A text with what its tailorings need to know of it.
pub(super) struct Reading<'t> {
    pub(super) text: &'t str,
    pub(super) tongue: Tongue,
    /// Where web and e-mail addresses stand, in order.
    addresses: Vec<Range<usize>>,
    /// Where straight quotation marks stand, in order.
    straight: OnceCell<Vec<usize>>,
    /// Where grapheme clusters begin, in order.
    borders: OnceCell<Vec<usize>>,
    /// The first guillemet of the text, and whether there are both kinds.
    guillemets: OnceCell<(Option<char>, bool)>,
}

impl<'t> Reading<'t> {
    pub(super) fn new(text: &'t str, language: &str) -> Reading<'t> {
        Reading {
            text,
            tongue: Tongue::new(language),
            addresses: addresses::find(text),
            straight: OnceCell::new(),
            borders: OnceCell::new(),
            guillemets: OnceCell::new(),
        }
    }

    /// The breaks within addresses.
    pub(super) fn address_breaks(&self) -> Vec<usize> {
        let within = |range: &Range<usize>| {
            let breaks = addresses::breaks(&self.text[range.clone()]);
            breaks
                .into_iter()
                .map(|at| range.start + at)
                .collect::<Vec<_>>()
        };
        self.addresses.iter().flat_map(within).collect()
    }

    /// How many straight quotation marks stand before a place.
    pub(super) fn straight_before(&self, at: usize) -> usize {
        let straight = self
            .straight
            .get_or_init(|| self.text.match_indices('"').map(|(at, _)| at).collect());
        straight.partition_point(|&mark| mark < at)
    }

    /// Whether a grapheme cluster begins at a byte.
    fn is_border(&self, at: usize) -> bool {
        let ascii = |byte: usize| {
            let byte = self.text.as_bytes().get(byte);
            byte.is_some_and(|byte| byte.is_ascii_graphic() || *byte == b' ' || *byte == b'\t')
        };
        // Nothing joins two characters of plain English.
        if at > 0 && ascii(at - 1) && ascii(at) {
            return true;
        }
        let all = || self.text.grapheme_indices(true).map(|(at, _)| at).collect();
        let borders = self.borders.get_or_init(all);
        borders.binary_search(&at).is_ok()
    }

    /// The first guillemet of the text, and whether there are both kinds.
    pub(super) fn guillemets(&self) -> (Option<char>, bool) {
        *self.guillemets.get_or_init(|| {
            let first = self.text.chars().find(|c| matches!(c, '«' | '»'));
            (first, self.text.contains('«') && self.text.contains('»'))
        })
    }
}

/// The language of a text.
pub(super) struct Tongue {
    tag: String,
}

impl Tongue {
    pub(super) fn new(tag: &str) -> Tongue {
        Tongue {
            tag: tag.to_ascii_lowercase(),
        }
    }

    /// Its main subtag.
    pub(super) fn main(&self) -> &str {
        self.tag.split('-').next().unwrap_or_default()
    }

    /// Whether its tag has this subtag behind the main one.
    pub(super) fn has(&self, subtag: &str) -> bool {
        self.tag.split('-').skip(1).any(|own| own == subtag)
    }

    /// Whether it is written in ideographs or kana, without spaces.
    pub(super) fn is_chinese_or_japanese(&self) -> bool {
        matches!(self.main(), "zh" | "cmn" | "yue" | "wuu" | "lzh" | "ja")
    }
}

/// A place between two visible characters at which a break is proposed.
pub(super) struct Gap<'r> {
    pub(super) reading: &'r Reading<'r>,
    pub(super) end: usize,
    pub(super) next: usize,
    /// Whether the standard proposes it.
    pub(super) standard: bool,
    /// The tailoring that proposes it, if any.
    pub(super) by: Option<Tailoring>,
}

impl<'r> Gap<'r> {
    /// The gap at a byte; nothing at the text's ends.
    pub(super) fn at(
        reading: &'r Reading<'r>,
        at: usize,
        by: Option<Tailoring>,
    ) -> Option<Gap<'r>> {
        let end = reading.text.get(..at)?.trim_end_matches(BLANK).len();
        let behind = reading.text.get(at..)?.trim_start_matches(BLANK);
        let next = reading.text.len() - behind.len();
        (end > 0 && !behind.is_empty()).then_some(Gap {
            reading,
            end,
            next,
            standard: by.is_none(),
            by,
        })
    }

    /// Another proposes it too.
    pub(super) fn proposed_by(&mut self, by: Option<Tailoring>) {
        match by {
            None => self.standard = true,
            // What addresses say goes before anything else.
            Some(Tailoring::Addresses) => self.by = by,
            Some(_) => self.by = self.by.or(by),
        }
    }

    pub(super) fn before(&self) -> &'r str {
        &self.reading.text[..self.end]
    }

    pub(super) fn behind(&self) -> &'r str {
        &self.reading.text[self.next..]
    }

    pub(super) fn is_spaced(&self) -> bool {
        self.end < self.next
    }

    pub(super) fn last(&self) -> char {
        self.before().chars().next_back().unwrap_or_default()
    }

    pub(super) fn first(&self) -> char {
        self.behind().chars().next().unwrap_or_default()
    }

    /// What stands before it back to a space or tab.
    pub(super) fn word_before(&self) -> &'r str {
        self.before().rsplit(BLANK).next().unwrap_or_default()
    }

    /// What stands behind it up to a space or tab.
    pub(super) fn word_behind(&self) -> &'r str {
        self.behind().split(BLANK).next().unwrap_or_default()
    }

    pub(super) fn tongue(&self) -> &'r Tongue {
        &self.reading.tongue
    }

    /// Whether it lies within an address.
    pub(super) fn in_address(&self) -> bool {
        let addresses = &self.reading.addresses;
        let index = addresses.partition_point(|address| address.end <= self.end);
        let inside = |address: &Range<usize>| address.start < self.end;
        !self.is_spaced() && addresses.get(index).is_some_and(inside)
    }

    /// Whether a line would begin or end within a grapheme cluster (UAX #29).
    pub(super) fn within_cluster(&self) -> bool {
        !(self.reading.is_border(self.end) && self.reading.is_border(self.next))
    }
}
