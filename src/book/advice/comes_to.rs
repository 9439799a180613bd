//! What it comes to where something gives way: on which panels, with figures, in the words of a maker.

use super::again::Freed;
use super::words::quoted;
use crate::book::PreparedBook;
use crate::division::{Cost, Demand, PanelDivision, PartDivision, Problem};
use crate::names::{HalfLines, Role};
use crate::plan::{RuleName, Undivided};

/// What a rule costs in divisions.
pub(super) fn paid(parts: &[PartDivision], name: RuleName) -> Cost {
    let panels = parts.iter().flat_map(|part| &part.panels);
    let costs = panels.flat_map(|panel| &panel.costs);
    let own = costs.filter(|(rule, _)| *rule == name);
    own.map(|(_, cost)| cost).sum()
}

/// What it comes to where a demand gives way; `name` is of the picture that it speaks of, if of one. Nothing where that
/// goes without saying.
pub(super) fn comes_to(
    freed: &Freed,
    group: &[usize],
    demand: &Demand,
    name: Option<&str>,
) -> Option<String> {
    let (prepared, parts) = (&freed.prepared, &freed.parts[..]);
    match *demand {
        Demand::Rule(RuleName::PictureComes) => {
            let told = group.iter().zip(parts);
            let told = told.filter_map(|(&at, part)| distances(&prepared.problems[at], part));
            Some(told.collect::<Vec<_>>().join(", ")).filter(|told| !told.is_empty())
        }
        Demand::Rule(RuleName::Pictures) => {
            let mut told = group.iter().zip(parts);
            told.find_map(|(&at, part)| pictures(&prepared.problems[at], part))
        }
        Demand::Rule(name) => on_panels(prepared, group, name, parts),
        Demand::Role { part, panel } => Some(format!(
            "it would {}",
            carries(parts[part].panels[panel].role)
        )),
        Demand::Picture { part, .. }
        | Demand::Spans { part, .. }
        | Demand::WholeSpread { part, .. } => {
            let problem = &prepared.problems[group[part]];
            let own = |at: usize| Some(problem.pictures[at].name.as_str()) == name;
            let mut panels = parts[part].panels.iter();
            let stands = panels.find(|panel| panel.picture.is_some_and(own));
            Some(match stands {
                Some(panel) => format!("the picture would stand on {}", panel.panel),
                None => "the picture would have no panel".to_string(),
            })
        }
        Demand::Begins { part, panel } => {
            let panel = &parts[part].panels[panel];
            let words = prepared.words_from(group[part], panel.rows.start, 4);
            Some(match quoted(&words).filter(|_| !panel.rows.is_empty()) {
                None => format!("it would {}", carries(panel.role)),
                Some(words) => format!("it would begin with {words}"),
            })
        }
        _ => None,
    }
}

/// What a panel of a role does.
fn carries(role: Role) -> &'static str {
    match role {
        Role::Title => "carry the title",
        Role::Text => "carry words",
        Role::Shared => "carry words and a picture",
        Role::Picture => "carry a picture",
        Role::Blank | Role::PasteDown => "be blank",
    }
}

/// On which panels a rule is broken, and how; of many panels that on which it costs most.
fn on_panels(
    prepared: &PreparedBook,
    group: &[usize],
    name: RuleName,
    parts: &[PartDivision],
) -> Option<String> {
    let broken = parts.iter().zip(group).flat_map(|(part, &at)| {
        let breaks =
            move |panel: &&PanelDivision| panel.costs.iter().any(|(rule, _)| *rule == name);
        part.panels
            .iter()
            .filter(breaks)
            .map(move |panel| (at, panel))
    });
    let broken: Vec<(usize, &PanelDivision)> = broken.collect();
    let paid = |panel: &PanelDivision| {
        let mut costs = panel.costs.iter();
        let own = costs.find(|(rule, _)| *rule == name);
        own.map_or(0, |(_, cost)| *cost)
    };
    // The first of those that are alike.
    let worst = broken.iter().rev().max_by_key(|(_, panel)| paid(panel));
    let &(at, worst) = worst?;
    let told = figure(prepared, at, worst, name, parts, group);
    let others = match broken.len() - 1 {
        0 => None,
        1 => Some("1 other panel".to_string()),
        more => Some(format!("{more} other panels")),
    };
    Some(match (told == format!("on {}", worst.panel), others) {
        (true, None) => format!("it would not hold {told}"),
        (true, Some(others)) => format!("it would not hold {told} and {others}"),
        (false, None) => told,
        (false, Some(others)) => format!("{told}, and {others} would not hold it either"),
    })
}

/// Where a rule costs most more in a book than in another, in words.
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
    let rules = &prepared.plan.rules;
    let clause = name.rule().given_up(rules);
    if clause.is_some_and(|clause| !clause.is_worth_a_word(paid(panel) as u64, rules, name)) {
        return None;
    }
    let told = figure(prepared, part, panel, name, parts, group);
    Some(
        match clause.filter(|_| told == format!("on {}", panel.panel)) {
            Some(clause) => format!("{} {}", panel.panel, clause.one),
            None => told,
        },
    )
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
        RuleName::Undivided | RuleName::Couplets | RuleName::KeepTogether => {
            let within = within(&prepared.problems[part], panel.rows.end, name);
            let words = prepared.words_before(part, panel.rows.end, 4);
            match quoted(&words) {
                None => format!("{on} would end within {within}"),
                Some(words) => format!("{on} would end within {within}, after {words}"),
            }
        }
        RuleName::FewestLines => format!("{on} would have fewer lines of a stanza or paragraph"),
        RuleName::PictureComes => {
            let of = group.iter().position(|&at| at == part).unwrap_or(0);
            distances(&prepared.problems[part], &parts[of]).unwrap_or_else(|| format!("on {on}"))
        }
        _ => format!("on {on}"),
    }
}

/// What a division at a place lies within, against a rule.
fn within(problem: &Problem, place: usize, name: RuleName) -> &'static str {
    match (name, problem.rules.undivided) {
        (RuleName::KeepTogether, _) => "what is kept together",
        (RuleName::Couplets, _) => "a couplet or tercet",
        (_, Undivided::Sentence) => "a sentence",
        _ if problem.within_paragraph(place) => "a paragraph",
        _ => "a stanza",
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
