//! Demands in the words of a maker.

use crate::book::PreparedBook;
use crate::division::Demand;
use crate::names::{PanelName, Role};
use crate::plan::{EachPanel, PictureWith, RuleName, Rules, SharedPanels, Undivided, Window};

/// What is asked, as a clause: "no panel is fuller than 95 % (`fullest`)".
pub(crate) fn asked_by(posed: &PreparedBook, group: &[usize], demand: &Demand) -> String {
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
        Demand::Passed { part, panel: at } => {
            format!("{} is passed for press", panel(part, at))
        }
        Demand::Ends { part, panel: at } => {
            let place = problem(part).panels[at].ends.unwrap_or(0);
            let words = posed.words_before(group[part], place, 4);
            format!("{} ends with “{words}”", panel(part, at))
        }
    }
}

/// The panel that a demand pins.
pub(super) fn pinned_panel(
    posed: &PreparedBook,
    group: &[usize],
    demand: &Demand,
) -> Option<PanelName> {
    let problem = |part: usize| &posed.problems[group[part]];
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
        RuleName::PictureComes => comes(rules.picture_comes),
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
        RuleName::ChosenBreaks => "panels carry what you chose for them".to_string(),
    }
}

/// Where a window asks a picture to stand.
fn comes(window: Window) -> String {
    let after = |panels: i8| match panels {
        0 => "on the panel of its words".to_string(),
        1 => "on the panel after its words".to_string(),
        -1 => "on the panel before its words".to_string(),
        after if after > 0 => format!("{after} panels after its words"),
        before => format!("{} panels before its words", -before),
    };
    let Window { soonest, latest } = window;
    match latest - soonest {
        0 => format!("a picture stands {}", after(soonest)),
        1 => format!("a picture stands {} or {}", after(soonest), after(latest)),
        _ => format!("a picture stands from {soonest} to {latest} panels after its words"),
    }
}
