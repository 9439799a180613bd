//! Which words of the client's text are stressed: those that were, and those that stand for some that were.

use std::ops::Range;

use super::super::Style;
use super::matching::Matching;
use super::view::{ClientView, TextUnit};

/// The stretches of stressed words of a manuscript.
pub(super) struct StressedStretches {
    /// For each old word the stretch it is in.
    of: Vec<Option<usize>>,
    /// The words of each stretch, in order.
    words: Vec<Vec<usize>>,
}

impl StressedStretches {
    pub(super) fn of(old: &ClientView) -> StressedStretches {
        let mut found = StressedStretches {
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
    pub(super) fn within(&self, unit: &TextUnit) -> Vec<usize> {
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

/// The style that all letters of a word have, if it is not the plain one; signs around them may be plain.
fn uniform(old: &ClientView, word: usize) -> Option<Style> {
    let styles = styles_of(old, word);
    let mut letters = styles.get(letters(old.word(word)))?.iter();
    let first = *letters.next()?;
    (first != Style::default() && letters.all(|style| *style == first)).then_some(first)
}

/// The bytes of a word from its first letter to its last; all of it where it has no letters.
fn letters(word: &str) -> Range<usize> {
    let is_sign = |c: char| !c.is_alphanumeric();
    let from = word.len() - word.trim_start_matches(is_sign).len();
    match word.trim_end_matches(is_sign).len() {
        to if from < to => from..to,
        _ => 0..word.len(),
    }
}

/// How each byte of a new word is stressed that stands for an old one: its letters as the old word's letters, the signs
/// around them as the signs around those.
pub(super) fn styles_for(old: &ClientView, word: usize, new: &str) -> Vec<Style> {
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
pub(super) fn styles_of(old: &ClientView, word: usize) -> &[Style] {
    let word = &old.words[word];
    &old.lines[word.line].styles[word.at.clone()]
}

/// For each word of a new unit the old word whose stress it has: the word itself where it is still there, and for words
/// that replace others the one that they stand for.
pub(super) fn assigned(
    stretches: &StressedStretches,
    matched: &Matching,
    unit: &TextUnit,
    partner: Option<&TextUnit>,
) -> Vec<Option<usize>> {
    let kept = unit.words.clone().map(|word| matched.to_old[word]);
    let mut assigned: Vec<Option<usize>> = kept.collect();
    let Some(partner) = partner else {
        return assigned;
    };
    let inheritance = Inheritance::new(stretches, matched, partner);
    let mut at = 0;
    let mut from = partner.words.start;
    while at < assigned.len() {
        if let Some(old) = assigned[at] {
            if partner.words.contains(&old) {
                from = old + 1;
            }
            at += 1;
            continue;
        }
        let kept = (at..assigned.len()).find(|&at| assigned[at].is_some());
        let end = kept.unwrap_or(assigned.len());
        let next = kept.and_then(|at| assigned[at]).filter(|old| *old >= from);
        let to = next.map_or(partner.words.end, |old| old.min(partner.words.end));
        inheritance.hand_on(from..to.max(from), &mut assigned[at..end]);
        at = end;
    }
    assigned
}

/// How the stress of words that are gone passes to the words that stand in their place.
struct Inheritance<'a> {
    stretches: &'a StressedStretches,
    matched: &'a Matching,
    /// The old unit.
    partner: &'a TextUnit,
    /// Whether all words of the old unit are stressed as one stretch.
    whole: bool,
}

impl<'a> Inheritance<'a> {
    fn new(
        stretches: &'a StressedStretches,
        matched: &'a Matching,
        partner: &'a TextUnit,
    ) -> Inheritance<'a> {
        let mut words = partner.words.clone();
        Inheritance {
            stretches,
            matched,
            partner,
            whole: stretches.within(partner).len() == 1
                && words.all(|word| stretches.of[word].is_some()),
        }
    }

    /// Gives new words the stress of the old words that they replace: word for word where they are as many, otherwise
    /// the stress that all of the old words share.
    fn hand_on(&self, replaced: Range<usize>, heirs: &mut [Option<usize>]) {
        if replaced.len() == heirs.len() {
            for (heir, word) in heirs.iter_mut().zip(replaced) {
                *heir = self.living_stretch(word).map(|_| word);
            }
        } else if replaced.is_empty() {
            heirs.fill(self.around(replaced.start));
        } else {
            heirs.fill(self.shared(replaced));
        }
    }

    /// The stretch of an old word, if some word of that stretch is still there: without one, no new word stands for it.
    fn living_stretch(&self, word: usize) -> Option<usize> {
        let stretch = self.stretches.of[word]?;
        let mut words = self.stretches.words[stretch].iter();
        let lives = words.any(|&word| self.matched.to_new[word].is_some());
        lives.then_some(stretch)
    }

    /// The word whose stress new words have that stand between old ones and replace none.
    fn around(&self, at: usize) -> Option<usize> {
        let own = &self.partner.words;
        let before = at.checked_sub(1).filter(|word| *word >= own.start);
        let behind = (at < own.end).then_some(at);
        match (before, behind) {
            (Some(before), Some(behind)) => {
                let stretch = self.living_stretch(before)?;
                (self.living_stretch(behind) == Some(stretch)).then_some(before)
            }
            (Some(word), None) | (None, Some(word)) => {
                (self.whole && self.living_stretch(word).is_some()).then_some(word)
            }
            (None, None) => None,
        }
    }

    /// The first of some old words, if all are of one stretch.
    fn shared(&self, mut replaced: Range<usize>) -> Option<usize> {
        let first = replaced.next()?;
        let stretch = self.living_stretch(first)?;
        replaced
            .all(|word| self.living_stretch(word) == Some(stretch))
            .then_some(first)
    }
}
