//! Breaking headings: as few lines as can be, as even as can be.

use std::ops::Range;

use super::shaped::ShapedLine;
use super::sources::words_of;
use crate::names::Length;
use crate::typeface::Shaper;

/// The lines of a heading within a measure: fewest lines, then the least sum of squared shortfalls of all
/// lines, so that none is much shorter than another. Nothing where a word alone is too wide.
pub(super) fn balance(
    line: &ShapedLine,
    shaper: &Shaper<'_>,
    measure: Length,
) -> Option<Vec<Range<usize>>> {
    let words: Vec<Range<usize>> = words_of(&line.text).collect();
    // best[i]: the cheapest way to set the words from i on: (lines, squared shortfall, next break).
    let mut best: Vec<Option<(usize, i128, usize)>> = vec![None; words.len() + 1];
    best[words.len()] = Some((0, 0, words.len()));
    for from in (0..words.len()).rev() {
        for to in from + 1..=words.len() {
            let width = line.width(shaper, words[from].start..words[to - 1].end);
            if width > measure {
                break;
            }
            let Some((lines, cost, _)) = best[to] else {
                continue;
            };
            let short = i128::from((measure - width).units());
            let candidate = (lines + 1, cost + short * short, to);
            let better =
                |known: (usize, i128, usize)| (candidate.0, candidate.1) < (known.0, known.1);
            if best[from].is_none_or(better) {
                best[from] = Some(candidate);
            }
        }
    }
    let mut lines = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let (_, _, next) = best[at]?;
        lines.push(words[at].start..words[next - 1].end);
        at = next;
    }
    Some(lines)
}
