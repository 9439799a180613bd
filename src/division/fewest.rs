//! How many panels the words of a part take at the least, pictures aside.

use super::{AreaFacts, PanelFacts, PanelView, Problem};
use crate::names::Role;
use crate::plan::RuleName;
use crate::rules::{Judges, Placed, weighed};
use crate::stack::Stop;

/// The fewest panels with words that a part needs, each a plain one: with the text area that most of the part's
/// panels of words have, free of pins and pictures. Kept are the hard rules that judge a panel of words by itself
/// ([`Judges::Words`]), those of `soft` aside.
/// Panels that the plan pins as title panels are counted, and the first carries the headings. Nothing where no number
/// of panels is enough, or no panel is plain.
pub fn fewest_of_words(problem: &Problem, soft: &[RuleName]) -> Option<usize> {
    let (plain, area) = plain(problem)?;
    // Where `undivided` may not give way, no stanza is divided for being too long.
    let mut whole = problem.clone();
    whole.rows.iter_mut().for_each(|row| row.too_long = false);
    let problem = if soft.contains(&RuleName::Undivided) {
        problem
    } else {
        &whole
    };
    let titles = problem.panels.iter();
    let titles = titles
        .filter(|panel| panel.role == Some(Role::Title))
        .count();
    let first = if titles > 0 { problem.opening } else { 0 };
    let mut hard = weighed(problem, soft);
    hard.retain(|weighed| weighed.hard && weighed.name.about().judges == Judges::Words);
    let may_stand = |from: usize, stop: Stop| {
        let reading = PanelView {
            problem,
            panel: plain,
            role: Role::Text,
            from,
            to: stop.to,
            picture: None,
            begins_picture: false,
            queue: &[],
            placed: Placed::NONE,
            column: Some(area.column),
            used: stop.used,
            foot: stop.foot,
            capacity: area.capacity,
        };
        hard.iter()
            .all(|weighed| !weighed.rule.read(&reading).broken)
    };
    // By place: the fewest panels that carry all words before it.
    let rows = problem.rows.len();
    let mut fewest: Vec<Option<usize>> = vec![None; rows + 1];
    fewest[first.min(rows)] = Some(0);
    for from in first..rows {
        let Some(panels) = fewest[from] else { continue };
        let stops = problem.stops(area.column, from);
        for stop in stops.take_while(|stop| stop.used <= area.capacity) {
            let better = fewest[stop.to].is_none_or(|known| known > panels + 1);
            if better && may_stand(from, stop) {
                fewest[stop.to] = Some(panels + 1);
            }
        }
    }
    fewest[rows].map(|panels| panels + titles)
}

/// A panel that nothing is pinned on, with the text area that most of those have.
fn plain(problem: &Problem) -> Option<(usize, AreaFacts)> {
    let ordinary = |panel: &PanelFacts| panel.role.is_none() && panel.picture.is_none();
    let areas = || {
        let panels = problem.panels.iter().enumerate();
        let panels = panels.filter(move |(_, panel)| ordinary(panel));
        panels.filter_map(|(at, panel)| Some((at, panel.area?)))
    };
    let like = |area: AreaFacts| areas().filter(|(_, other)| *other == area).count();
    // Where as many panels have several areas, the first is taken.
    let mut most: Option<(usize, (usize, AreaFacts))> = None;
    let mut known: Vec<AreaFacts> = Vec::new();
    for (at, area) in areas() {
        if known.contains(&area) {
            continue;
        }
        known.push(area);
        let count = like(area);
        if most.is_none_or(|(least, _)| count > least) {
            most = Some((count, (at, area)));
        }
    }
    most.map(|(_, plain)| plain)
}
