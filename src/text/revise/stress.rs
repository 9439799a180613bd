//! Which words of the client's text are stressed: those that were, and those that stand for some that were.

use std::ops::Range;

use super::super::Style;
use super::matching::Matched;
use super::view::{Unit, View};

/// The stretches of stressed words of a manuscript.
pub(super) struct Stretches {
    /// For each old word the stretch it is in.
    of: Vec<Option<usize>>,
    /// The words of each stretch, in order.
    words: Vec<Vec<usize>>,
}

impl Stretches {
    pub(super) fn of(old: &View) -> Stretches {
        let mut found = Stretches {
            of: vec![None; old.words.len()],
            words: Vec::new(),
        };
        for unit in &old.units {
            let mut last: Option<(usize, Style)> = None;
            for word in unit.words.clone() {
                let Some(style) = uniform(old, word) else {
                    last = None;
                    continue;
                };
                match last.filter(|(_, known)| *known == style) {
                    Some((stretch, _)) => found.words[stretch].push(word),
                    None => found.words.push(vec![word]),
                }
                let stretch = found.words.len() - 1;
                found.of[word] = Some(stretch);
                last = Some((stretch, style));
            }
        }
        found
    }

    pub(super) fn words(&self, stretch: usize) -> &[usize] {
        &self.words[stretch]
    }

    /// The stretches of a unit.
    pub(super) fn within(&self, unit: &Unit) -> Vec<usize> {
        let mut found: Vec<usize> = unit
            .words
            .clone()
            .filter_map(|word| self.of[word])
            .collect();
        found.dedup();
        found
    }

    pub(super) fn of_word(&self, word: usize) -> Option<usize> {
        self.of[word]
    }
}

/// The style of a word whose letters have one, all the same and not the plain one; its commas may be plain.
fn uniform(old: &View, word: usize) -> Option<Style> {
    let styles = styles_of(old, word);
    let mut letters = styles.get(letters(old.word(word)))?.iter();
    let first = *letters.next()?;
    (first != Style::default() && letters.all(|style| *style == first)).then_some(first)
}

/// Where the letters of a word are, its signs left out; all of it where there are none.
fn letters(word: &str) -> Range<usize> {
    let is_sign = |c: char| !c.is_alphanumeric();
    let from = word.len() - word.trim_start_matches(is_sign).len();
    match word.trim_end_matches(is_sign).len() {
        to if from < to => from..to,
        _ => 0..word.len(),
    }
}

/// How a word is stressed that stands for an old one: its letters as those, the signs around them as those there.
pub(super) fn styles_for(old: &View, word: usize, new: &str) -> Vec<Style> {
    let own = styles_of(old, word);
    let style = own.get(letters(old.word(word)).start);
    let letters = letters(new);
    let at = |at: usize| match at {
        at if at < letters.start => own.first(),
        at if at < letters.end => style,
        _ => own.last(),
    };
    (0..new.len())
        .map(|byte| at(byte).copied().unwrap_or_default())
        .collect()
}

/// How each byte of an old word is stressed.
pub(super) fn styles_of(old: &View, word: usize) -> &[Style] {
    let word = &old.words[word];
    &old.lines[word.line].styles[word.at.clone()]
}

/// For each word of a new unit the old word whose stress it has.
pub(super) fn assigned(
    old: &View,
    stretches: &Stretches,
    matched: &Matched,
    unit: &Unit,
    partner: Option<&Unit>,
) -> Vec<Option<usize>> {
    let mut assigned: Vec<Option<usize>> = unit
        .words
        .clone()
        .map(|word| matched.to_old[word])
        .collect();
    let Some(partner) = partner else {
        return assigned;
    };
    // A word stands for others only where something of what was stressed is left.
    let lives = |word: usize| {
        let stretch = stretches.of[word];
        stretch.is_some_and(|own| {
            stretches.words[own]
                .iter()
                .any(|&w| matched.to_new[w].is_some())
        })
    };
    let whole = stretches.within(partner).len() == 1
        && partner
            .words
            .clone()
            .all(|word| stretches.of[word].is_some());
    let mut at = 0;
    let mut from = partner.words.start;
    while at < assigned.len() {
        if let Some(old) = assigned[at] {
            from = if partner.words.contains(&old) {
                old + 1
            } else {
                from
            };
            at += 1;
            continue;
        }
        let end = (at..assigned.len())
            .find(|&at| assigned[at].is_some())
            .unwrap_or(assigned.len());
        let next = assigned
            .get(end)
            .copied()
            .flatten()
            .filter(|old| *old >= from);
        let to = next.map_or(partner.words.end, |old| old.min(partner.words.end));
        let replaced: Vec<usize> = (from..to.max(from)).collect();
        let stretch = |word: usize| stretches.of[word].filter(|_| lives(word));
        let one = match replaced.as_slice() {
            [] => {
                let before = from
                    .checked_sub(1)
                    .filter(|word| *word >= partner.words.start);
                let behind = (from < partner.words.end).then_some(from);
                match (before, behind) {
                    (Some(before), Some(behind)) if stretch(before).is_some() => {
                        (stretch(before) == stretch(behind)).then_some(before)
                    }
                    (Some(word), None) | (None, Some(word)) => {
                        (whole && lives(word)).then_some(word)
                    }
                    _ => None,
                }
            }
            [first, rest @ ..] => {
                let own = stretch(*first);
                (own.is_some() && rest.iter().all(|word| stretch(*word) == own)).then_some(*first)
            }
        };
        for place in at..end {
            let same = (replaced.len() == end - at).then(|| replaced[place - at]);
            assigned[place] = match same {
                Some(word) => stretch(word).map(|_| word),
                None => one,
            };
        }
        at = end;
    }
    let _ = old;
    assigned
}
