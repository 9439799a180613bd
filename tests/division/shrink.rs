//! Making a failing book as small as can be: whatever can go without mending the failure goes.

use versefold::division::Problem;
use versefold::names::{HalfLines, Side};
use versefold::plan::{
    EachPanel, HeadingsBegin, Pace, Percent, PictureOrder, ShowThrough, Undivided, Weight,
};
use versefold::stack::{Filled, Start};

use super::generator::two_at_most;
use super::shapes;

/// The smallest likeness that still fails, and how.
pub fn smallest(
    mut problem: Problem,
    check: impl Fn(&Problem) -> Result<bool, String>,
) -> (Problem, String) {
    let mut why = check(&problem).expect_err("only a failing book is shrunk");
    while let Some((smaller, how)) = smaller(&problem)
        .into_iter()
        .map(marked)
        .filter(|smaller| *smaller != problem && is_sound(smaller))
        .find_map(|smaller| check(&smaller).err().map(|why| (smaller, why)))
    {
        (problem, why) = (smaller, how);
    }
    (problem, why)
}

/// The book with its long stanzas marked anew.
pub fn marked(mut problem: Problem) -> Problem {
    problem.mark_long_stanzas();
    problem
}

fn is_sound(problem: &Problem) -> bool {
    let spreads = problem.panels.iter().map(|panel| panel.spread);
    two_at_most(&spreads.collect::<Vec<_>>())
}

/// Books that lack one thing each, the largest things first.
#[expect(clippy::too_many_lines, reason = "a list of simplifications")]
fn smaller(problem: &Problem) -> Vec<Problem> {
    let mut found = Vec::new();
    found.extend((0..problem.panels.len()).filter_map(|panel| without_panel(problem, panel)));
    // Lines of paragraphs name places, which must stay where they are.
    if problem.rows.iter().all(|row| !row.prose) {
        found.extend((0..problem.rows.len()).map(|row| without_row(problem, row)));
    }
    found.extend((0..problem.pictures.len()).map(|picture| without_picture(problem, picture)));
    let mut with = |change: &dyn Fn(&mut Problem)| {
        let mut changed = problem.clone();
        change(&mut changed);
        found.push(changed);
    };
    with(&|p| p.rules.weights.clear());
    with(&|p| p.body = false);
    for name in problem.rules.weights.keys() {
        with(&|p| {
            p.rules.weights.remove(name);
        });
        with(&|p| {
            let off = Weight {
                hard: Some(false),
                importance: 0,
            };
            p.rules.weights.insert(*name, off);
        });
    }
    with(&|p| p.rules.each_panel = EachPanel::Free);
    with(&|p| p.rules.fewest_lines = 1);
    with(&|p| p.rules.panels_end = None);
    with(&|p| p.rules.headings_begin = HeadingsBegin::Anywhere);
    with(&|p| p.rules.undivided = Undivided::Line);
    with(&|p| p.rules.fullest = Percent(100));
    with(&|p| p.rules.emptiest = Percent(0));
    with(&|p| p.rules.text_in_a_row = 9);
    with(&|p| p.rules.pictures_in_a_row = 9);
    with(&|p| p.rules.even_fullness = false);
    with(&|p| p.rules.even_spreads = false);
    with(&|p| p.rules.stays_within = None);
    with(&|p| p.rules.show_through = ShowThrough::Allowed);
    with(&|p| p.rules.picture_order = PictureOrder::Kept);
    with(&|p| p.rules.nearness = false);
    with(&|p| p.rows.iter_mut().for_each(|row| row.section = 0));
    with(&|p| {
        let panels = p.panels.iter_mut();
        panels.for_each(|panel| panel.name.side = Side::Front);
    });
    with(&|p| p.rules.blanks = None);
    with(&|p| p.rules.blank_between = None);
    with(&|p| p.rules.ends_with = None);
    with(&|p| p.rules.last_spread = None);
    with(&|p| p.rules.pictures = 0);
    with(&|p| p.rules.pictures = p.rules.pictures.saturating_sub(1));
    with(&|p| p.rules.pace = Pace::Free);
    with(&|p| p.word_panels = 1);
    for column in 0..problem.stack.columns.len() {
        with(&|p| shapes::unshape(p, column));
    }
    for picture in 0..problem.pictures.len() {
        with(&|p| p.pictures[picture].comes = None);
        with(&|p| p.pictures[picture].with = None);
        with(&|p| p.pictures[picture].leaves_room = true);
        with(&|p| p.pictures[picture].blank_before = false);
        with(&|p| p.pictures[picture].reveal = false);
        with(&|p| p.pictures[picture].heavy = false);
    }
    for row in 0..problem.rows.len() {
        with(&|p| p.rows[row].joined = false);
        with(&|p| p.rows[row].kept = None);
        with(&|p| p.rows[row].caption = None);
        with(&|p| p.rows[row].may_divide = false);
        with(&|p| p.rows[row].new_panel = false);
        with(&|p| p.stack.spaces[row] = HalfLines::ZERO);
        with(&|p| {
            p.stack
                .columns
                .iter_mut()
                .for_each(|column| lower(column, row))
        });
    }
    for panel in 0..problem.panels.len() {
        with(&|p| p.panels[panel].role = None);
        with(&|p| p.panels[panel].fullness = None);
        with(&|p| p.panels[panel].begins = None);
        with(&|p| {
            let area = p.panels[panel].area;
            p.panels[panel].shared.fill(area);
        });
    }
    found
}

/// Makes a row one line high beyond all slots.
fn lower(column: &mut Filled, row: usize) {
    if let Start::Row(first) = column.starts[row] {
        let beyond = first as usize + column.boxes.slots();
        column.takes[beyond].height = HalfLines::LINE;
    }
}

fn without_panel(problem: &Problem, panel: usize) -> Option<Problem> {
    let mut changed = problem.clone();
    changed.panels.remove(panel);
    for facts in &mut changed.panels {
        let other = facts.behind.filter(|other| *other != panel);
        facts.behind = other.map(|other| other - usize::from(other > panel));
    }
    for picture in &mut changed.pictures {
        match picture.panel {
            Some(on) if on == panel => return None,
            Some(on) if on > panel => picture.panel = Some(on - 1),
            _ => {}
        }
    }
    (!changed.panels.is_empty()).then_some(changed)
}

fn without_row(problem: &Problem, row: usize) -> Problem {
    let mut changed = problem.clone();
    changed.rows.remove(row);
    changed.stack.spaces.remove(row);
    for column in &mut changed.stack.columns {
        column.starts.remove(row);
    }
    if row < changed.opening {
        changed.opening -= 1;
    }
    let last = changed.rows.len().checked_sub(1);
    let moved = |at: usize| last.map(|last| at.min(last));
    for picture in &mut changed.pictures {
        let words = picture.word_row.map(|at| at - usize::from(at > row));
        picture.word_row = words.and_then(moved);
    }
    for panel in &mut changed.panels {
        let begins = panel.begins.map(|at| at - usize::from(at > row));
        panel.begins = begins.and_then(moved);
    }
    changed
}

fn without_picture(problem: &Problem, picture: usize) -> Problem {
    let mut changed = problem.clone();
    changed.pictures.remove(picture);
    for row in &mut changed.rows {
        row.caption = match row.caption {
            Some(of) if of == picture => None,
            Some(of) if of > picture => Some(of - 1),
            of => of,
        };
    }
    for panel in &mut changed.panels {
        panel.shared.remove(picture);
        panel.picture = match panel.picture {
            Some(on) if on == picture => None,
            Some(on) if on > picture => Some(on - 1),
            on => on,
        };
    }
    changed
}
