//! Where pictures stand, and how panels of different roles follow each other.

use versefold::division::{PanelFacts, PictureFacts};
use versefold::names::Role;
use versefold::plan::{PictureOrder, PictureWith, SharedPanels, ShowThrough, StaysWithin};

use super::{Book, Breach};
use crate::division::brute::Carried;

/// The picture's first panel minus the panel of its words lies in the picture's window; a picture without words
/// has no distance.
pub(super) fn picture_comes(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    for (index, picture) in book.problem.pictures.iter().enumerate() {
        let words = picture.word_row.map(|row| book.panel_of(row));
        if let (Some(stands), Some(words), Some(window)) =
            (book.stands(index), words, picture.comes)
        {
            let distance = stands as i64 - words as i64;
            let nearest = distance.clamp(window.soonest.into(), window.latest.into());
            let off = distance.abs_diff(nearest);
            found.add(off > 0, 40 * off);
        }
    }
    found
}

/// No panel has both words and a picture, or no picture with a name stands without words.
pub(super) fn shared_panels(book: Book<'_>) -> Breach {
    let wrong = |panel: &Carried| match book.problem.rules.shared_panels {
        SharedPanels::Allowed => false,
        SharedPanels::Never => panel.role == Role::Shared,
        SharedPanels::Always => panel.role == Role::Picture && panel.picture.is_some(),
    };
    let mut found = Breach::default();
    for panel in book.panels {
        found.add(wrong(panel), 100);
    }
    found
}

/// The spread of the picture's first panel minus that of the panel of its words is 0 or 1.
pub(super) fn picture_with(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    let spread = |panel: usize| book.problem.panels[panel].spread as i64;
    for (index, picture) in book.problem.pictures.iter().enumerate() {
        let words = picture.word_row.map(|row| book.panel_of(row));
        if let (Some(stands), Some(words), Some(with)) = (book.stands(index), words, picture.with) {
            let asked = match with {
                PictureWith::SameSpread => 0,
                PictureWith::NextSpread => 1,
            };
            found.add(spread(stands) - spread(words) != asked, 120);
        }
    }
    found
}

/// The spread of the first panel of a picture that is to be seen after its words is the one after theirs.
pub(super) fn reveal(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    let spread = |panel: usize| book.problem.panels[panel].spread;
    for (index, picture) in book.problem.pictures.iter().enumerate() {
        let words = picture.word_row.map(|row| book.panel_of(row));
        if let (true, Some(stands), Some(words)) = (picture.reveal, book.stands(index), words) {
            found.add(spread(stands) != spread(words) + 1, 120);
        }
    }
    found
}

/// The side of the picture's first panel is that of the panel of its words; or it has words of their section on it, or, if
/// it has none, the last words before it are of that section, or there are none and the next ones are.
pub(super) fn stays_within(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    let rows = &book.problem.rows;
    let side = |panel: usize| book.problem.panels[panel].name.side;
    for (index, picture) in book.problem.pictures.iter().enumerate() {
        let (Some(stands), Some(row)) = (book.stands(index), picture.word_row) else {
            continue;
        };
        let text = book.text();
        let on = &book.panels[stands].rows;
        let mut here: Vec<usize> = text
            .iter()
            .copied()
            .filter(|row| on.contains(row))
            .collect();
        if here.is_empty() {
            let above = text.iter().copied().rfind(|row| *row < on.start);
            here.extend(above.or_else(|| text.first().copied()));
        }
        let mut sections = here.into_iter().map(|row| rows[row].section).peekable();
        let outside = match book.problem.rules.stays_within {
            None => false,
            Some(StaysWithin::Side) => side(stands) != side(book.panel_of(row)),
            Some(StaysWithin::Section) => {
                sections.peek().is_some() && !sections.any(|section| section == rows[row].section)
            }
        };
        found.add(outside, 100);
    }
    found
}

/// No panel of words lies behind one with a heavy picture: of the part, which breaks the rule, or of others, which only
/// costs as much.
pub(super) fn show_through(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    if book.problem.rules.show_through == ShowThrough::Allowed {
        return found;
    }
    let words = |panel: &Carried| [Role::Title, Role::Text, Role::Shared].contains(&panel.role);
    let heavy = |panel: &Carried| {
        let picture = panel.picture.map(|at| &book.problem.pictures[at]);
        picture.is_some_and(|picture| picture.heavy)
    };
    for (panel, facts) in book.panels.iter().zip(&book.problem.panels) {
        let other = facts.behind.map(|other| &book.panels[other]);
        found.add(words(panel) && other.is_some_and(heavy), 100);
        let others = words(panel) && facts.back.heavy || heavy(panel) && facts.back.words;
        let both = words(panel) && facts.back.heavy && heavy(panel) && facts.back.words;
        found.allow(100 * (u64::from(others) + u64::from(both)));
    }
    found
}

/// A picture stands on the spread of its words, on any of its panels; or 20 for each spread from theirs to its first, 40
/// for each from its last to theirs, as the part's panels are leafed through; and then 60 for each turn of the strip
/// and each heading between.
pub(super) fn nearness(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    if !book.problem.rules.nearness {
        return found;
    }
    let panels = &book.problem.panels;
    let steps = |from: usize, to: usize| panels[from..=to].windows(2);
    let section = |place: usize| book.problem.rows[place.max(1) - 1].section as u64;
    for (index, picture) in book.problem.pictures.iter().enumerate() {
        let (Some(first), Some(row)) = (book.stands(index), picture.word_row) else {
            continue;
        };
        let last = first + picture.spans - 1;
        let words = book.panel_of(row);
        let (from, to, each, headings) = if words < first {
            let seen = section(book.panels[first].rows.end);
            (words, first, 20, seen - section(row + 1))
        } else if words > last {
            let seen = section(book.panels[last].rows.end);
            (last, words, 40, section(row + 1) - seen)
        } else {
            continue;
        };
        let spreads: usize = steps(from, to)
            .map(|pair| pair[0].spread.abs_diff(pair[1].spread))
            .sum();
        let turns = steps(from, to).filter(|pair| pair[0].name.side != pair[1].name.side);
        let turns = turns.count() as u64;
        found.add(spreads > 0, each * spreads as u64 + 60 * (turns + headings));
    }
    found
}

/// Unless their order is free, pictures of earlier words stand before a pinned one, those of later words behind it, unless it has too few panels for
/// them before or behind it.
pub(super) fn picture_order(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    let pictures = &book.problem.pictures;
    if book.problem.rules.picture_order == PictureOrder::Free {
        return found;
    }
    for (pin, pinned) in pictures.iter().enumerate() {
        let (Some(_), Some(first), false) = (pinned.word_row, pinned.panel, pinned.queued) else {
            continue;
        };
        let room = |panels: &[PanelFacts]| {
            let free = panels.iter().filter(|panel| panel.picture.is_none());
            let free = free.filter(|panel| {
                [None, Some(Role::Shared), Some(Role::Picture)].contains(&panel.role)
            });
            free.count()
        };
        let spans = |pictures: &[PictureFacts]| -> usize {
            pictures
                .iter()
                .map(|picture| if picture.queued { picture.spans } else { 0 })
                .sum()
        };
        let last = first + pinned.spans - 1;
        let panels = &book.problem.panels;
        if spans(&pictures[..pin]) > room(&panels[..first])
            || spans(&pictures[pin + 1..]) > room(&panels[last + 1..])
        {
            continue;
        }
        for index in (0..pictures.len()).filter(|index| pictures[*index].queued) {
            if let Some(stands) = book.stands(index) {
                found.add((index < pin) != (stands < first), 100);
            }
        }
    }
    found
}

/// The lengths of the runs of a role in a list.
fn runs(roles: &[Role], role: Role) -> Vec<u64> {
    let runs = roles.split(|other| *other != role);
    runs.map(|run| run.len() as u64).collect()
}

/// No more text panels in a row, in a part with pictures; blank panels left aside.
pub(super) fn text_in_a_row(book: Book<'_>) -> Breach {
    let most = u64::from(book.problem.rules.text_in_a_row);
    let roles = book.panels.iter().map(|panel| panel.role);
    let roles: Vec<Role> = roles.filter(|role| *role != Role::Blank).collect();
    let mut found = Breach::default();
    for run in runs(&roles, Role::Text) {
        found.add(
            book.has_pictures() && run > most,
            100 * run.saturating_sub(most),
        );
    }
    found
}

/// No more picture panels in a row, blank panels and those on which a picture only goes on left aside.
pub(super) fn pictures_in_a_row(book: Book<'_>) -> Breach {
    let most = u64::from(book.problem.rules.pictures_in_a_row);
    let panels = (0..book.panels.len()).filter(|&panel| !book.picture_goes_on(panel));
    let roles = panels.map(|panel| book.panels[panel].role);
    let roles: Vec<Role> = roles.filter(|role| *role != Role::Blank).collect();
    let mut found = Breach::default();
    for run in runs(&roles, Role::Picture) {
        found.add(run > most, 100 * run.saturating_sub(most));
    }
    found
}

/// The last panel that is not blank has the role, if there is such a panel and, for a role with a picture, if
/// there is a picture. Asked for blank, the last panel is.
pub(super) fn ends_with(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    let Some(asked) = book.problem.rules.ends_with else {
        return found;
    };
    let mut roles = book.panels.iter().rev().map(|panel| panel.role);
    let last = match asked {
        Role::Blank => roles.next(),
        _ => roles.find(|role| *role != Role::Blank),
    };
    let asks = book.has_pictures() || !asked.has_picture();
    found.add(asks && last.is_some_and(|role| role != asked), 80);
    found
}

/// Of the last spread with a panel that is not blank, all panels that are not have the role, if there is such a spread
/// and, for a role with a picture, if there is a picture. Asked for blank, all panels of the last spread are.
pub(super) fn last_spread(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    let Some(asked) = book.problem.rules.last_spread else {
        return found;
    };
    let panels: Vec<_> = book.problem.panels.iter().zip(book.panels).collect();
    let spreads = panels.chunk_by(|one, next| one.0.spread == next.0.spread);
    let printed = |spread: &[(&PanelFacts, &Carried)]| -> Vec<Role> {
        let roles = spread.iter().map(|panel| panel.1.role);
        roles.filter(|role| *role != Role::Blank).collect()
    };
    let spreads: Vec<Vec<Role>> = spreads.map(printed).collect();
    let last = match asked {
        Role::Blank => spreads.last(),
        _ => spreads.iter().rfind(|spread| !spread.is_empty()),
    };
    let asks = book.has_pictures() || !asked.has_picture();
    let wrong = last.is_some_and(|last| last.iter().any(|role| *role != asked));
    found.add(asks && wrong, 80);
    found
}
