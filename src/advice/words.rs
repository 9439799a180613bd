//! Demands in the words of a maker, and what it comes to where one gives way.

use crate::panels::{Demand, PanelDivision, PartDivision, Problem, Way};
use crate::plan::{
    EachPanel, PanelName, PictureWith, Role, RuleName, Rules, SharedPanels, Undivided,
};
use crate::workbench::Posed;

/// What is asked, as a clause: "no panel is fuller than 95 % (`fullest`)".
pub(crate) fn asked_by(posed: &Posed, group: &[usize], demand: &Demand) -> String {
    let problem = |part: usize| &posed.problems[group[part]];
    let picture = |part: usize, at: usize| problem(part).pictures[at].name.as_str();
    let panel = |part: usize, at: usize| problem(part).panels[at].name;
    match *demand {
        Demand::Rule(name) => {
            format!("{} (`{}`)", rule(&problem(0).rules, name), name.word())
        }
        Demand::Pairing => {
            let names: Vec<&str> = group
                .iter()
                .map(|&at| posed.set.parts[at].name.as_str())
                .collect();
            format!(
                "`{}` keep step panel by panel (`pairs-with`)",
                names.join("` and `")
            )
        }
        Demand::Caption { part, picture: at } => {
            format!("the caption of `{}` stands with it", picture(part, at))
        }
        Demand::WholeSpread { part, picture: at } => {
            format!("`{}` begins a spread (`whole-spread`)", picture(part, at))
        }
        Demand::Spans { part, picture: at } => format!(
            "`{}` stands on {} panels in a row",
            picture(part, at),
            problem(part).pictures[at].spans
        ),
        Demand::Role { part, panel: at } => {
            let role = problem(part).panels[at].role.map_or("", Role::word);
            format!("{} is pinned to the role `{role}`", panel(part, at))
        }
        Demand::Picture { part, picture: at } => {
            let on = problem(part).pictures[at].panel;
            let on = on.map_or(String::new(), |on| panel(part, on).to_string());
            format!("`{}` is pinned to {on}", picture(part, at))
        }
        Demand::Begins { part, panel: at } => {
            let place = problem(part).panels[at].begins.unwrap_or(0);
            let words = posed.words_from(group[part], place, 4);
            format!("{} is pinned to begin with “{words}”", panel(part, at))
        }
        Demand::Ends { part, panel: at } => {
            let place = problem(part).panels[at].ends.unwrap_or(0);
            let words = posed.words_before(group[part], place, 4);
            format!("{} ends with “{words}”", panel(part, at))
        }
    }
}

/// The panel that a demand pins.
pub(super) fn pinned_panel(posed: &Posed, group: &[usize], demand: &Demand) -> Option<PanelName> {
    let problem = |part: usize| &posed.problems[group[part]];
    let (part, panel) = match *demand {
        Demand::Role { part, panel }
        | Demand::Begins { part, panel }
        | Demand::Ends { part, panel } => (part, panel),
        Demand::Picture { part, picture } => (part, problem(part).pictures[picture].panel?),
        _ => return None,
    };
    Some(problem(part).panels[panel].name)
}

/// What a rule asks, as the plan has it.
fn rule(rules: &Rules, name: RuleName) -> String {
    let full = |which: &str, share: u8| format!("{which} {share} % full");
    match name {
        RuleName::Fullest => format!("no panel is fuller than {} %", rules.fullest.0),
        RuleName::Emptiest => format!("no panel is emptier than {} %", rules.emptiest.0),
        RuleName::Couplets => "couplets and tercets stay whole".to_string(),
        RuleName::KeepTogether => "what `[keep together]` holds stays on one panel".to_string(),
        RuleName::NewPanel => "a panel ends at each `[new panel]`".to_string(),
        RuleName::Undivided => match rules.undivided {
            Undivided::Line => "lines stay whole".to_string(),
            Undivided::Sentence => "sentences stay whole".to_string(),
            Undivided::Stanza => "stanzas stay whole".to_string(),
        },
        RuleName::FewestLines => format!(
            "a divided stanza or paragraph leaves at least {} lines on a panel",
            rules.fewest_lines
        ),
        RuleName::EachPanel => match rules.each_panel {
            EachPanel::Free => "each panel carries what comes".to_string(),
            EachPanel::Stanza => "each panel carries one stanza".to_string(),
            EachPanel::Lines(lines) => format!("each panel carries {lines} lines"),
        },
        RuleName::TextFullness => full("panels of words are", rules.text_fullness.0),
        RuleName::SharedFullness => {
            full("panels shared with a picture are", rules.shared_fullness.0)
        }
        RuleName::FirstFullness => full("the first panel of the body is", rules.first_fullness.0),
        RuleName::LastFullness => full("the last panel of the body is", rules.last_fullness.0),
        RuleName::PictureComes => format!(
            "a picture comes {} to {} panels after its words",
            rules.picture_comes.soonest, rules.picture_comes.latest
        ),
        RuleName::SharedPanels => match rules.shared_panels {
            SharedPanels::Allowed => "words and pictures may share panels".to_string(),
            SharedPanels::Never => "words and pictures never share a panel".to_string(),
            SharedPanels::Always => "every picture has words beside it".to_string(),
        },
        RuleName::EvenFullness => "panels of words are as full as the one before".to_string(),
        RuleName::PictureWith => match rules.picture_with {
            Some(PictureWith::NextSpread) => {
                "a picture stands on the spread after its words".to_string()
            }
            _ => "a picture stands on the spread of its words".to_string(),
        },
        RuleName::TextInARow => {
            format!(
                "no more than {} panels of words in a row",
                rules.text_in_a_row
            )
        }
        RuleName::PicturesInARow => {
            format!(
                "no more than {} panels of pictures in a row",
                rules.pictures_in_a_row
            )
        }
        RuleName::Blanks => match rules.blanks {
            Some(_) => "as many panels are blank as `blanks` asks, and where".to_string(),
            None => "no panel is blank that need not be".to_string(),
        },
        RuleName::EndsWith => "each part ends as `ends-with` asks".to_string(),
        RuleName::BlankBefore => {
            "the panel before each picture of `blank-before` is blank".to_string()
        }
    }
}

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
    steps.extend(others.map(|demand| format!("if not {}", asked_by(posed, group, demand))));
    let comes: Vec<String> = way
        .demands
        .iter()
        .filter_map(|demand| comes_to(posed, group, demand, &way.parts))
        .collect();
    match comes.is_empty() {
        true => format!("{} it can be done", steps.join(", ")),
        false => format!("{}: {}", steps.join(", "), comes.join("; ")),
    }
}

/// What it comes to where a demand gives way in a book: on which panels, with figures.
pub(crate) fn comes_to(
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
