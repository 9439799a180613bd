//! Where a paragraph may be broken: all its breaks, before any is measured.

use std::collections::HashMap;

use unicode_segmentation::UnicodeSegmentation;

use super::course::Placed;
use super::{ParagraphBreak, Parts};
use crate::lines::opportunities::{BreakKind, opportunities};
use crate::lines::part::Setter;
use crate::lines::shaped::ShapedLine;
use crate::plan::TextStyle;
use crate::typeface::Hyphenator;
use crate::units::Length;

/// Points where words may be divided, remembered by word.
pub(in crate::lines) struct Divider {
    hyphenator: Option<Hyphenator>,
    known: HashMap<String, Vec<usize>>,
}

impl Divider {
    pub(in crate::lines) fn new(style: &TextStyle, language: &str) -> Divider {
        let asked = style.hyphenate;
        Divider {
            hyphenator: asked
                .then(|| Hyphenator::new(language, &style.exceptions))
                .flatten(),
            known: HashMap::new(),
        }
    }

    fn points(&mut self, word: &str) -> &[usize] {
        if !self.known.contains_key(word) {
            let soft = || {
                word.match_indices('\u{ad}')
                    .map(|(at, sign)| at + sign.len())
            };
            let found = match &self.hyphenator {
                Some(hyphenator) => hyphenator.points(word),
                // Soft hyphens are the author's own.
                None => soft().filter(|at| *at < word.len()).collect(),
            };
            self.known.insert(word.to_string(), found);
        }
        self.known.get(word).map_or(&[], Vec::as_slice)
    }
}

impl Setter<'_> {
    /// Every break of a paragraph, in order.
    pub(super) fn breaks_of(
        &self,
        line: &ShapedLine,
        course: &[Placed<'_>],
        divider: &mut Divider,
        narrowest: Length,
    ) -> Vec<ParagraphBreak> {
        let (start, end) = (line.start(), line.trimmed_end(line.text.len()));
        let whole = &line.text[start..end];
        let mut breaks = vec![ParagraphBreak {
            end: start,
            next: start,
            parts: Parts::Words,
        }];
        let inner = opportunities(whole, self.language).into_iter();
        breaks.extend(inner.map(|at| ParagraphBreak {
            end: start + at.end,
            next: start + at.next,
            parts: match at.kind {
                BreakKind::Space => Parts::Words,
                BreakKind::Between => Parts::WordsWithoutSpace,
                BreakKind::Within => Parts::Word,
            },
        }));
        let inside = |at: usize, parts| ParagraphBreak {
            end: at,
            next: at,
            parts,
        };
        for word in &line.words {
            let from = word.text.start.max(start);
            let token = &line.text[from..word.text.end.max(from)];
            let points = divider.points(token).iter();
            breaks.extend(points.map(|at| inside(from + at, Parts::WordByHyphen)));
        }
        for placed in course
            .iter()
            .filter(|placed| placed.to - placed.from > narrowest)
        {
            let from = placed.word.text.start;
            let clusters = line.text[placed.word.text.clone()].grapheme_indices(true);
            let clusters = clusters.skip(1).map(|(at, _)| from + at);
            breaks.extend(clusters.map(|at| inside(at, Parts::WordByForce)));
        }
        breaks.push(inside(end, Parts::Words));
        breaks.sort_by_key(|at| (at.end, at.next));
        let forced = forced_between(line, course, &breaks, narrowest);
        breaks.extend(forced);
        // Of several breaks at one place the one that does least counts.
        breaks.sort_by_key(|at| (at.end, at.next, order(at.parts)));
        breaks.dedup_by_key(|at| at.end);
        breaks
    }
}

/// Where words may be parted that should stay together, because together they are wider than a measure.
fn forced_between(
    line: &ShapedLine,
    course: &[Placed<'_>],
    breaks: &[ParagraphBreak],
    narrowest: Length,
) -> Vec<ParagraphBreak> {
    let mut forced = Vec::new();
    let mut at = 0;
    for (from, to) in breaks.iter().zip(&breaks[1..]) {
        let first = at + course[at..].partition_point(|placed| placed.word.text.end <= from.next);
        let behind =
            first + course[first..].partition_point(|placed| placed.word.text.start < to.end);
        at = first;
        let [head, .., tail] = &course[first..behind] else {
            continue;
        };
        if tail.to - head.from <= narrowest {
            continue;
        }
        let inner = course[first + 1..behind].iter();
        forced.extend(
            inner
                .filter(|placed| placed.word.context.space_before)
                .map(|placed| {
                    let next = placed.word.text.start;
                    ParagraphBreak {
                        end: line.trimmed_end(next),
                        next,
                        parts: Parts::WordByForce,
                    }
                }),
        );
    }
    forced
}

fn order(parts: Parts) -> u8 {
    match parts {
        Parts::Words => 0,
        Parts::WordsWithoutSpace => 1,
        Parts::Word => 2,
        Parts::WordByHyphen => 3,
        Parts::WordByForce => 4,
    }
}
