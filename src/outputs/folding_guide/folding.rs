//! In which order the strip is folded, and how its sheets are joined.

use super::Guide;
use super::page::Pages;
use super::words::{bare, listed};
use crate::plan::{JoinKind, PanelName, Sides};
use crate::strip::{Join, Sheet, order};
use crate::units::Length;

/// So many folds are named one by one.
const NAMED: usize = 8;

/// Tells how to fold.
pub(super) fn tell(pages: &mut Pages<'_>, guide: &Guide<'_>) {
    let (strip, sheets) = (&guide.layout.strip, guide.sheets);
    pages.heading("Fold");
    let rounds = order(strip, sheets);
    let several = sheets.sheets.len() > 1;
    let mut steps = Vec::new();
    if rounds.len() > 1 {
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
            steps
                .push("Fold each sheet by itself, its tab too, before any are joined.".to_string());
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
            "{by_turns}. Lay each panel exactly upon the one before and press its fold with a bone folder."
        ));
    }
    if guide.plan.sheets.spare > Length::ZERO {
        let last = strip.paper().panels.per_side;
        let when = if several {
            "When all is joined and folded"
        } else {
            "When all is folded"
        };
        let trim = format!(
            "{when}, trim off the {} that are spare beyond front {last}, flush with the other folds.",
            guide.plan.sheets.spare
        );
        if several {
            numbered(pages, &steps);
            joins(pages, guide);
            pages.led("Last.", &trim);
            return;
        }
        steps.push(trim);
    }
    numbered(pages, &steps);
    joins(pages, guide);
}

fn numbered(pages: &mut Pages<'_>, steps: &[String]) {
    match steps {
        [one] => pages.paragraph(one),
        _ => (1..)
            .zip(steps)
            .for_each(|(number, step)| pages.step(number, step)),
    }
}

fn round(at: usize, folds: &[u16]) -> String {
    let names: Vec<String> = folds
        .iter()
        .take(NAMED)
        .map(|fold| format!("{fold}"))
        .collect();
    let after = format!("after front {}", listed(&names));
    match at {
        0 => format!("Fold the strip in half: {after}. Open it again."),
        1 => format!("Bring each end to the middle: {after}. Open it again."),
        _ => format!(
            "Halve each of the {} parts, bringing each crease to the next: {after}. Open it again.",
            folds.len()
        ),
    }
}

/// Tells how each join is made.
fn joins(pages: &mut Pages<'_>, guide: &Guide<'_>) {
    let sheets = guide.sheets;
    if sheets.joins.is_empty() {
        return;
    }
    pages.heading("Join the sheets");
    let bare_zone = match sheets.joins.iter().any(|join| join.kind != JoinKind::Hinge) {
        true => {
            let under = match sheets.under_run > Length::ZERO {
                true => format!(
                    " but for {} beside the fold, so that no white line shows",
                    sheets.under_run
                ),
                false => String::new(),
            };
            format!(
                "What is pasted is left bare of ink on both faces{under}. Paste thinly, rub down through clean paper, and let \
                 each join dry flat under a weight before you go on (common practice)."
            )
        }
        false => "Use thin, strong tissue with its grain along the fold, paste it thinly, rub it down through clean paper, and \
                  let each join dry flat under a weight (common practice)."
            .to_string(),
    };
    pages.paragraph(&bare_zone);
    for (at, pair) in sheets.sheets.windows(2).enumerate() {
        if let (Some(join), [one, other]) = (sheets.joins.get(at), pair) {
            let lead = format!("Join {}, after {}.", at + 1, join.after);
            pages.led(&lead, &told(guide, join, one, other));
        }
    }
}

/// How a join between two sheets is made, the one with the lower number first.
fn told(guide: &Guide<'_>, join: &Join, one: &Sheet, other: &Sheet) -> String {
    let strip = &guide.layout.strip;
    let rtl = strip.paper().reads.is_right_to_left();
    let next = PanelName::front(join.after.number + 1);
    // The lower number lies at the left, unless the strip reads from right to left.
    let (has, gets) = match join.tab_at_left != rtl {
        true => ((one, join.after), (other, next)),
        false => ((other, next), (one, join.after)),
    };
    let behind = strip.behind(gets.1);
    let both = strip.paper().panels.sides == Sides::Both;
    let covered = match behind.filter(|_| both) {
        Some(back) => format!(", on the side of {back}"),
        None => String::new(),
    };
    let mut told = match join.kind {
        JoinKind::Tab => format!(
            "Sheet {} has the tab, {} wide. Paste its front and lay it behind {}{covered}, so that the fold of the tab meets \
             the edge of sheet {} exactly.",
            has.0.number,
            bare(join.width) + " mm",
            gets.1,
            gets.0.number
        ),
        JoinKind::Doubled => format!(
            "Sheet {} has one panel more. Paste its front and lay the whole of it behind {}{covered}, edge to edge and fold to \
             edge: the two are one leaf.",
            has.0.number, gets.1
        ),
        JoinKind::Hinge => format!(
            "Lay sheets {} and {} edge to edge, the {} up, without a gap. Paste {} of tissue over the fold, half of it on each \
             sheet.",
            one.number,
            other.number,
            join.tissue_on.word(),
            join.width
        ),
    };
    if join.over_words {
        told += " Words lie in this join: no other way of cutting the strip was free of them.";
    }
    told
}
