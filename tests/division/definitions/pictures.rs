//! Where pictures stand, and how panels of different roles follow each other.

use versefold::names::Role;
use versefold::plan::{BlanksAt, PictureWith, SharedPanels};

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

/// No panel has both words and a picture, or no picture stands without words.
pub(super) fn shared_panels(book: Book<'_>) -> Breach {
    let wrong = |panel: &Carried| match book.problem.rules.shared_panels {
        SharedPanels::Allowed => false,
        SharedPanels::Never => panel.role == Role::Shared,
        SharedPanels::Always => panel.role == Role::Picture,
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
