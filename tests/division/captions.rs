//! Captions put into random books: between blocks, or in the midst of a stanza or paragraph, which they part from
//! its rest and yet leave one.

use versefold::division::{Problem, RowFacts};
use versefold::names::{HalfLines, Role};
use versefold::plan::{RuleName, Weight};

use super::generator::{Dice, break_lines, ending, insert_row};

/// A book with up to two captions more, where it has pictures.
pub fn add(mut problem: Problem, dice: &mut Dice) -> Problem {
    let pictures = problem.pictures.iter().enumerate();
    let placed = pictures.filter(|(_, picture)| picture.queued || picture.panel.is_some());
    let placed: Vec<usize> = placed.map(|(index, _)| index).collect();
    if placed.is_empty() || problem.rows.is_empty() || dice.chance(45) {
        return problem;
    }
    for _ in 0..dice.one_of(&[1, 1, 2]) {
        let picture = dice.one_of(&placed);
        let lines = if dice.chance(15) { 2 } else { 1 };
        let at = place(&problem, dice, picture);
        (0..lines).for_each(|line| insert(&mut problem, dice, picture, at + line, line > 0));
        make_room(&mut problem, dice, picture);
    }
    if problem.rows.iter().any(|row| row.prose) {
        // Their lines name places, and those have moved.
        let rows = &problem.rows;
        let columns = problem.stack.columns.iter_mut();
        columns.for_each(|column| break_lines(dice, rows, column));
    }
    problem
}

/// Mostly a caption has some room beside its picture, and its picture some freedom: else few of these books could be
/// divided.
fn make_room(problem: &mut Problem, dice: &mut Dice, picture: usize) {
    let room = HalfLines::lines(dice.between(0, 4));
    let always = dice.chance(80);
    for panel in &mut problem.panels {
        let beside = &mut panel.shared[picture];
        if always && beside.is_none() {
            *beside = panel.area;
        }
        if let Some(area) = beside {
            area.capacity += room;
        }
    }
    let alone = dice.chance(50).then_some(Role::Picture);
    if let Some(pinned) = problem.pictures[picture].panel {
        let role = &mut problem.panels[pinned].role;
        *role = role.or(alone);
    }
    if dice.chance(60) {
        let free = Weight {
            hard: Some(false),
            importance: dice.one_of(&[0, 1, 1, 2]),
        };
        problem.rules.weights.insert(RuleName::PictureComes, free);
    }
}

/// A place for a caption, below the headings and most often near the words of its picture.
fn place(problem: &Problem, dice: &mut Dice, picture: usize) -> usize {
    let most = problem.rows.len();
    let at = match problem.pictures[picture].word_row {
        Some(words) if dice.chance(75) => words + dice.between(1, 2),
        _ => dice.between(0, most),
    };
    let at = at.clamp(problem.opening, most);
    // Not between two lines of one caption, nor above a row that the caption above it holds.
    let joined =
        |at: &usize| *at < most && problem.rows[*at].joined && problem.rows[*at].caption.is_some();
    (at..=most).find(|at| !joined(at)).unwrap_or(most)
}

fn insert(problem: &mut Problem, dice: &mut Dice, picture: usize, at: usize, joined: bool) {
    let rows = &mut problem.rows;
    let held = |row: Option<&RowFacts>| row.and_then(|row| row.kept);
    let (above, below) = (at.checked_sub(1).and_then(|at| rows.get(at)), rows.get(at));
    let kept = match dice.chance(25) {
        true => held(above).or(held(below)),
        false => held(above).filter(|_| held(above) == held(below)),
    };
    let section = above.or(below).map_or(0, |row| row.section);
    let caption = RowFacts {
        block: 100 + rows.len(),
        verse: false,
        prose: false,
        inner: false,
        joined,
        kept,
        may_divide: dice.chance(8),
        new_panel: dice.chance(4) && !joined,
        ending: ending(dice),
        too_long: false,
        section,
        caption: Some(picture),
    };
    // What stands below a caption is not joined to it, and begins new lines.
    if let Some(below) = rows.get_mut(at) {
        below.joined = false;
        below.inner = false;
        let space = &mut problem.stack.spaces[at];
        *space = (*space).max(HalfLines::LINE);
    }
    rows.insert(at, caption);
    let space = if joined { 0 } else { 1 };
    problem.stack.spaces.insert(at, HalfLines::lines(space));
    for column in &mut problem.stack.columns {
        insert_row(column, at, HalfLines::new(dice.one_of(&[2, 2, 4])));
    }
    for picture in &mut problem.pictures {
        picture.word_row = picture.word_row.map(|row| row + usize::from(row >= at));
    }
    for panel in &mut problem.panels {
        let begins_below = dice.chance(80);
        let moved = |row: usize| row > at || row == at && begins_below;
        panel.begins = panel.begins.map(|row| row + usize::from(moved(row)));
        panel.ends = panel.ends.map(|place| place + usize::from(moved(place)));
    }
}
