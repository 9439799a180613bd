//! Ways out in the words of a maker: what gives way, and what that comes to.

use crate::book::PreparedBook;
use crate::division::{Demand, PanelDivision, PartDivision, Problem, Way};
use crate::names::{HalfLines, Role};
use crate::plan::RuleName;

/// That a demand gives way, as the beginning of a sentence.
fn without(prepared: &PreparedBook, group: &[usize], demand: &Demand) -> String {
    let problem = |part: usize| &prepared.problems[group[part]];
    let picture = |part: usize, at: usize| problem(part).pictures[at].name.as_str();
    let panel = |part: usize, at: usize| problem(part).panels[at].name;
    match *demand {
        Demand::Rule(name) => format!("without `{}`", name.word()),
        Demand::Pairing => "without `pairs-with`".to_string(),
        Demand::Caption { part, picture: at } => {
            format!("with the caption of `{}` elsewhere", picture(part, at))
        }
        Demand::Alone { part, picture: at } => {
            format!("with leaves = \"all\" for `{}`", picture(part, at))
        }
        Demand::WholeSpread { part, picture: at } => {
            format!("without `whole-spread` for `{}`", picture(part, at))
        }
        Demand::Spans { part, picture: at } => {
            format!("with `{}` on one panel", picture(part, at))
        }
        Demand::Role { part, panel: at } => {
            format!("without the role that {} is pinned to", panel(part, at))
        }
        Demand::Picture { part, picture: at } => {
            format!("without the pin of `{}`", picture(part, at))
        }
        Demand::Begins { part, panel: at } => {
            format!(
                "without the words that {} is pinned to begin with",
                panel(part, at)
            )
        }
        Demand::Passed { part, panel: at } => {
            format!("with {} released", panel(part, at))
        }
        Demand::Ends { part, panel: at } => {
            format!("with another end of {}", panel(part, at))
        }
    }
}

/// A way out: what gives way, how to say so in the plan, and what it comes to.
pub(super) fn way_out(prepared: &PreparedBook, group: &[usize], way: &Way) -> String {
    let rules = way.demands.iter().filter_map(|demand| match demand {
        Demand::Rule(name) => Some(format!("\"{}\"", name.word())),
        _ => None,
    });
    let rules: Vec<String> = rules.collect();
    let others = way
        .demands
        .iter()
        .filter(|demand| !matches!(demand, Demand::Rule(_)));
    let mut steps: Vec<String> = Vec::new();
    if !rules.is_empty() {
        steps.push(format!("with may-give = [{}]", rules.join(", ")));
    }
    steps.extend(others.map(|demand| without(prepared, group, demand)));
    let comes: Vec<String> = way
        .demands
        .iter()
        .filter_map(|demand| comes_to(prepared, group, demand, &way.parts))
        .collect();
    match comes.is_empty() {
        true => format!("{} it can be done", steps.join(", ")),
        false => format!("{}: {}", steps.join(", "), comes.join("; ")),
    }
}

/// What it comes to where a demand gives way in a book: on which panels, with figures.
pub(crate) fn comes_to(
    prepared: &PreparedBook,
    group: &[usize],
    demand: &Demand,
    parts: &[PartDivision],
) -> Option<String> {
    match *demand {
        Demand::Rule(RuleName::PictureComes) => {
            let told = group.iter().zip(parts);
            let told = told.filter_map(|(&at, part)| distances(&prepared.problems[at], part));
            Some(told.collect::<Vec<_>>().join(", ")).filter(|told| !told.is_empty())
        }
        Demand::Rule(RuleName::Pictures) => {
            let told = group.iter().zip(parts);
            told.filter_map(|(&at, part)| pictures(&prepared.problems[at], part))
                .next()
        }
        Demand::Rule(name) => {
            let broken = parts.iter().zip(group).flat_map(|(part, &at)| {
                let breaks =
                    move |panel: &&PanelDivision| panel.costs.iter().any(|(rule, _)| *rule == name);
                part.panels
                    .iter()
                    .filter(breaks)
                    .map(move |panel| (at, panel))
            });
            let told: Vec<String> = broken
                .map(|(at, panel)| figure(prepared, at, panel, name, parts, group))
                .collect();
            match told.len() {
                0 => None,
                1..=3 => Some(told.join(", ")),
                many => Some(format!(
                    "{} and {} more panels",
                    told[..2].join(", "),
                    many - 2
                )),
            }
        }
        Demand::Role { part, panel } => {
            let panel = &parts[part].panels[panel];
            Some(format!("{} would be `{}`", panel.panel, panel.role.word()))
        }
        Demand::Picture { part, picture } => {
            let name = &prepared.problems[group[part]].pictures[picture].name;
            let stands = parts[part]
                .panels
                .iter()
                .find(|panel| panel.picture == Some(picture));
            Some(match stands {
                Some(panel) => format!("`{name}` would stand on {}", panel.panel),
                None => format!("`{name}` would have no panel"),
            })
        }
        Demand::Begins { part, panel } => {
            let panel = &parts[part].panels[panel];
            let words = prepared.words_from(group[part], panel.rows.start, 4);
            Some(format!("{} would begin with “{words}”", panel.panel))
        }
        _ => None,
    }
}

/// Where a rule costs most more in a book than in another, with a figure.
pub(crate) fn rises(
    prepared: &PreparedBook,
    group: &[usize],
    name: RuleName,
    (parts, than): (&[PartDivision], &[PartDivision]),
) -> Option<String> {
    let paid = |panel: &PanelDivision| {
        let paid = panel.costs.iter().filter(|(rule, _)| *rule == name);
        paid.map(|(_, cost)| *cost as i64).sum::<i64>()
    };
    let mut most: Option<(i64, usize, &PanelDivision)> = None;
    for (at, (part, other)) in parts.iter().zip(than).enumerate() {
        for (panel, other) in part.panels.iter().zip(&other.panels) {
            let more = paid(panel) - paid(other);
            if more > 0 && most.is_none_or(|(known, ..)| more > known) {
                most = Some((more, group[at], panel));
            }
        }
    }
    let (_, part, panel) = most?;
    Some(figure(prepared, part, panel, name, parts, group))
}

/// How one panel breaks a rule.
fn figure(
    prepared: &PreparedBook,
    part: usize,
    panel: &PanelDivision,
    name: RuleName,
    parts: &[PartDivision],
    group: &[usize],
) -> String {
    let on = panel.panel;
    let full = || {
        let share = f64::from(panel.used) * 100.0 / f64::from(panel.capacity.max(HalfLines::HALF));
        format!("{on} would be {share:.0} % full")
    };
    match name {
        RuleName::Fullest
        | RuleName::Emptiest
        | RuleName::TextFullness
        | RuleName::SharedFullness
        | RuleName::FirstFullness
        | RuleName::LastFullness => full(),
        RuleName::Undivided
        | RuleName::Couplets
        | RuleName::KeepTogether
        | RuleName::FewestLines => {
            let words = prepared.words_before(part, panel.rows.end, 4);
            format!("{on} would end within it, after “{words}”")
        }
        RuleName::PictureComes => {
            let of = group.iter().position(|&at| at == part).unwrap_or(0);
            distances(&prepared.problems[part], &parts[of]).unwrap_or_else(|| format!("on {on}"))
        }
        _ => format!("on {on}"),
    }
}

/// How many pictures the body has in a division.
fn pictures(problem: &Problem, part: &PartDivision) -> Option<String> {
    let panels = part.panels.iter();
    let unnamed = panels.filter(|panel| panel.role == Role::Picture && panel.picture.is_none());
    let all = problem.named_pictures() + unnamed.count();
    let told = match all {
        1 => "the body would have 1 picture".to_string(),
        all => format!("the body would have {all} pictures"),
    };
    problem.body.then_some(told)
}

/// The picture that stands farthest from where it was asked to, and how many others do not stand there.
fn distances(problem: &Problem, part: &PartDivision) -> Option<String> {
    let far = problem
        .pictures
        .iter()
        .enumerate()
        .filter_map(|(at, picture)| {
            let window = picture.comes?;
            let row = picture.word_row?;
            let words = part
                .panels
                .iter()
                .position(|panel| panel.rows.contains(&row))?;
            let stands = part
                .panels
                .iter()
                .position(|panel| panel.picture == Some(at))?;
            let distance = stands as i64 - words as i64;
            let nearest = distance.clamp(window.soonest.into(), window.latest.into());
            Some((distance.abs_diff(nearest), distance, at, stands))
        })
        .filter(|(off, ..)| *off > 0);
    let far: Vec<_> = far.collect();
    let &(_, distance, at, stands) = far.iter().max_by_key(|(off, ..)| *off)?;
    let away = match distance {
        0 => "on the panel of its words".to_string(),
        1 => "1 panel after its words".to_string(),
        -1 => "1 panel before its words".to_string(),
        away if away > 0 => format!("{away} panels after its words"),
        away => format!("{} panels before its words", -away),
    };
    let name = &problem.pictures[at].name;
    let others = match far.len() - 1 {
        0 => String::new(),
        1 => ", and another picture away from its words".to_string(),
        more => format!(", and {more} more pictures away from theirs"),
    };
    Some(format!(
        "`{name}` would stand on {}, {away}{others}",
        part.panels[stands].panel
    ))
}
