//! Guides of whole books: that all of a guide lies on its pages and nothing upon anything else, and that what it tells to
//! score, fold and join is what the panels' widths come to.

mod books;

use super::*;
use crate::layout::LaidLine;
use crate::names::FoldKind;
use crate::pdf::Drawing;
use books::*;

fn labels<'p>(page: &'p Page<'_>) -> impl Iterator<Item = &'p LaidLine> {
    page.drawings.iter().filter_map(|drawing| match drawing {
        Drawing::Label { line, .. } => Some(&**line),
        _ => None,
    })
}

/// Every point that is drawn lies on the page, where a desk printer can print; no words stand on others.
#[test]
fn all_lies_on_the_page_and_no_words_on_others() {
    let clear = Length::mm(6);
    for (name, book) in shelf() {
        let remarks = remarks();
        for (at, page) in pages(&book.guide(&remarks)).iter().enumerate() {
            let (wide, high) = page.size;
            let within = |what: &str, (x, y): (Length, Length)| {
                let inside = x >= clear && x <= wide - clear && y >= clear && y <= high - clear;
                assert!(inside, "{name}, page {}: {what} at {x}, {y}", at + 1);
            };
            for drawing in &page.drawings {
                match drawing {
                    Drawing::Label { line, .. } => {
                        within(&line.text, (line.x, -line.baseline - line.size / 4));
                        within(
                            &line.text,
                            (line.x + line.width, -line.baseline + line.size),
                        );
                    }
                    Drawing::Box { at, .. } => {
                        within("a box", (at[0], at[1]));
                        within("a box", (at[0] + at[2], at[1] + at[3]));
                    }
                    Drawing::Rule { from, to, .. } => {
                        within("a rule", *from);
                        within("a rule", *to);
                    }
                    Drawing::Path { points, .. } => {
                        points.iter().for_each(|point| within("a path", *point));
                    }
                    _ => {}
                }
            }
            let labels: Vec<&LaidLine> = labels(page).collect();
            for (at, one) in labels.iter().enumerate() {
                for other in &labels[at + 1..] {
                    let beside = one.x + one.width <= other.x || other.x + other.width <= one.x;
                    let apart = (one.baseline - other.baseline).max(other.baseline - one.baseline);
                    let low = one.size.min(other.size);
                    assert!(
                        beside || apart * 10 >= low * 7,
                        "{name}: “{}” on “{}”",
                        one.text,
                        other.text
                    );
                }
            }
        }
    }
}

/// What the tables of a guide say, by the words of their rows: those labels of a page that stand on one baseline, from left
/// to right, each with its right edge.
fn rows(guide: &Guide<'_>) -> Vec<Vec<(String, Length)>> {
    let mut rows = Vec::new();
    for page in pages(guide) {
        let mut row: Vec<&LaidLine> = Vec::new();
        let mut close = |row: &mut Vec<&LaidLine>| {
            let words = row.drain(..);
            let words = words.map(|line| (line.text.clone(), line.x + line.width));
            rows.push(words.collect::<Vec<_>>());
        };
        for line in labels(&page) {
            if row
                .last()
                .is_some_and(|last| last.baseline != line.baseline || last.x > line.x)
            {
                close(&mut row);
            }
            row.push(line);
        }
        close(&mut row);
    }
    rows
}

/// The number in `front 12`.
fn number(words: &str) -> u16 {
    words.rsplit(' ').next().unwrap().parse().unwrap()
}

/// Every fold that a guide tells to score lies where the widths of the panels before it on its sheet, and a tab, add up to;
/// mountains stand in one column and valleys in another; and each fold of the strip is there once, with its tab’s sheet.
#[test]
fn folds_lie_where_the_panels_widths_add_up_to() {
    for (name, book) in shelf() {
        let (paper, tab) = (&book.plan.paper, book.plan.sheets.tab.as_mm());
        let count = paper.panels.per_side;
        let width = |panel: u16| match panel {
            1 => paper.ends.first.as_mm(),
            _ if panel == count => paper.ends.last.as_mm(),
            _ => paper.panel_width.as_mm(),
        };
        let doubled = book.plan.sheets.join == crate::names::JoinKind::Doubled;
        let rows = rows(&book.guide(&[]));
        // Which sheet has the tab of which fold, from the table of joins: sheet 2, behind front 4.
        let tabs: Vec<(u16, u16)> = rows
            .iter()
            .filter(|row| {
                row.len() >= 4 && row[2].0.starts_with("sheet ") && row[3].0.starts_with("front ")
            })
            .map(|row| (number(&row[2].0), number(&row[3].0)))
            .collect();
        let mut seen = Vec::new();
        let mut sheet = (1, 1, count);
        let mut columns = [None, None];
        for row in &rows {
            let first = row.first().map_or("", |(words, _)| words);
            let heading = first.split_once(": front ");
            let heading =
                heading.filter(|(name, _)| *name == "The sheet" || name.starts_with("Sheet "));
            if let Some((heading, panels)) = heading {
                let number = heading.strip_prefix("Sheet ").map_or(1, number);
                let (from, to) = panels.split_once(" to front ").unwrap_or((panels, panels));
                sheet = (number, from.parse().unwrap(), to.parse().unwrap());
                columns = [None, None];
            }
            let kinds = [FoldKind::Mountain, FoldKind::Valley];
            let kind = row
                .get(1)
                .and_then(|(words, _)| kinds.into_iter().find(|kind| kind.word() == words));
            let (Some((fold, after)), Some(kind)) = (first.split_once(" | "), kind) else {
                continue;
            };
            let k = number(fold);
            assert_eq!(number(after), k + 1);
            // An odd fold is as the first one, an even one the other way.
            let expected = if k % 2 == 1 {
                paper.first_fold
            } else {
                paper.first_fold.other()
            };
            assert_eq!(kind, expected, "{name}: {fold}");
            let behind = |panel| tabs.contains(&(sheet.0, panel));
            // A tab at the edge that is measured from goes behind the panel before the sheet's first.
            let begins = match behind(sheet.1 - 1) {
                true if doubled => width(sheet.1 - 1),
                true => tab,
                false => 0.0,
            };
            let along: f64 = (sheet.1..=k).map(width).sum::<f64>() + begins;
            let (words, edge) = &row[2];
            let told: f64 = words.parse().unwrap();
            assert!(
                (told - along).abs() < 0.006,
                "{name}: {fold} at {told}, not {along}"
            );
            let column = &mut columns[usize::from(kind == FoldKind::Valley)];
            // The column is where the first of its kind stands; a table that goes on may stand elsewhere.
            let known = *column.get_or_insert(*edge);
            let drift = (known - *edge).units().abs();
            assert!(
                drift < 10 || drift > Length::mm(100).units(),
                "{name}: {fold} stands out of line"
            );
            // What is scored from the front stands in the column at the left.
            if let [Some(front), Some(back)] = columns {
                let apart = back - front;
                assert!(
                    apart > Length::ZERO || apart < -Length::mm(100),
                    "{name}: {fold} is scored on the wrong side"
                );
            }
            let has_tab = row.get(3).is_some_and(|(words, _)| words == "its tab");
            assert_eq!(has_tab, k + 1 == sheet.1 || k == sheet.2, "{name}: {fold}");
            seen.push(k);
        }
        seen.sort_unstable();
        let all = 1..count;
        // Hinges have no tab, so no sheet has their folds.
        let hinged = |k: &u16| match tabs.is_empty() {
            true => book.sheets.joins.iter().any(|join| join.after.number == *k),
            false => false,
        };
        let all: Vec<u16> = all.filter(|k| !hinged(k)).collect();
        assert_eq!(seen, all, "{name}");
    }
}

/// All words of a guide, one after the other.
fn all_words(guide: &Guide<'_>) -> String {
    let pages = pages(guide);
    let lines = pages.iter().flat_map(labels);
    lines
        .map(|line| line.text.as_str())
        .collect::<Vec<_>>()
        .join(" ")
}

/// The spare paper at the strip's end is cut off where the last panel ends: flush with the folds below it only where that
/// panel is as wide as the others, else at its own width from its fold.
#[test]
fn the_last_cut_is_measured_where_the_end_has_a_width_of_its_own() {
    for (ends, told) in [
        ("", "flush with the other folds"),
        (
            "ends = { first = \"107 mm\" }",
            "flush with the other folds",
        ),
        (
            "ends = { last = \"82 mm\" }",
            "cut at 82.0 mm from fold 7 | 8",
        ),
        (
            "ends = { first = \"90 mm\", last = \"107.25 mm\" }\nreads = \"right-to-left\"",
            "cut at 107.25 mm from fold 7 | 8",
        ),
    ] {
        for sheets in ["", SRA3] {
            let words = all_words(&book(A6, 8, ends, sheets).guide(&[]));
            assert!(words.contains(told), "{ends}: {words}");
            let flush = words.contains("flush with the other folds");
            assert_eq!(flush, !told.starts_with("cut"), "{ends}: {words}");
        }
    }
    // Of two panels the one lies upon the other, and only equal ones end alike.
    let words = |ends| all_words(&book(A6, 2, ends, "").guide(&[]));
    assert!(words("").contains("flush with front 1"));
    let told = "cut at 105.0 mm from fold 1 | 2";
    let first = words("ends = { first = \"107 mm\" }");
    assert!(first.contains(told), "{first}");
}

/// Around an end of a strip that is turned head to foot, heads lie at opposite edges: 148 − 20 = 128.
#[test]
fn a_motif_around_the_end_is_told_from_both_heads() {
    let book = book(A6, 17, "turned = \"head-to-foot\"", AROUND);
    let guide = book.guide(&[]);
    let words = all_words(&guide);
    let told = "the right edge of front 17 meets the right edge of back 17, from 20 to 70 mm below the head of front 17, which is \
                from 78 to 128 mm below the head of back 17.";
    assert!(words.contains(told), "{words}");
}

/// The file shows the very words that were set, and the same book gives the same bytes.
#[test]
fn the_file_shows_its_words_and_is_the_same_twice() {
    let make = || {
        book(
            A6,
            8,
            "cover = \"wrapper\"\nthickness = \"0.24 mm\"",
            &format!("{OVER}{SRA3}"),
        )
    };
    let (one, other) = (make(), make());
    let remarks = remarks();
    let bytes = folding_guide(&one.guide(&remarks)).unwrap();
    assert!(bytes == folding_guide(&other.guide(&remarks)).unwrap());
    // Another parser's reading of the page's text.
    let document = lopdf::Document::load_mem(&bytes).unwrap();
    let guide = one.guide(&remarks);
    let folded = |words: &str| words.split_whitespace().collect::<String>();
    for (at, page) in pages(&guide).iter().enumerate() {
        let text = folded(&document.extract_text(&[at as u32 + 1]).unwrap());
        for line in labels(page) {
            assert!(
                text.contains(&folded(&line.text)),
                "page {}: {}",
                at + 1,
                line.text
            );
        }
    }
}
