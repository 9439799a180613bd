//! Sections: where they begin, and what stands between them.

use versefold::names::Role;
use versefold::plan::HeadingsBegin;

use super::{Book, Breach};

/// The first word of each section but the first of the part, captions left out.
fn headings(book: Book<'_>) -> Vec<usize> {
    let section = |row: usize| book.problem.rows[row].section;
    let text = book.text();
    let pairs = text.windows(2);
    let begin = pairs.filter(|pair| section(pair[0]) != section(pair[1]));
    begin.map(|pair| pair[1]).collect()
}

/// The panels just before a panel that are of its spread.
fn before_on_spread(book: Book<'_>, panel: usize) -> Vec<usize> {
    let spread = |panel: &usize| book.problem.panels[*panel].spread;
    let before = (0..panel).rev();
    before
        .take_while(|other| spread(other) == spread(&panel))
        .collect()
}

/// Every heading but the first is the first of its panel's words; where spreads are asked for, no words stand on the
/// panels before it on its spread, nor any picture whose words are of another section.
pub(super) fn headings_begin(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    let asked = book.problem.rules.headings_begin;
    if asked == HeadingsBegin::Anywhere {
        return found;
    }
    let text = book.text();
    let section = |row: usize| book.problem.rows[row].section;
    for heading in headings(book) {
        let panel = book.panel_of(heading);
        let words_on = |panel: usize| {
            let rows = &book.panels[panel].rows;
            text.iter().filter(|row| rows.contains(row)).copied()
        };
        let below = words_on(panel).any(|row| row < heading);
        let taken = |other: usize| {
            let picture = book.panels[other].picture;
            let row = picture.and_then(|picture| book.problem.pictures[picture].word_row);
            words_on(other).next().is_some()
                || row.is_some_and(|row| section(row) != section(heading))
        };
        let mut before = before_on_spread(book, panel).into_iter();
        let late = asked == HeadingsBegin::Spread && before.any(taken);
        let cost = if asked == HeadingsBegin::Spread {
            120
        } else {
            100
        };
        found.add(below || late, cost);
    }
    found
}

/// Some blank panel stands behind the last words of each section and before the first of the next.
pub(super) fn blank_between(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    if book.problem.rules.blank_between.is_none() {
        return found;
    }
    let text = book.text();
    for heading in headings(book) {
        let above = text.iter().rev().find(|row| **row < heading);
        let from = above.map_or(0, |above| book.panel_of(*above) + 1);
        let mut between = book.panels[..book.panel_of(heading)].iter().skip(from);
        found.add(!between.any(|panel| panel.role == Role::Blank), 80);
    }
    found
}
