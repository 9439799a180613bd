//! In which order the strip is folded.

use super::Guide;
use super::page::Pages;
use crate::names::{JoinKind, Length, and_list};
use crate::outputs::words::{measured, places};
use crate::paper::{Strip, order};

/// No more folds than this are named one by one.
const NAMED: usize = 8;

/// Tells how to fold.
pub(super) fn tell(pages: &mut Pages<'_>, guide: &Guide<'_>) {
    let (strip, sheets) = (&guide.layout.strip, guide.sheets);
    pages.heading("Fold");
    let rounds = order(strip, sheets);
    let several = sheets.sheets.len() > 1;
    let mut steps = Vec::new();
    if rounds.len() > 1 {
        if guide.facts.spare > Length::ZERO {
            steps.push(format!(
                "Mark where front {} ends, {} before the end of the paper: here, and not at the paper’s end, halves are \
                 measured.",
                guide.layout.strip.paper().panels.per_side, guide.facts.spare
            ));
        }
        for (at, folds) in rounds.iter().enumerate() {
            steps.push(round(at, folds));
        }
        steps.push(format!(
            "Turn every other crease over so that the folds alternate, beginning with a {} after front 1, and press the \
             book. (Where the folds are scored, give each its own way from the start: no score is folded against its bead.)",
            strip.paper().first_fold.word()
        ));
    } else {
        if several {
            steps.push(
                match guide.facts.join {
                    JoinKind::Hinge => "Fold each sheet by itself before any are joined.",
                    _ => "Fold each sheet by itself, its tab too, before any are joined.",
                }
                .to_string(),
            );
        }
        let by_turns = match strip.folds() {
            [] => String::new(),
            [one] => format!("There is one fold, a {}", one.kind.word()),
            [one, other, ..] => format!(
                "Fold one after the other from the edge nearest front 1, by turns: after {} a {}, after {} a {}, and so on",
                one.after,
                one.kind.word(),
                other.after,
                other.kind.word()
            ),
        };
        steps.push(format!(
            "{by_turns}. Lay each panel exactly upon the one before and press its fold with a bone folder.{}",
            uneven(strip).unwrap_or_default()
        ));
    }
    let spare = guide.facts.spare;
    if spare > Length::ZERO && !several {
        steps.push(format!("When all is folded, {}.", trim(guide)));
    }
    match steps.as_slice() {
        [one] => pages.paragraph(one),
        _ => (1..)
            .zip(&steps)
            .for_each(|(number, step)| pages.step(number, step)),
    }
}

/// What is done with the spare paper at the strip's end. Only a last panel that is as wide as those it lies upon ends where
/// they do; any other is measured from its fold.
pub(super) fn trim(guide: &Guide<'_>) -> String {
    let paper = guide.layout.strip.paper();
    let (count, last) = (paper.panels.per_side, paper.ends.last);
    let (below, flush) = match count {
        2 => (paper.ends.first, "front 1"),
        _ => (paper.panel_width, "the other folds"),
    };
    let spare = guide.facts.spare;
    match last == below {
        true => {
            format!("trim off the {spare} that are spare beyond front {count}, flush with {flush}")
        }
        false => format!(
            "cut at {} mm from fold {} | {count}, where front {count} ends; the {spare} beyond are spare",
            measured(last, places([last])),
            count.saturating_sub(1)
        ),
    }
}

/// What is said of ends that have a width of their own, for they do not lie edge upon edge with the others.
fn uneven(strip: &Strip) -> Option<String> {
    let paper = strip.paper();
    let (count, ends) = (paper.panels.per_side, paper.ends);
    let (usual, others) = match count {
        2 => (ends.last, "front 2"),
        _ => (paper.panel_width, "the others"),
    };
    let places = places([ends.first, ends.last, usual]);
    let uneven = [(1, ends.first), (count, ends.last)];
    let uneven = uneven.into_iter().filter(|(_, width)| *width != usual);
    let told = uneven
        .map(|(number, width)| format!("front {number} is {} mm wide", measured(width, places)));
    let told: Vec<String> = told.collect();
    (!told.is_empty()).then(|| {
        format!(
            " Go by the folds, not by the ends of the strip: {}, {others} {} mm.",
            and_list(&told),
            measured(usual, places)
        )
    })
}

fn round(at: usize, folds: &[u16]) -> String {
    let names: Vec<String> = folds
        .iter()
        .take(NAMED)
        .map(|fold| format!("{fold}"))
        .collect();
    let after = format!("after front {}", and_list(&names));
    match at {
        0 => format!("Fold the strip in half, end upon end: {after}. Open it again."),
        1 => format!("Bring each end to the crease in the middle: {after}. Open it again."),
        _ => format!(
            "Halve each of the {} parts, bringing each crease to the next: {after}. Open it again.",
            folds.len()
        ),
    }
}
