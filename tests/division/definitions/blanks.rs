//! Panels that stay blank.

use versefold::names::Role;
use versefold::plan::BlanksAt;

use super::{Book, Breach};

/// As many blank panels as are asked in the first run, in the last or in all, and no other. A part that would
/// have to be blank throughout is not asked.
pub(super) fn blanks(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    let panels = book.panels.len();
    let asked = book.problem.rules.blanks;
    let Some(asked) = asked.filter(|asked| panels > usize::from(asked.count)) else {
        return found;
    };
    let blank: Vec<bool> = (book.panels.iter())
        .map(|panel| panel.role == Role::Blank)
        .collect();
    let all = blank.iter().filter(|blank| **blank).count();
    let counted = match asked.at {
        BlanksAt::Start => blank.iter().position(|blank| !blank).unwrap_or(panels),
        BlanksAt::End => {
            let last = blank.iter().rposition(|blank| !blank);
            last.map_or(panels, |last| panels - 1 - last)
        }
        BlanksAt::Anywhere => all,
    };
    let off = counted.abs_diff(asked.count.into()) + (all - counted);
    found.add(off > 0, 80 * off as u64);
    found
}

/// The panel before the picture's first panel is blank, and there is one.
pub(super) fn blank_before(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    for (index, picture) in book.problem.pictures.iter().enumerate() {
        let Some(stands) = book.stands(index).filter(|_| picture.blank_before) else {
            continue;
        };
        let blank = stands > 0 && book.panels[stands - 1].role == Role::Blank;
        found.add(!blank, 80);
    }
    found
}

/// The sections of the words above and below each blank panel, captions left out.
fn around(book: Book<'_>) -> Vec<(usize, Option<usize>, Option<usize>)> {
    let text = book.text();
    let blank = (book.panels.iter().enumerate()).filter(|(_, panel)| panel.role == Role::Blank);
    let around = blank.map(|(index, panel)| {
        let at = panel.rows.start;
        let section = |row: &usize| book.problem.rows[*row].section;
        let above = text.iter().rev().find(|row| **row < at).map(section);
        (
            index,
            above,
            text.iter().find(|row| **row >= at).map(section),
        )
    });
    around.collect()
}

/// No panel is blank within a section, or before the first words, unless it is pinned so, `blanks` asks for the start, or a
/// picture of the section asks for a blank panel. In a part of several sections each behind the last words costs 1.
pub(super) fn spare_panels(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    let rows = &book.problem.rows;
    let several = rows.first().map(|row| row.section) != rows.last().map(|row| row.section);
    let at_start = book
        .problem
        .rules
        .blanks
        .is_some_and(|blanks| blanks.at == BlanksAt::Start);
    for (panel, above, below) in around(book) {
        let asks = book.problem.pictures.iter().any(|picture| {
            let row = picture.word_row.map(|row| book.problem.rows[row].section);
            picture.blank_before && row.is_some() && row == below
        });
        let pinned = book.problem.panels[panel].role == Some(Role::Blank);
        match (above, below) {
            (Some(_), None) if several => found.allow(1),
            (_, None) => {}
            (None, _) => found.add(!at_start && !asks && !pinned, 10_000),
            _ => found.add(above == below && !asks && !pinned, 10_000),
        }
    }
    found
}

/// Between the words of two sections, each blank panel but one costs 2.
pub(super) fn sections_apart(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    let mut places: Vec<usize> = Vec::new();
    for (panel, above, below) in around(book) {
        let start = book.panels[panel].rows.start;
        let before = book.problem.rows[..start].iter();
        // Captions are no words between which panels stand.
        let place = before.filter(|row| row.caption.is_none()).count();
        let apart = above.is_some() && below.is_some() && above != below;
        found.add(apart && places.contains(&place), 2);
        places.push(place);
    }
    found
}
