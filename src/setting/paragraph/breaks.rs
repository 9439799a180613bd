//! Finding all places where a paragraph may be broken, before any line is measured.

use rustc_hash::FxHashMap;
use std::sync::{Mutex, OnceLock, PoisonError};

use unicode_segmentation::UnicodeSegmentation;

use super::edges::KnownEdges;
use super::unbroken::PlacedWord;
use super::{ParagraphBreak, Parts};
use crate::names::Length;
use crate::plan::TextStyle;
use crate::setting::opportunities::BreakKind;
use crate::setting::part::Setter;
use crate::setting::shaped::ShapedLine;
use crate::typeface::Hyphenator;

/// Points where words may be divided, remembered by word.
pub(in crate::setting) struct Divider<'a> {
    style: &'a TextStyle,
    language: &'a str,
    /// Loaded when a word is to be divided for the first time.
    hyphenator: OnceLock<Option<Hyphenator>>,
    known: Mutex<FxHashMap<String, Vec<usize>>>,
    pub(super) edges: KnownEdges,
}

impl<'a> Divider<'a> {
    pub(in crate::setting) fn new(style: &'a TextStyle, language: &'a str) -> Divider<'a> {
        Divider {
            style,
            language,
            hyphenator: OnceLock::new(),
            known: Mutex::default(),
            edges: KnownEdges::default(),
        }
    }

    /// Where a word may be divided. One that is too wide for the measure may be even where hyphens are not asked
    /// for: that is better than to break it anywhere.
    fn points(&self, word: &str, too_wide: bool) -> Vec<usize> {
        if self.style.divides_words() || too_wide {
            let load = || Hyphenator::new(self.language, &self.style.exceptions);
            if let Some(hyphenator) = self.hyphenator.get_or_init(load) {
                let known = || self.known.lock().unwrap_or_else(PoisonError::into_inner);
                if let Some(points) = known().get(word) {
                    return points.clone();
                }
                let points = hyphenator.points(word);
                known().insert(word.to_string(), points.clone());
                return points;
            }
        }
        // Soft hyphens are the author's own.
        let soft = word.match_indices('\u{ad}');
        let behind = soft.map(|(at, sign)| at + sign.len());
        behind.filter(|at| *at < word.len()).collect()
    }
}

impl Setter<'_> {
    /// Every break of a paragraph, in order. `narrowest` is the narrowest measure that it is set to: what is wider than
    /// that may be broken anywhere.
    pub(super) fn breaks_of(
        &self,
        line: &ShapedLine,
        unbroken: &[PlacedWord<'_>],
        divider: &Divider<'_>,
        narrowest: Length,
    ) -> Vec<ParagraphBreak> {
        let (start, end) = (line.start(), line.trimmed_end(line.text.len()));
        let mut breaks = vec![inside(start, Parts::Words)];
        let opportunities = line.opportunities(start..end, self.language).into_iter();
        breaks.extend(opportunities.map(|at| ParagraphBreak {
            end: at.end,
            next: at.next,
            parts: match at.kind {
                BreakKind::Space => Parts::Words,
                BreakKind::Between => Parts::WordsWithoutSpace,
                BreakKind::Within => Parts::Word,
            },
        }));
        // Signs that are set solid, and words with their reading, are never broken.
        let is_too_wide = |placed: &&PlacedWord<'_>| {
            placed.to - placed.from > narrowest && !placed.word.kind.is_solid()
        };
        let too_wide: Vec<&PlacedWord<'_>> = unbroken.iter().filter(is_too_wide).collect();
        self.divide_words(line, &too_wide, divider, &mut breaks);
        for placed in too_wide {
            let from = placed.word.text.start;
            let clusters = line.text[placed.word.text.clone()].grapheme_indices(true);
            let clusters = clusters.skip(1).map(|(at, _)| from + at);
            breaks.extend(clusters.map(|at| inside(at, Parts::WordByForce)));
        }
        breaks.push(inside(end, Parts::Words));
        with(breaks, Vec::new())
    }

    /// Adds the breaks where words may be divided with a hyphen; `too_wide` is the words that are wider than a measure,
    /// in order.
    fn divide_words(
        &self,
        line: &ShapedLine,
        too_wide: &[&PlacedWord<'_>],
        divider: &Divider<'_>,
        breaks: &mut Vec<ParagraphBreak>,
    ) {
        let mut wide = too_wide.iter().peekable();
        for word in &line.words {
            let from = word.text.start.max(line.start());
            let token = &line.text[from..word.text.end.max(from)];
            while wide.next_if(|wide| wide.word.text.end <= from).is_some() {}
            let is_wide = wide
                .peek()
                .is_some_and(|wide| wide.word.text.start < word.text.end);
            let parts = match is_wide && !self.style.divides_words() && !token.contains('\u{ad}') {
                true => Parts::WideWordByHyphen,
                false => Parts::WordByHyphen,
            };
            let points = divider.points(token, is_wide).into_iter();
            breaks.extend(points.map(|at| inside(from + at, parts)));
        }
    }
}

/// A break with no white space at it.
fn inside(at: usize, parts: Parts) -> ParagraphBreak {
    ParagraphBreak {
        end: at,
        next: at,
        parts,
    }
}

/// Where a paragraph may be parted between breaks that have no line between them which is narrow enough: `wide` tells which
/// of two neighbours have none. Words part at spaces that keep them together, and only what is too wide then anywhere
/// between its pieces.
pub(super) fn forced_between(
    line: &ShapedLine,
    unbroken: &[PlacedWord<'_>],
    breaks: &[ParagraphBreak],
    (narrowest, wide): (Length, impl Fn(usize) -> bool),
) -> Vec<ParagraphBreak> {
    let mut forced = Vec::new();
    for (index, pair) in breaks.windows(2).enumerate() {
        if !wide(index) {
            continue;
        }
        let first = unbroken.partition_point(|placed| placed.word.text.end <= pair[0].next);
        let behind = unbroken.partition_point(|placed| placed.word.text.start < pair[1].end);
        let pieces = unbroken.get(first..behind).unwrap_or_default();
        let spaced = pieces.chunk_by(|_, next| !next.word.context.space_before);
        for (number, words) in spaced.enumerate() {
            // At the ends of a line a piece may take more room than within one.
            let width = words[words.len() - 1].to - words[0].from;
            let apart = words.len() > 1 && width + words[0].word.voice.size > narrowest;
            let begin = words.iter().take(if apart { words.len() } else { 1 });
            let begin = begin.skip(usize::from(number == 0));
            forced.extend(begin.map(|placed| {
                let next = placed.word.text.start;
                ParagraphBreak {
                    end: line.trimmed_end(next),
                    next,
                    parts: Parts::WordByForce,
                }
            }));
        }
    }
    forced
}

/// Breaks with others among them, in order and each once.
pub(super) fn with(
    mut breaks: Vec<ParagraphBreak>,
    others: Vec<ParagraphBreak>,
) -> Vec<ParagraphBreak> {
    breaks.extend(others);
    // Where there are several breaks at one place, the one that changes least counts.
    breaks.sort_by_key(|at| (at.end, at.next, order(at.parts)));
    breaks.dedup_by_key(|at| at.end);
    breaks
}

/// How much a break changes about the words, for choosing among several at one place.
fn order(parts: Parts) -> u8 {
    match parts {
        Parts::Words => 0,
        Parts::WordsWithoutSpace => 1,
        Parts::Word => 2,
        Parts::WordByHyphen => 3,
        Parts::WideWordByHyphen => 4,
        Parts::WordByForce => 5,
    }
}
