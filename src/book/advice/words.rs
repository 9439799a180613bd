//! Demands in the words of a maker.

use crate::book::PreparedBook;
use crate::division::Demand;
use crate::names::{PanelName, Role};

/// What is asked, as a clause: "no panel is fuller than 95 % (`fullest`)".
pub(crate) fn asked_by(prepared: &PreparedBook, group: &[usize], demand: &Demand) -> String {
    let problem = |part: usize| &prepared.problems[group[part]];
    let picture = |part: usize, at: usize| problem(part).pictures[at].name.as_str();
    let panel = |part: usize, at: usize| problem(part).panels[at].name;
    match *demand {
        Demand::Rule(name) => {
            format!(
                "{} (`{}`)",
                name.rule().in_words(&problem(0).rules),
                name.word()
            )
        }
        Demand::Pairing => {
            let names: Vec<&str> = group
                .iter()
                .map(|&at| prepared.set.parts[at].name.as_str())
                .collect();
            format!(
                "`{}` keep step panel by panel (`pairs-with`)",
                names.join("` and `")
            )
        }
        Demand::Caption { part, picture: at } => {
            format!("the caption of `{}` stands with it", picture(part, at))
        }
        Demand::Alone { part, picture: at } => {
            format!("`{}` leaves no room to words", picture(part, at))
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
            let words = prepared.words_from(group[part], place, 4);
            let words = quoted(&words).unwrap_or("nothing".to_string());
            format!("{} is pinned to begin with {words}", panel(part, at))
        }
        Demand::Passed { part, panel: at } => {
            format!("{} is passed for press", panel(part, at))
        }
        Demand::Ends { part, panel: at } => {
            let place = problem(part).panels[at].ends.unwrap_or(0);
            let words = prepared.words_before(group[part], place, 4);
            let words = quoted(&words).unwrap_or("nothing".to_string());
            format!("{} ends with {words}", panel(part, at))
        }
    }
}

/// Words in quotation marks; nothing where there are none.
pub(super) fn quoted(words: &str) -> Option<String> {
    (!words.is_empty()).then(|| format!("“{words}”"))
}

/// The panel that a demand pins.
pub(super) fn pinned_panel(
    prepared: &PreparedBook,
    group: &[usize],
    demand: &Demand,
) -> Option<PanelName> {
    let problem = |part: usize| &prepared.problems[group[part]];
    let (part, panel) = match *demand {
        Demand::Role { part, panel }
        | Demand::Begins { part, panel }
        | Demand::Passed { part, panel }
        | Demand::Ends { part, panel } => (part, panel),
        Demand::Picture { part, picture } => (part, problem(part).pictures[picture].panel?),
        _ => return None,
    };
    Some(problem(part).panels[panel].name)
}
