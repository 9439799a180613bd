//! How words are divided, and how full panels are.

use versefold::division::{Cost, Ending};
use versefold::names::Role;
use versefold::plan::{EachPanel, PanelEnd, Percent, RuleName, Undivided};

use super::{Book, Breach};
use crate::division::brute::Carried;

/// Whole percentage points between a share and what is asked.
fn points_off((used, capacity): (u64, u64), asked: Percent) -> u64 {
    let apart = (used * 100).abs_diff(u64::from(asked.0) * capacity);
    (1..=apart)
        .take_while(|points| points * capacity <= apart)
        .count() as u64
}

fn off_cost(points: u64) -> Cost {
    points * points / 10
}

pub(super) fn fullest(book: Book<'_>) -> Breach {
    let most = book.problem.rules.fullest;
    let mut found = Breach::default();
    for (panel, _) in book.with_words() {
        let (used, capacity) = book.share(panel);
        let over = used * 100 > u64::from(most.0) * capacity;
        found.add(over, off_cost(points_off((used, capacity), most)));
    }
    found
}

pub(super) fn emptiest(book: Book<'_>) -> Breach {
    let least = book.problem.rules.emptiest;
    let mut found = Breach::default();
    for (panel, _) in book.with_words() {
        let (used, capacity) = book.share(panel);
        let under = used * 100 < u64::from(least.0) * capacity;
        found.add(under, off_cost(points_off((used, capacity), least)));
    }
    found
}

/// Stanzas of two or three lines, captions not counted, stand on one panel: each two lines next to each other do,
/// unless the author divides between.
pub(super) fn couplets(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    for stanza in book.stanzas().iter().filter(|stanza| stanza.len() <= 3) {
        let parted = book.partings().into_iter();
        let within =
            parted.filter(|(above, below)| stanza.contains(above) && stanza.contains(below));
        let times = within.filter(|parting| !book.author_divides(*parting));
        times.for_each(|_| found.add(true, 160));
    }
    found
}

/// What one `[keep together]` holds stands on one panel, whatever its role; captions as all else.
pub(super) fn keep_together(book: Book<'_>) -> Breach {
    let rows = &book.problem.rows;
    let mut found = Breach::default();
    for row in book.divisions() {
        found.add(
            rows[row].kept.is_some() && rows[row].kept == rows[row - 1].kept,
            160,
        );
    }
    found
}

/// A panel ends at each `[new panel]`.
pub(super) fn new_panel(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    for row in (1..book.problem.rows.len()).filter(|&row| book.problem.rows[row].new_panel) {
        found.add(book.panel_of(row) == book.panel_of(row - 1), 100);
    }
    found
}

/// Stanzas, or sentences, are not divided but where the author does it: words next to each other, captions left out, stand
/// on one panel. Where a title ends its panel, no sentence ends. A stanza that no panel has room for may be divided, unless
/// the author says that none may; and so may any where a pin has a panel begin.
pub(super) fn undivided(book: Book<'_>) -> Breach {
    let rows = &book.problem.rows;
    let stanzas = book.stanzas();
    let mut found = Breach::default();
    for (above, below) in book.partings() {
        if book.author_divides((above, below)) {
            continue;
        }
        let title = book.panels[book.panel_of(above)].role == Role::Title;
        let may_divide = rows[above + 1..=below].iter().any(|row| row.may_divide);
        let ending = rows[above].ending;
        let stanza = stanzas
            .iter()
            .find(|stanza| stanza.contains(&above) && stanza.contains(&below));
        let (divided, cost) = match (book.problem.rules.undivided, stanza) {
            (Undivided::Line, _) | (Undivided::Stanza, None) => continue,
            (Undivided::Stanza, Some(stanza)) => {
                let cost = match (ending, stanza.len()) {
                    (Ending::RunsOn, ..=8) => 60,
                    (_, ..=8) => 160,
                    (Ending::Sentence, _) => 60,
                    (Ending::Pause, _) => 110,
                    (Ending::RunsOn, _) => 160,
                };
                (true, cost)
            }
            (Undivided::Sentence, _) => {
                let cost = if ending == Ending::Pause { 60 } else { 160 };
                (ending != Ending::Sentence && !title, cost)
            }
        };
        let cost = if may_divide { 20 } else { cost };
        let ends = book.panels[book.panel_of(above)].rows.end;
        let pinned = book
            .problem
            .panels
            .iter()
            .any(|panel| panel.begins == Some(ends));
        let must = book.problem.rules.weight(RuleName::Undivided).hard == Some(true);
        match stanza {
            Some(_) if book.problem.rules.undivided == Undivided::Stanza => {
                match !must && (pinned || book.is_too_long(above)) {
                    true => found.allow(cost),
                    false => found.add(true, cost),
                }
            }
            _ => found.add(divided, cost),
        }
    }
    found
}

/// Words next to each other on two panels, captions left out, are not of one paragraph, sentence or stanza, unless the
/// author divides between them; what a title ends with is not asked.
pub(super) fn panels_end(book: Book<'_>) -> Breach {
    let rows = &book.problem.rows;
    let mut found = Breach::default();
    let Some(asked) = book.problem.rules.panels_end else {
        return found;
    };
    let both = |wholes: Vec<Vec<usize>>, (above, below): (usize, usize)| {
        let mut wholes = wholes.into_iter();
        wholes.any(|whole| whole.contains(&above) && whole.contains(&below))
    };
    for parting in book.partings() {
        let (above, below) = parting;
        let within = match asked.at {
            PanelEnd::Paragraph => both(book.paragraphs(), parting),
            PanelEnd::Stanza => both(book.stanzas(), parting),
            PanelEnd::Sentence => rows[above].ending != Ending::Sentence,
        };
        let title = book.panels[book.panel_of(above)].role == Role::Title;
        let white = u64::from(asked.white.0);
        let mut cost = white * white / 10;
        if asked.at == PanelEnd::Sentence && rows[above].ending == Ending::Pause {
            cost /= 2;
        }
        if rows[above + 1..=below].iter().any(|row| row.may_divide) {
            cost = cost.min(20);
        }
        found.add(within && !title && !book.author_divides(parting), cost);
    }
    found
}

/// Each piece of a divided stanza or paragraph, its lines on one panel, has enough lines, unless only the author
/// cuts it off.
pub(super) fn fewest_lines(book: Book<'_>) -> Breach {
    let fewest = book.problem.rules.fewest_lines as usize;
    let mut found = Breach::default();
    for whole in book.stanzas().into_iter().chain(book.paragraphs()) {
        for panel in 0..book.panels.len() {
            let here = |row: &usize| book.panel_of(*row) == panel;
            if !whole.iter().any(here) {
                continue;
            }
            let mut neighbours = whole.windows(2).map(|pair| (pair[0], pair[1]));
            let cut = neighbours.any(|(above, below)| {
                here(&above) != here(&below) && !book.author_divides((above, below))
            });
            found.add(cut && book.lines_on(panel, &whole) < fewest, 100);
        }
    }
    found
}

/// What an ordinary panel of words carries; captions are no lines.
pub(super) fn each_panel(book: Book<'_>) -> Breach {
    let wholes: Vec<Vec<usize>> = book
        .stanzas()
        .into_iter()
        .chain(book.paragraphs())
        .collect();
    let mut found = Breach::default();
    for (index, panel) in book.with_words() {
        let here = |whole: &&Vec<usize>| whole.iter().any(|row| panel.rows.contains(row));
        let (off, cost) = match book.problem.rules.each_panel {
            EachPanel::Free => (0, 0),
            EachPanel::Stanzas(asked) => {
                let here = wholes.iter().filter(here).count() as u64;
                let off = here.abs_diff(u64::from(asked));
                (off, 90 * off)
            }
            EachPanel::Lines(asked) => {
                let lines: usize = wholes.iter().map(|whole| book.lines_on(index, whole)).sum();
                let off = (lines as u64).abs_diff(u64::from(asked));
                (off, 10 * off * off)
            }
        };
        found.add(off > 0, cost);
    }
    found
}

/// The four fullnesses. A panel answers to one: to its own where a pin asks it, under its role's name; else
/// to that of the panel where the body's first words stand, headings and captions aside, or where its last words
/// that are no caption stand; else to its role's.
pub(super) fn fullness(book: Book<'_>, name: RuleName) -> Breach {
    let rules = &book.problem.rules;
    let text = book.text();
    let last = text.last();
    let first = text.iter().find(|row| **row >= book.problem.opening);
    let first = first.or(last);
    let stands = |row: Option<&usize>, on: &Carried| row.is_some_and(|row| on.rows.contains(row));
    let mut found = Breach::default();
    for (index, panel) in book.with_words() {
        let by_role = match panel.role {
            Role::Shared => (RuleName::SharedFullness, rules.shared_fullness),
            _ => (RuleName::TextFullness, rules.text_fullness),
        };
        let body = book.problem.body;
        let (rule, asked) = match book.problem.panels[index].fullness {
            Some(pinned) => (by_role.0, pinned),
            None if body && stands(first, panel) => (RuleName::FirstFullness, rules.first_fullness),
            None if body && stands(last, panel) => (RuleName::LastFullness, rules.last_fullness),
            None => by_role,
        };
        if rule == name {
            let off = points_off(book.share(index), asked);
            found.add(off > 0, off_cost(off));
        }
    }
    found
}

/// A panel's fullness in whole percentage points: the most that do not make more than its share.
fn points(book: Book<'_>, panel: usize) -> u64 {
    let (used, capacity) = book.share(panel);
    let mut points = (0..=used * 100).rev();
    points
        .find(|&points| points * capacity <= used * 100)
        .unwrap_or(0)
}

/// Two panels next to each other on one spread, both of words alone or both of words and a picture, are as full.
pub(super) fn even_spreads(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    let panels = &book.problem.panels;
    for next in 1..if book.problem.rules.even_spreads {
        panels.len()
    } else {
        0
    } {
        let roles = [next - 1, next].map(|panel| book.panels[panel].role);
        let alike = [Role::Text, Role::Shared].map(|role| roles == [role, role]);
        if panels[next - 1].spread == panels[next].spread && alike.contains(&true) {
            let apart = points(book, next - 1).abs_diff(points(book, next));
            found.add(apart > 0, off_cost(apart));
        }
    }
    found
}

/// Each text panel is as full as the text panel before it, in whole percentage points.
pub(super) fn even_fullness(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    if !book.problem.rules.even_fullness {
        return found;
    }
    let text = |index: &usize| book.panels[*index].role == Role::Text;
    let text: Vec<usize> = (0..book.panels.len()).filter(text).collect();
    for pair in text.windows(2) {
        let apart = points(book, pair[0]).abs_diff(points(book, pair[1]));
        found.add(apart > 0, off_cost(apart));
    }
    found
}
