//! How the strip's sheets are joined.

use super::Guide;
use super::folding::trim;
use super::page::Pages;
use super::table::Column;
use crate::names::{JoinKind, Length, PanelName, Sides};
use crate::paper::{Join, Sheet};

/// Tells how each join is made.
pub(super) fn tell(pages: &mut Pages<'_>, guide: &Guide<'_>) {
    let sheets = guide.sheets;
    let Some(first) = sheets.joins.first() else {
        return;
    };
    pages.heading("Join the sheets");
    pages.paragraph(&how(guide, first));
    let both = guide.layout.strip.paper().panels.sides == Sides::Both;
    let mut columns = vec![Column::words("join"), Column::words("fold")];
    match first.kind {
        JoinKind::Hinge => columns.push(Column::words("tissue on the")),
        _ => {
            columns.push(Column::words("tab of"));
            columns.push(Column::words("goes behind"));
            if both {
                columns.push(Column::words("that is, upon"));
            }
        }
    }
    let pairs = sheets.sheets.windows(2).zip(&sheets.joins);
    let rows = pairs.enumerate().map(|(at, (pair, join))| {
        let after = join.after;
        let fold = format!("{after} | {}", after.number + 1);
        let mut row = vec![(at + 1).to_string(), fold];
        if join.kind == JoinKind::Hinge {
            row.push(join.tissue_on.word().to_string());
        } else {
            let (has, behind) = tab(guide, join, &pair[0], &pair[1]);
            row.push(format!("sheet {}", has.number));
            row.push(behind.to_string());
            let upon = guide.layout.strip.behind(behind).filter(|_| both);
            row.extend(upon.map(|panel| panel.to_string()));
        }
        row
    });
    let rows: Vec<Vec<String>> = rows.collect();
    pages.table(&columns, &rows);
    if guide.facts.spare > Length::ZERO {
        pages.paragraph(&format!("When all is joined and folded, {}.", trim(guide)));
    }
}

fn how(guide: &Guide<'_>, first: &Join) -> String {
    let under_run = guide.sheets.under_run;
    let zone = match under_run > Length::ZERO {
        true => format!(
            "What is pasted is bare of ink on both faces, but for {under_run} where the neighbour’s edge will lie: there the \
             art goes on, so that no white line shows. Beyond cut edges lies what the strip goes on with, so that a cut that is \
             off by a little shows nothing."
        ),
        false => "What is pasted is bare of ink on both faces.".to_string(),
    };
    let dry = "Paste thinly, rub down through clean paper, and let each join dry flat under a weight before you go on (common \
               practice).";
    match first.kind {
        JoinKind::Tab => format!(
            "Each tab is {} wide. Paste its front and lay it behind its neighbour, so that the fold of the tab meets the \
             neighbour’s edge exactly. {zone} {dry}",
            first.width
        ),
        JoinKind::Doubled => format!(
            "At each join one sheet has a panel more, hatched in the drawings. Paste its front and lay the whole of it behind \
             the first panel of its neighbour, its fold at the neighbour’s edge: the two become one leaf. {zone} {dry}"
        ),
        JoinKind::Hinge => format!(
            "Lay the two sheets edge to edge, without a gap, and paste {} of thin, strong tissue over the fold, half of it on \
             each sheet, its grain along the fold. {dry}",
            first.width
        ),
    }
}

/// Which of two sheets, the one with the lower number first, has the tab of their join, and the front panel that the tab
/// goes behind.
fn tab<'a>(
    guide: &Guide<'_>,
    join: &Join,
    one: &'a Sheet,
    other: &'a Sheet,
) -> (&'a Sheet, PanelName) {
    let rtl = guide.layout.strip.paper().reads.is_right_to_left();
    // The lower number lies at the left, unless the strip reads from right to left.
    match join.tab_at_left != rtl {
        true => (one, PanelName::front(join.after.number + 1)),
        false => (other, join.after),
    }
}
