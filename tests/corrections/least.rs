//! The fewest panels that cannot stay as they were chosen, found by trying every end of every panel.

use std::collections::BTreeMap;

use versefold::book::PreparedBook;
use versefold::division::{Problem, broken_here};
use versefold::names::{HalfLines, PanelName, Role};
use versefold::plan::RuleName;

/// The fewest panels that carry something else than was chosen for them, among all divisions in which every panel by
/// itself keeps the hard rules and every picture stays on its panel; nothing where there is none.
pub fn fewest_moved(prepared: &PreparedBook) -> Option<usize> {
    let parts = prepared.problems.iter().map(|problem| of_part(problem));
    parts.sum()
}

fn of_part(problem: &Problem) -> Option<usize> {
    let places = problem.rows.len() + 1;
    let mut best: Vec<Option<usize>> = vec![None; places];
    best[0] = Some(0);
    for (index, facts) in problem.panels.iter().enumerate() {
        let mut next: Vec<Option<usize>> = vec![None; places];
        let chosen = facts.chosen.as_ref()?;
        let roles = match chosen.role {
            // A panel of words may come to be empty, and an empty one to have words.
            Role::Text | Role::Blank => vec![Role::Text, Role::Blank],
            // One that shares its panel with a picture may lose its words, and one alone may get some.
            Role::Shared | Role::Picture => vec![Role::Shared, Role::Picture],
            other => vec![other],
        };
        for (from, reached) in best.iter().enumerate().take(places) {
            let Some(moved) = *reached else { continue };
            for role in &roles {
                let ends = match role {
                    Role::Text | Role::Shared => from + 1..places,
                    Role::Title => problem.opening..problem.opening + 1,
                    _ => from..from + 1,
                };
                for to in ends {
                    if !stands(problem, index, (*role, chosen.picture), from, to) {
                        continue;
                    }
                    let words = match &chosen.words {
                        None => from == to,
                        Some(words) => from < to && words.may_begin(from) && words.may_end(to),
                    };
                    let more = usize::from(!(words && *role == chosen.role));
                    let sum = moved + more;
                    if next[to].is_none_or(|known| sum < known) {
                        next[to] = Some(sum);
                    }
                }
            }
        }
        best = next;
    }
    best[places - 1]
}

/// Whether a panel may carry this by itself.
fn stands(
    problem: &Problem,
    panel: usize,
    (role, picture): (Role, Option<usize>),
    from: usize,
    to: usize,
) -> bool {
    let facts = &problem.panels[panel];
    if role == Role::Shared && !picture.is_some_and(|picture| problem.may_share(panel, picture)) {
        return false;
    }
    let area = match picture {
        Some(picture) => facts.shared[picture],
        None => facts.area,
    };
    if from < to {
        let Some(area) = area else { return false };
        let ends = problem.ends(area.column, from).find(|(end, _)| *end == to);
        if ends.is_none_or(|(_, used)| used > area.capacity) {
            return false;
        }
    }
    broken_here(
        problem,
        &[RuleName::Undivided],
        panel,
        (role, picture, from..to),
    )
    .is_empty()
}

/// The fewest panels that carry other words than `before`, at most `most`, among all divisions of a text without
/// pictures that fit: whatever rules they break but how full a panel may be. Nothing where there is none. Those of
/// `fixed` must carry what they carried.
///
/// `before` has the words of each panel, row by row, without their spaces.
pub fn fewest_touched(
    prepared: &PreparedBook,
    before: &BTreeMap<PanelName, String>,
    fixed: &[PanelName],
    most: usize,
) -> Option<usize> {
    let [problem] = &prepared.problems[..] else {
        panic!("a book of one part")
    };
    let places = problem.rows.len();
    // The words of all rows, and where each place begins.
    let (mut text, mut begins) = (String::new(), Vec::new());
    let mut row = None;
    for place in 0..places {
        let own = Some(prepared.set.parts[0].places[place].row);
        if row != own {
            text.push('\n');
        }
        row = own;
        begins.push(text.len());
        let words = prepared.words_of(0, place..place + 1);
        text.extend(words.chars().filter(|c| !c.is_whitespace()));
    }
    begins.push(text.len());
    let mut best: Vec<Option<usize>> = vec![None; places + 1];
    best[0] = Some(0);
    for facts in &problem.panels {
        let was = before.get(&facts.name).map_or("", String::as_str);
        let mut next: Vec<Option<usize>> = vec![None; places + 1];
        let mut reach = |to: usize, touched: usize| {
            if touched <= most && next[to].is_none_or(|known| touched < known) {
                next[to] = Some(touched);
            }
        };
        for (from, reached) in best.iter().enumerate() {
            let Some(touched) = *reached else { continue };
            let mut ends = vec![from];
            if let Some(area) = facts.area {
                let room = u64::from(area.capacity) * u64::from(problem.rules.fullest.0);
                let fits = |(_, used): &(usize, HalfLines)| u64::from(*used) * 100 <= room;
                let mut last = from;
                for (to, _) in problem.ends(area.column, from).take_while(fits) {
                    // Within a paragraph a panel could end at any word: its last line is then a short one.
                    ends.extend(last + 1..=to);
                    last = to;
                }
            }
            if facts.role == Some(Role::Title) {
                ends = vec![if from == 0 { problem.opening } else { from }];
            }
            for to in ends {
                let words = text[begins[from]..begins[to]].trim_matches('\n');
                if words == was || !fixed.contains(&facts.name) {
                    reach(to, touched + usize::from(words != was));
                }
            }
        }
        best = next;
    }
    best[places]
}
