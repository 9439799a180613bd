//! Where each sheet is folded and scored: a drawing with measures for each side of it, and a table.

use super::Guide;
use super::page::Pages;
use super::sheet_seen::Seen;
use super::table::{Column, table_high};
use crate::names::{Length, Side};
use crate::outputs::words::{measured, places};
use crate::paper::{ScoredFold, Sheet, scored};

/// The tables of all sheets.
pub(super) fn tell(pages: &mut Pages<'_>, guide: &Guide<'_>) {
    pages.heading("Where to score");
    let cut = match guide.facts.spare > Length::ZERO {
        true => {
            "; of the last sheet the paper between the two marks at its end is spare, and stays until the strip is folded"
        }
        false => "",
    };
    pages.paragraph(&format!(
        "Score before you cut: outside head and foot each fold has its marks, and a small triangle on the side that it is \
         scored on. To set a machine, and to check, measure every fold from one edge, the thick one, cut first by its marks; \
         never from the fold before, so that errors do not add up. Every fold is scored on its outside: mountains on the \
         front, valleys on the back. Then cut head, foot and the other end by their marks{cut}.",
    ));
    for sheet in &guide.sheets.sheets {
        of_sheet(pages, guide, sheet);
    }
}

fn of_sheet(pages: &mut Pages<'_>, guide: &Guide<'_>, sheet: &Sheet) {
    let folds = scored(&guide.layout.strip, sheet);
    let (first, last) = sheet.panels;
    let panels = match first == last {
        true => format!("front {first}"),
        false => format!("front {first} to front {last}"),
    };
    let title = match guide.sheets.sheets.len() {
        1 => format!("The sheet: {panels}"),
        _ => format!("Sheet {}: {panels}", sheet.number),
    };
    let seen = [Side::Front, Side::Back].map(|side| Seen::new(guide, sheet, side, &folds));
    let drawn = seen.each_ref().map(|seen| seen.drawn(pages));
    // A sheet's drawings and its table stand together where a column has room for them.
    let high: Length = drawn.iter().flatten().map(|drawn| drawn.high).sum();
    let block = high + table_high(3, folds.len()) + Length::mm(8);
    if block <= Pages::whole() {
        pages.need(block);
    }
    pages.subheading(&title);
    if folds.is_empty() {
        pages.paragraph("It has no folds.");
        return;
    }
    for (seen, drawn) in seen.iter().zip(&drawn) {
        if let Some(drawn) = drawn {
            seen.draw(pages, drawn);
        }
    }
    table(pages, &seen, &folds);
}

/// The table of a sheet's folds, each with its measure on the side that it is scored on.
fn table(pages: &mut Pages<'_>, seen: &[Seen<'_>; 2], folds: &[ScoredFold]) {
    let places = places(folds.iter().map(|fold| fold.from_edge));
    let column = |seen: &Seen<'_>| {
        let side = seen.side.word();
        Column::figures(&format!("{side} up,\nmm from the\n{}", seen.edge_words()))
    };
    let mut columns = vec![
        Column::words("fold"),
        Column::words("seen from\nthe front"),
        column(&seen[0]),
        column(&seen[1]),
    ];
    let tabs = folds.iter().any(|fold| fold.has_tab);
    if tabs {
        columns.push(Column::words(""));
    }
    let rows = folds.iter().map(|fold| {
        let on = |side| match fold.on == side {
            true => measured(fold.from_edge, places),
            false => String::new(),
        };
        let mut row = vec![
            format!("{} | {}", fold.after, fold.after.number + 1),
            fold.kind.word().to_string(),
            on(Side::Front),
            on(Side::Back),
        ];
        if tabs {
            row.push(if fold.has_tab { "its tab" } else { "" }.to_string());
        }
        row
    });
    let rows: Vec<Vec<String>> = rows.collect();
    pages.table(&columns, &rows);
}
