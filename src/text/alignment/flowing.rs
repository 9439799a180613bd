//! Lines that end where the measure ends, and so elsewhere once a word is changed.

use std::ops::Range;

use similar::{Algorithm, DiffOp, capture_diff_slices};

use super::{Alignment, Lines, align, spans};

/// The fewest words of a line that is looked for elsewhere: single words come back by chance.
const FEWEST_WORDS: usize = 2;
/// What a change costs a reader beside its own words, in words: those around it must be read too.
const EACH: usize = 5;

/// Aligns two texts as they are set. Lines that are the same count as in [`align`], and those that stand elsewhere
/// have moved; of the rest the words are aligned line by line, or else through all lines between, whichever leaves
/// less to be told.
pub fn align_set(earlier: &Lines<'_>, later: &Lines<'_>) -> Alignment {
    let (old_spans, new_spans) = (spans(earlier), spans(later));
    let mut found = Alignment::nothing(earlier, later);
    let mut differing = Vec::new();
    for op in capture_diff_slices(Algorithm::Patience, earlier, later) {
        match op {
            DiffOp::Equal { .. } => found.lines.extend(op.old_range().zip(op.new_range())),
            _ => differing.push((op.old_range(), op.new_range())),
        }
    }
    for (old, new) in found.lines.clone() {
        let same = old_spans[old].clone().zip(new_spans[new].clone());
        same.for_each(|(one, other)| found.match_word(one, other));
    }
    found.find_moved(earlier, later);
    found
        .moved
        .retain(|(old, _)| earlier[*old].len() >= FEWEST_WORDS);
    let mut stays = (vec![true; earlier.len()], vec![true; later.len()]);
    for &(old, new) in &found.moved {
        (stays.0[old], stays.1[new]) = (false, false);
    }
    for (old, new) in differing {
        let old: Vec<usize> = old.filter(|&line| stays.0[line]).collect();
        let new: Vec<usize> = new.filter(|&line| stays.1[line]).collect();
        let texts = (some(earlier, &old), some(later, &new));
        let words = |lines: &[usize], spans: &[Range<usize>]| -> Vec<usize> {
            let words = lines.iter().flat_map(|&line| spans[line].clone());
            words.collect()
        };
        let places = (words(&old, &old_spans), words(&new, &new_spans));
        let aligned = align_differing(&texts.0, &texts.1);
        for (one, other) in aligned.later.iter().enumerate() {
            if let Some(other) = other {
                found.match_word(places.0[one], places.1[*other]);
            }
        }
        let pairs = aligned.lines.into_iter();
        found
            .lines
            .extend(pairs.map(|(one, other)| (old[one], new[other])));
    }
    found.lines.sort_unstable();
    found
}

fn some<'a>(text: &Lines<'a>, lines: &[usize]) -> Lines<'a> {
    lines.iter().map(|&line| text[line].clone()).collect()
}

/// Aligns lines that differ: line by line, or through them all.
fn align_differing(earlier: &Lines<'_>, later: &Lines<'_>) -> Alignment {
    let by_lines = align(earlier, later);
    let mut through = Alignment::nothing(earlier, later);
    through.match_words(&earlier.concat(), &later.concat(), (0, 0), 1);
    match cost(&through) < cost(&by_lines) {
        true => through,
        false => by_lines,
    }
}

/// How much is to be told of what differs.
fn cost(found: &Alignment) -> usize {
    let gaps = found.gaps().into_iter();
    gaps.map(|(old, new)| old.len() + new.len() + EACH).sum()
}
