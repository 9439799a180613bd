//! Pictures without a name: how many there are, and where they stand.

use versefold::division::{Ending, Problem};
use versefold::names::Role;
use versefold::plan::Pace;

use super::{Book, Breach};

/// How many pictures the part has that have a name, pinned elsewhere or nowhere to be placed left out.
fn named(problem: &Problem) -> u64 {
    let mut count = 0;
    for picture in &problem.pictures {
        if picture.queued || picture.panel.is_some() {
            count += 1;
        }
    }
    count
}

/// How many pictures without a name the part shall have: what the number asked for the body leaves.
pub fn asked(problem: &Problem) -> u64 {
    match problem.body {
        true => u64::from(problem.rules.pictures).saturating_sub(named(problem)),
        false => 0,
    }
}

/// The panels of pictures without a name.
fn panels(book: Book<'_>) -> Vec<usize> {
    let all = 0..book.panels.len();
    let unnamed = |panel: &usize| {
        let carried = &book.panels[*panel];
        carried.role == Role::Picture && carried.picture.is_none()
    };
    all.filter(unnamed).collect()
}

/// As many pictures without a name as are asked.
pub(super) fn pictures(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    let off = asked(book.problem).abs_diff(panels(book).len() as u64);
    found.add(off > 0, 100 * off);
    found
}

/// Between the first panels of pictures, before the first and behind the last stand about as many panels with words as
/// words should take, shared out among all these stretches. A panel that a picture shares stands before it.
pub(super) fn pace(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    let problem = book.problem;
    let asked = asked(problem);
    if problem.rules.pace == Pace::Free || asked == 0 {
        return found;
    }
    let mut lengths = vec![0];
    for (index, panel) in book.panels.iter().enumerate() {
        if matches!(panel.role, Role::Text | Role::Shared) {
            *lengths.last_mut().expect("there is one") += 1;
        }
        if panel.role.has_picture() && !book.picture_goes_on(index) {
            lengths.push(0);
        }
    }
    let mean = (problem.word_panels as u64, named(problem) + asked + 1);
    for length in lengths {
        let cost = off_the_mean(length, mean);
        found.add(cost > 0, cost);
    }
    found
}

/// The square of the tenths that a stretch is off the mean, so many panels on so many stretches: tenths of it, or of a panel if
/// it is less than one. From three times the mean on, each panel costs what the one before cost for making it too long.
fn off_the_mean(length: u64, (panels, stretches): (u64, u64)) -> u64 {
    let square = |length: u64| {
        let off = (length * stretches).abs_diff(panels);
        let tenths = 10 * off / panels.max(stretches);
        tenths * tenths
    };
    let mut longest = 1;
    while longest * stretches < 3 * panels {
        longest += 1;
    }
    if length <= longest {
        return square(length);
    }
    let before = longest - 1;
    let too_long = if before * stretches < panels {
        0
    } else {
        square(before)
    };
    square(longest) + (length - longest) * (square(longest) - too_long)
}

/// Each picture without a name stands at the end of a section, or else of a stanza or paragraph.
pub(super) fn pictures_between(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    let rows = &book.problem.rows;
    for panel in panels(book) {
        let at = book.panels[panel].rows.start;
        let text = book.text();
        let Some(below) = text.iter().find(|row| **row >= at) else {
            continue;
        };
        let below = &rows[*below];
        let above = text.iter().rfind(|row| **row < at);
        let Some(above) = above.filter(|row| **row >= book.problem.opening) else {
            found.add(true, 100);
            continue;
        };
        let above = &rows[*above];
        let ends = above.ending == Ending::Sentence;
        let one = (above.verse && below.verse) || (above.prose && below.prose);
        if one && above.block == below.block {
            found.add(true, if ends { 70 } else { 100 });
        } else if above.section == below.section {
            found.allow(if ends { 20 } else { 35 });
        }
    }
    found
}

/// Words stand on the spread of each picture without a name, before it.
pub(super) fn pictures_beside(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    for panel in panels(book) {
        let spread = |at: usize| book.problem.panels[at].spread;
        let beside = (0..panel).filter(|&at| spread(at) == spread(panel));
        // A face that comes again later is another spread by then.
        let together = beside.filter(|&at| (at..panel).all(|on| spread(on) == spread(panel)));
        let mut roles = together.map(|at| book.panels[at].role);
        found.add(!roles.any(Role::has_words), 20);
    }
    found
}
