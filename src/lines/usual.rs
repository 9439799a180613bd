//! How wide a part's lines usually are: for aligning the whole part by its longest line.

use crate::units::Length;

/// The longest of these widths; nothing of none.
pub(super) fn longest(widths: &[Length]) -> Length {
    widths.iter().copied().fold(Length::ZERO, Length::max)
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
