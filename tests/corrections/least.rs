//! The fewest panels that cannot stay as they were chosen, found by trying every end of every panel.

use versefold::panels::{Problem, broken_here};
use versefold::plan::{Role, RuleName};
use versefold::workbench::Posed;

/// The fewest panels that carry something else than was chosen for them, among all divisions in which every panel by
/// itself keeps the hard rules and every picture stays on its panel; nothing where there is none.
pub fn fewest_moved(posed: &Posed) -> Option<usize> {
    let parts = posed.problems.iter().map(of_part);
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
        for from in 0..places {
            let Some(moved) = best[from] else { continue };
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
    let area = match picture {
        Some(picture) => facts.shared[picture],
        None => facts.area,
    };
    if from < to {
        let Some(area) = area else { return false };
        let ends = problem.ends(area.setting, from).find(|(end, _)| *end == to);
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
