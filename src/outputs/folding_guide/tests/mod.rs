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
    for (name, book) in books() {
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

/// The words of a row, from left to right, each with its right edge.
type Row = Vec<(String, Length)>;

/// What the tables of a guide say, by the words of their rows: those labels of a page that stand on one baseline.
fn rows(guide: &Guide<'_>) -> Vec<Row> {
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
    for (name, book) in books() {
        let rows = rows(&book.guide(&[]));
        let count = book.plan.paper.panels.per_side;
        let tabs = tabs(&rows);
        let mut seen = Vec::new();
        let mut sheet = (1, 1, count);
        let mut columns = [None, None];
        for row in &rows {
            if let Some(heading) = sheet_heading(row) {
                sheet = heading;
                columns = [None, None];
            }
            let Some(told) = ToldFold::read(row) else {
                continue;
            };
            told.check(name, &book, sheet, &tabs);
            told.check_column(name, &mut columns);
            seen.push(told.fold);
        }
        seen.sort_unstable();
        // Hinges have no tab, so no sheet has their folds.
        let hinged = |k: &u16| {
            let mut joins = book.sheets.joins.iter();
            tabs.is_empty() && joins.any(|join| join.after.number == *k)
        };
        let all: Vec<u16> = (1..count).filter(|k| !hinged(k)).collect();
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

/// Which sheet has the tab of which fold, by the table of joins: sheet 2, behind front 4.
fn tabs(rows: &[Row]) -> Vec<(u16, u16)> {
    let is_join = |row: &&Row| {
        row.len() >= 4 && row[2].0.starts_with("sheet ") && row[3].0.starts_with("front ")
    };
    let joins = rows.iter().filter(is_join);
    joins
        .map(|row| (number(&row[2].0), number(&row[3].0)))
        .collect()
}

/// The sheet that a heading speaks of, with its first and its last front panel, if a row is one.
fn sheet_heading(row: &Row) -> Option<(u16, u16, u16)> {
    let (words, _) = row.first()?;
    let (heading, panels) = words.split_once(": front ")?;
    let sheet = match heading {
        "The sheet" => 1,
        _ => number(heading.strip_prefix("Sheet ")?),
    };
    let (from, to) = panels.split_once(" to front ").unwrap_or((panels, panels));
    Some((sheet, from.parse().unwrap(), to.parse().unwrap()))
}

/// What a row of a guide tells of a fold.
struct ToldFold {
    /// The front panel before it.
    fold: u16,
    kind: FoldKind,
    /// How far it lies from its sheet's edge, in millimetres.
    along: f64,
    /// Where the column of that number ends.
    edge: Length,
    has_tab: bool,
}

impl ToldFold {
    fn read(row: &Row) -> Option<ToldFold> {
        let (fold, after) = row.first()?.0.split_once(" | ")?;
        let kinds = [FoldKind::Mountain, FoldKind::Valley];
        let (word, _) = row.get(1)?;
        let kind = kinds.into_iter().find(|kind| kind.word() == word)?;
        assert_eq!(number(after), number(fold) + 1);
        Some(ToldFold {
            fold: number(fold),
            kind,
            along: row[2].0.parse().unwrap(),
            edge: row[2].1,
            has_tab: row.get(3).is_some_and(|(words, _)| words == "its tab"),
        })
    }

    /// Its kind, its place and whether it is its tab's, against the plan; `sheet` is the number of its sheet and that
    /// sheet's first and last front panel.
    fn check(&self, name: &str, book: &Book, sheet: (u16, u16, u16), tabs: &[(u16, u16)]) {
        let (number, first, last) = sheet;
        let (fold, paper) = (self.fold, &book.plan.paper);
        // An odd fold is as the first one, an even one the other way.
        let kind = match fold % 2 {
            1 => paper.first_fold,
            _ => paper.first_fold.other(),
        };
        assert_eq!(self.kind, kind, "{name}: {fold}");
        let width = |panel: u16| match panel {
            1 => paper.ends.first.as_mm(),
            _ if panel == paper.panels.per_side => paper.ends.last.as_mm(),
            _ => paper.panel_width.as_mm(),
        };
        // A tab at the edge that is measured from goes behind the panel before the sheet's first.
        let doubled = book.plan.sheets.join == crate::names::JoinKind::Doubled;
        let begins = match tabs.contains(&(number, first - 1)) {
            true if doubled => width(first - 1),
            true => book.plan.sheets.tab.as_mm(),
            false => 0.0,
        };
        let along: f64 = (first..=fold).map(width).sum::<f64>() + begins;
        assert!(
            (self.along - along).abs() < 0.006,
            "{name}: {fold} at {}, not {along}",
            self.along
        );
        let has_tab = fold + 1 == first || fold == last;
        assert_eq!(self.has_tab, has_tab, "{name}: {fold}");
    }

    /// That it stands in the column of its kind: `columns` is where that of mountains and that of valleys ends.
    fn check_column(&self, name: &str, columns: &mut [Option<Length>; 2]) {
        let column = &mut columns[usize::from(self.kind == FoldKind::Valley)];
        // The column is where the first of its kind stands; a table that goes on may stand elsewhere.
        let known = *column.get_or_insert(self.edge);
        let drift = (known - self.edge).units().abs();
        assert!(
            drift < 10 || drift > Length::mm(100).units(),
            "{name}: {} stands out of line",
            self.fold
        );
        // What is scored from the front stands in the column at the left.
        if let [Some(front), Some(back)] = *columns {
            let apart = back - front;
            assert!(
                apart > Length::ZERO || apart < -Length::mm(100),
                "{name}: {} is scored on the wrong side",
                self.fold
            );
        }
    }
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
