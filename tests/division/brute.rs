//! Every division of a small book, each weighed as a whole by what the rules mean.
//!
//! Nothing here knows how the search goes about it. A book is a list of panels; each rule is a sentence
//! about such a list, as the table of rules in `README.md` of rules puts it.

use std::cmp::Reverse;
use std::ops::Range;

use versefold::division::{AreaFacts, Cost, Problem};
use versefold::names::Role;
use versefold::plan::{PictureOrder, RuleName};

use super::definitions;

/// What one panel carries.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Carried {
    pub role: Role,
    pub rows: Range<usize>,
    pub picture: Option<usize>,
}

/// The text area that words on a panel stand in.
pub fn area(problem: &Problem, panel: usize, carried: &Carried) -> Option<AreaFacts> {
    let facts = &problem.panels[panel];
    match (carried.role, carried.picture) {
        (Role::Shared, Some(picture)) => facts.shared[picture],
        // A picture alone has words only where captions stand under it.
        (Role::Picture, Some(picture)) if !carried.rows.is_empty() => facts.shared[picture],
        (Role::Title | Role::Text, _) => facts.area,
        _ => None,
    }
}

/// The best division under some rules.
#[derive(Clone, Debug, PartialEq)]
pub struct Best {
    pub cost: Cost,
    pub book: Vec<Carried>,
}

/// Among books of one cost: the later its panels end, from the first on, the better; then by roles; then by
/// pictures.
pub type Rank = (Vec<Reverse<usize>>, Vec<Role>, Vec<Option<usize>>);

pub fn rank(book: &[Carried]) -> Rank {
    (
        book.iter().map(|panel| Reverse(panel.rows.end)).collect(),
        book.iter().map(|panel| panel.role).collect(),
        book.iter().map(|panel| panel.picture).collect(),
    )
}

/// Tries every division, and gives the best under each list of rules made soft; nothing for a list under
/// which no division keeps the rest. Gives up past `most` divisions.
pub fn best(problem: &Problem, softs: &[&[RuleName]], most: usize) -> Option<Vec<Option<Best>>> {
    let mut found: Vec<Option<Best>> = vec![None; softs.len()];
    let mut count = 0;
    let mut each = |book: &[Carried]| {
        count += 1;
        for (soft, best) in softs.iter().zip(&mut found) {
            let Some(cost) = definitions::cost(problem, book, soft) else {
                continue;
            };
            let better = best.as_ref().is_none_or(|known| {
                cost < known.cost || cost == known.cost && rank(book) < rank(&known.book)
            });
            if better {
                let book = book.to_vec();
                *best = Some(Best { cost, book });
            }
        }
        count < most
    };
    walk(problem, &mut Vec::new(), &mut each).then_some(found)
}

/// Every division that keeps the hard rules, with its cost. Nothing where there are more than `most` divisions.
pub fn all(problem: &Problem, most: usize) -> Option<Vec<Best>> {
    let mut found = Vec::new();
    let mut count = 0;
    let mut each = |book: &[Carried]| {
        count += 1;
        let book = book.to_vec();
        if let Some(cost) = definitions::cost(problem, &book, &[]) {
            found.push(Best { cost, book });
        }
        count < most
    };
    walk(problem, &mut Vec::new(), &mut each).then_some(found)
}

/// Goes through all ways to go on from the panels so far; false where `each` wanted no more.
fn walk(
    problem: &Problem,
    book: &mut Vec<Carried>,
    each: &mut impl FnMut(&[Carried]) -> bool,
) -> bool {
    if book.len() == problem.panels.len() {
        return !is_whole(problem, book) || each(book);
    }
    for role in Role::PINNABLE {
        for picture in std::iter::once(None).chain((0..problem.pictures.len()).map(Some)) {
            let from = book.last().map_or(0, |panel| panel.rows.end);
            for to in from..=problem.rows.len() {
                let rows = from..to;
                let carried = Carried {
                    role,
                    rows,
                    picture,
                };
                if !may_carry(problem, book, &carried) {
                    continue;
                }
                book.push(carried);
                let on = walk(problem, book, each);
                book.pop();
                if !on {
                    return false;
                }
            }
        }
    }
    true
}

/// Whether all words and all pictures have been placed, each picture on as many panels as it spans.
fn is_whole(problem: &Problem, book: &[Carried]) -> bool {
    let stands = |picture: usize| {
        let on = book.iter().filter(|panel| panel.picture == Some(picture));
        on.count() == problem.pictures[picture].spans
    };
    book.last()
        .is_some_and(|panel| panel.rows.end == problem.rows.len())
        && (0..problem.pictures.len()).all(|picture| {
            let facts = &problem.pictures[picture];
            !(facts.queued || facts.panel.is_some()) || stands(picture)
        })
}

/// Whether the next panel may carry this, whatever the rules say: its pins, its size, the order of things.
fn may_carry(problem: &Problem, book: &[Carried], carried: &Carried) -> bool {
    let facts = &problem.panels[book.len()];
    let rows = &carried.rows;
    let pinned = facts.role.is_none_or(|role| role == carried.role)
        && facts
            .picture
            .is_none_or(|_| carried.picture == facts.picture)
        && facts
            .begins
            .is_none_or(|row| !rows.is_empty() && rows.start == row)
        && facts.ends.is_none_or(|place| rows.end == place);
    // A caption stands on a panel of its picture, and nowhere else.
    let is_caption = |row: usize| problem.rows[row].caption.is_some();
    let mut captions = rows.clone().filter(|&row| is_caption(row));
    let with_picture = captions.all(|row| problem.rows[row].caption == carried.picture);
    let role = match carried.role {
        // A panel of words has some that are no caption.
        Role::Text => rows.clone().any(|row| !is_caption(row)),
        Role::Shared => {
            rows.clone().any(|row| !is_caption(row))
                && carried
                    .picture
                    .is_some_and(|picture| has_room(problem, book.len(), picture))
        }
        // A picture has no words beside it but captions.
        Role::Picture => rows.clone().all(is_caption),
        // The headings that open the part, where no panel has them yet; else the plan's title.
        Role::Title => {
            let headings = if rows.start == 0 {
                0..problem.opening
            } else {
                rows.start..rows.start
            };
            facts.role == Some(Role::Title) && *rows == headings
        }
        _ => rows.is_empty(),
    };
    let words = !rows.is_empty() && carried.role != Role::Title;
    let joined = rows.end < problem.rows.len() && problem.rows[rows.end].joined;
    let torn = words && (joined || !ends_a_line(problem, book.len(), carried));
    pinned
        && role
        && with_picture
        && !torn
        && (carried.role.has_picture() == carried.picture.is_some() || is_unnamed(problem, carried))
        && is_next(problem, book, carried.picture)
        && (!(carried.role.has_words() || words) || fits(problem, book.len(), carried))
}

/// Whether this is a picture without a name, in a part that asks for some.
fn is_unnamed(problem: &Problem, carried: &Carried) -> bool {
    carried.role == Role::Picture
        && carried.picture.is_none()
        && definitions::unnamed_pictures(problem) > 0
}

/// Whether words may stand beside a picture: it leaves room, or the author says that they do, by a pin or by what she
/// chose.
fn has_room(problem: &Problem, panel: usize, picture: usize) -> bool {
    let facts = &problem.panels[panel];
    let chosen = facts.chosen.as_ref();
    let chosen = chosen.map(|chosen| (chosen.role, chosen.picture));
    problem.pictures[picture].leaves_room
        || facts.lets_words
        || facts.role == Some(Role::Shared)
        || chosen == Some((Role::Shared, Some(picture)))
}

/// Whether a picture may stand on the panel behind these: one that goes on from the panel before and is not yet
/// whole; else one pinned there, or the next one that waits (any, where their order is free), on the first panel of a spread if it
/// must.
fn is_next(problem: &Problem, book: &[Carried], picture: Option<usize>) -> bool {
    let placed = |other: usize| {
        book.iter()
            .filter(|panel| panel.picture == Some(other))
            .count()
    };
    let goes_on = book.last().and_then(|panel| panel.picture);
    let goes_on = goes_on.filter(|&other| placed(other) < problem.pictures[other].spans);
    let here = &problem.panels[book.len()];
    if let Some(begun) = goes_on {
        return picture == Some(begun) && here.follows;
    }
    let Some(picture) = picture else { return true };
    let facts = &problem.pictures[picture];
    let mut waiting = (0..problem.pictures.len())
        .filter(|&other| problem.pictures[other].queued && placed(other) == 0);
    if facts.queued {
        let next = match problem.rules.picture_order {
            PictureOrder::Kept => waiting.next() == Some(picture),
            PictureOrder::Free => waiting.any(|other| other == picture),
        };
        next && (!facts.whole_spread || here.opens_spread)
    } else {
        facts.panel == Some(book.len())
    }
}

/// Whether the words end where a line of a paragraph does, if they end within one; or, but for shapes, where they were
/// chosen or printed to end.
fn ends_a_line(problem: &Problem, panel: usize, carried: &Carried) -> bool {
    let rows = &carried.rows;
    let within = rows.end < problem.rows.len() && problem.rows[rows.end].inner;
    let column = area(problem, panel, carried).map(|area| area.column);
    !within
        || column.is_some_and(|column| {
            let lines = definitions::lines_of(problem, column, rows, rows.end - 1);
            let kept = [&problem.chosen_ends, &problem.printed_ends];
            let kept = kept.iter().any(|ends| ends.contains(&rows.end));
            let plain = problem.stack.columns[column].boxes.is_plain();
            lines.contains(&Some(rows.end)) || (kept && plain)
        })
}

fn fits(problem: &Problem, panel: usize, carried: &Carried) -> bool {
    area(problem, panel, carried)
        .is_some_and(|area| definitions::used(problem, area.column, &carried.rows) <= area.capacity)
}
