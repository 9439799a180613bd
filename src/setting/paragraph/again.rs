//! Setting lines of a paragraph between given breaks, whatever its best setting would be: of panels that are printed.

use super::place::{ProseContext, ProseLine, place};
use super::{far_inset, how};
use crate::names::Length;
use crate::setting::line_breaks::{self, BreakCost, LineFit};
use crate::setting::mirror;

/// The line between two breaks of a paragraph that stands in so far, set as its last or not. Nothing where there are
/// no such breaks.
pub fn line_between(
    here: &ProseContext<'_>,
    (from, to): (usize, usize),
    inset: Length,
    last: bool,
) -> Option<ProseLine> {
    let paragraph = here.row.paragraph.as_ref()?;
    let breaks = (*paragraph.breaks.get(from)?, *paragraph.breaks.get(to)?);
    let on = here.column.line(here.slot);
    Some(place(here, &on, breaks, (inset, last), LineFit::Within))
}

/// How far a line of a paragraph stands in; with `number`, the line of that number when it is set from its beginning.
pub fn inset_of(here: &ProseContext<'_>, number: Option<usize>) -> Length {
    let at = here.row.at.get(here.number);
    let at = at.and_then(|at| at.paragraph.as_ref());
    let inset = at
        .zip(number)
        .and_then(|(at, number)| at.begins(here.slot).insets.get(number));
    inset.copied().unwrap_or(here.row.indent)
}

/// The breaks that divide a paragraph best from one break to another, in so many lines, by the sum of what the lines
/// cost one by one; nothing where no so many lines hold the words, each within its measure. `first` is the number of
/// the first line, where the paragraph is set from its beginning.
pub fn lines_in(
    here: &ProseContext<'_>,
    (from, to): (usize, usize),
    first: Option<usize>,
    lines: usize,
) -> Option<Vec<usize>> {
    let row = here.row;
    let paragraph = row.paragraph.as_ref()?;
    let setting = mirror::setting_seen(&here.column.line(here.slot), here.reads);
    let style = mirror::style_seen(here.style, here.reads);
    let points = paragraph.points_at(setting.hang_left, setting.hang_right);
    let how = how(&style, row);
    let widest = setting.measure - far_inset(row);
    let mut best: Vec<Option<BreakCost>> = vec![None; points.len()];
    *best.get_mut(from)? = Some(BreakCost::default());
    // By number of lines: from which break the best way to each break comes.
    let mut ways: Vec<Vec<usize>> = Vec::with_capacity(lines);
    for number in 0..lines {
        let measure = widest - inset_of(here, first.map(|first| first + number));
        let mut next: Vec<Option<BreakCost>> = vec![None; points.len()];
        let mut way = vec![from; points.len()];
        for (start, sum) in best.iter().enumerate().take(to) {
            let Some(sum) = *sum else { continue };
            for end in start + 1..=to {
                let line = line_breaks::line_cost(&points, start, end, measure, &how)?;
                if line.fit == LineFit::Overfull {
                    // What is longer is so too, but for a hyphen that is added.
                    if points[end].hyphen {
                        continue;
                    }
                    break;
                }
                let sum = sum + line.cost;
                if next[end].is_none_or(|known| sum < known) {
                    (next[end], way[end]) = (Some(sum), start);
                }
            }
        }
        best = next;
        ways.push(way);
    }
    (*best.get(to)?)?;
    let mut found = vec![to];
    for way in ways.iter().rev() {
        found.push(way[*found.last()?]);
    }
    found.reverse();
    Some(found)
}
