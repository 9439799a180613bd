//! How wide a part's lines usually are: for aligning the whole part by its longest line.

use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};

use crate::names::Length;

/// How wide a part's lines usually run.
#[derive(Debug, Default)]
pub(super) struct Usual {
    /// The widths of its verse lines; none where nothing stands by them.
    widths: Vec<Length>,
    /// What was found already, by measure.
    known: Mutex<HashMap<Length, Length>>,
}

impl Usual {
    /// What is usual among lines of these widths.
    pub(super) fn of(widths: Vec<Length>) -> Usual {
        Usual {
            widths,
            known: Mutex::default(),
        }
    }

    /// How wide they usually run within a measure; as wide as that where there are none.
    pub(super) fn within(&self, measure: Length) -> Length {
        let find = || {
            let widths: Vec<Length> = self
                .widths
                .iter()
                .map(|width| (*width).min(measure))
                .collect();
            match usual_longest(&widths) {
                Length::ZERO => measure,
                usual => usual,
            }
        };
        let known = self.known.lock();
        let mut known = known.unwrap_or_else(PoisonError::into_inner);
        *known.entry(measure).or_insert_with(find)
    }
}

/// The longest of these widths; nothing of none.
pub(super) fn longest(widths: &[Length]) -> Length {
    widths.iter().copied().fold(Length::ZERO, Length::max)
}

/// The deepest of the indents of a part's lines when the deepest twentieth of all lines (rounded up) is left aside: one
/// line far to the right is no rule for all.
pub(super) fn usual_deepest(indents: impl Iterator<Item = Length>) -> Length {
    let sorted: Vec<Length> = indents.collect();
    let aside = sorted.len().div_ceil(20);
    deepest_but(sorted, aside)
}

/// The deepest of the indents of a stanza's lines when the deepest twentieth (rounded down) is left aside, which only a
/// long one has.
pub(super) fn deepest_of_stanza(indents: impl Iterator<Item = Length>) -> Length {
    let sorted: Vec<Length> = indents.collect();
    let aside = sorted.len() / 20;
    deepest_but(sorted, aside)
}

fn deepest_but(mut indents: Vec<Length>, aside: usize) -> Length {
    indents.sort_unstable();
    let usual = (indents.len() - aside).checked_sub(1);
    usual.map_or(Length::ZERO, |at| indents[at].max(Length::ZERO))
}

/// The longest when the longest tenth (rounded down) is left aside.
pub(super) fn usual_longest(widths: &[Length]) -> Length {
    let mut sorted = widths.to_vec();
    sorted.sort_unstable();
    let aside = sorted.len() / 10;
    sorted
        .get((sorted.len() - aside).wrapping_sub(1))
        .copied()
        .unwrap_or_default()
}
