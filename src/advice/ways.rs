//! Ways out in the words of a maker, and what it comes to where something gives way.

use super::words::asked_by;
use crate::panels::{Demand, PanelDivision, PartDivision, Problem, Way};
use crate::plan::RuleName;
use crate::workbench::Posed;

/// A way out: what gives way, how to say so in the plan, and what it comes to.
pub(super) fn way_out(posed: &Posed, group: &[usize], way: &Way) -> String {
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
    let mut were = false;
    for demand in others {
        let step = were_it_not(posed, group, demand);
        let again = std::mem::replace(&mut were, step.starts_with("were "));
        let short = step.strip_prefix("were ").filter(|_| again);
        steps.push(short.unwrap_or(&step).to_string());
    }
    let comes: Vec<String> = way
        .demands
        .iter()
        .filter_map(|demand| comes_to(posed, group, demand, &way.parts))
        .collect();
    let steps = steps.join(" and ");
    match comes.is_empty() {
        true => format!("{steps}, it could be done"),
        false => format!("{steps}: {}", comes.join("; ")),
    }
}

/// What would have to be otherwise, as the beginning of a sentence, where no rule but something the author fixed
/// gives way: "were front 3 not pinned to the role `text`".
fn were_it_not(posed: &Posed, group: &[usize], demand: &Demand) -> String {
    let asked = || asked_by(posed, group, demand);
    match *demand {
        Demand::Rule(_) => format!("without the rule that {}", asked()),
        Demand::Pairing => {
            let name = |at: usize| posed.set.parts[at].name.as_str();
            let names: Vec<&str> = group.iter().map(|&at| name(at)).collect();
            format!(
                "did `{}` not keep step (`pairs-with`)",
                names.join("` and `")
            )
        }
        Demand::Caption { part, picture } => {
            let name = &posed.problems[group[part]].pictures[picture].name;
            format!("were the caption of `{name}` free to stand elsewhere")
        }
        Demand::WholeSpread { part, picture } => {
            let name = &posed.problems[group[part]].pictures[picture].name;
            format!("were `{name}` not asked to begin a spread (`whole-spread`)")
        }
        Demand::Spans { part, picture } => {
            let name = &posed.problems[group[part]].pictures[picture].name;
            format!("did `{name}` stand on one panel alone")
        }
        Demand::Role { .. } | Demand::Picture { .. } | Demand::Begins { .. } => {
            format!(
                "were {}",
                asked().replacen(" is pinned ", " not pinned ", 1)
            )
        }
        Demand::Ends { .. } => format!("did {}", asked().replacen(" ends ", " not end ", 1)),
    }
}

/// What it comes to where a demand gives way in a book: on which panels, with figures.
fn comes_to(
    posed: &Posed,
    group: &[usize],
    demand: &Demand,
    parts: &[PartDivision],
) -> Option<String> {
    match *demand {
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
                .map(|(at, panel)| figure(posed, at, panel, name, parts, group))
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
            let name = &posed.problems[group[part]].pictures[picture].name;
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
            let words = posed.words_from(group[part], panel.rows.start, 4);
            Some(format!("{} would begin with “{words}”", panel.panel))
        }
        _ => None,
    }
}

/// Where a rule costs most more in a book than in another, with a figure.
pub(crate) fn rises(
    posed: &Posed,
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
    Some(figure(posed, part, panel, name, parts, group))
}

/// How one panel breaks a rule.
fn figure(
    posed: &Posed,
    part: usize,
    panel: &PanelDivision,
    name: RuleName,
    parts: &[PartDivision],
    group: &[usize],
) -> String {
    let on = panel.panel;
    let full = || {
        let share = f64::from(panel.used) * 100.0 / f64::from(panel.capacity.max(1));
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
            let words = posed.words_before(part, panel.rows.end, 4);
            format!("{on} would end within it, after “{words}”")
        }
        RuleName::PictureComes => {
            let of = group.iter().position(|&at| at == part).unwrap_or(0);
            distances(&posed.problems[part], &parts[of]).unwrap_or_else(|| format!("on {on}"))
        }
        _ => format!("on {on}"),
    }
}

/// The picture that stands farthest from where it was asked to.
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
        });
    let (_, distance, at, stands) = far.max_by_key(|(off, ..)| *off)?;
    let away = match distance {
        0 => "on the panel of its words".to_string(),
        1 => "1 panel after its words".to_string(),
        -1 => "1 panel before its words".to_string(),
        away if away > 0 => format!("{away} panels after its words"),
        away => format!("{} panels before its words", -away),
    };
    let name = &problem.pictures[at].name;
    Some(format!(
        "`{name}` would stand on {}, {away}",
        part.panels[stands].panel
    ))
}
