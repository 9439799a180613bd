//! What is told of a book without a way, read as an author reads it: what stands against each other, and what she
//! would do to her files for each way out.

use versefold::names::{Fault, PanelName};

use super::books::Edit;

/// What is told of a part.
#[derive(Debug)]
pub struct Told {
    /// The parts that cannot be divided.
    pub parts: Vec<String>,
    /// What to leave out for each thing that stands against the others; nothing where all might give way in vain.
    pub against: Option<Vec<Edit>>,
    /// For each way out, what to do.
    pub ways: Vec<Vec<Edit>>,
    /// All of it as it is told, line by line.
    pub lines: Vec<String>,
}

impl Told {
    pub fn read(fault: &Fault) -> Told {
        assert_eq!(fault.word, "no-way", "{fault}");
        let (parts, rest) = ["cannot be divided", "does not fit", "do not fit"]
            .iter()
            .find_map(|verb| fault.what.split_once(verb))
            .unwrap_or_else(|| panic!("{}", fault.what));
        let help = fault.help.as_deref().unwrap_or_default();
        let ways: Vec<&str> = match help.strip_prefix("the nearest ways out:\n") {
            Some(list) => list
                .lines()
                .map(|line| line.trim_start().split_once(". ").expect("a number").1)
                .collect(),
            None if help.starts_with("no single change") => Vec::new(),
            None => vec![help],
        };
        let also = fault.also.iter().map(|(_, told)| told.clone());
        let lines = ways.iter().map(|way| (*way).to_string());
        Told {
            parts: quoted(parts).map(str::to_string).collect(),
            against: against(rest),
            ways: ways.iter().map(|way| self::way(way)).collect(),
            lines: lines.chain(also).chain([fault.what.clone()]).collect(),
        }
    }
}

/// What stands between backticks.
fn quoted(text: &str) -> impl Iterator<Item = &str> {
    text.split('`').skip(1).step_by(2)
}

fn against(rest: &str) -> Option<Vec<Edit>> {
    if rest.ends_with("whatever gives way") {
        return None;
    }
    let clauses = rest.split_once(": ").map(|(_, clauses)| clauses);
    let Some(clauses) = clauses.filter(|told| !told.contains("words take at least")) else {
        // What lacks is room.
        return Some(vec![Edit::GivesWay("fullest".to_string())]);
    };
    Some(clauses.split("; ").map(clause).collect())
}

fn panel(text: &str) -> PanelName {
    text.parse().unwrap_or_else(|_| panic!("no panel: {text}"))
}

/// What is asked, as what to leave out so that it is not.
fn clause(text: &str) -> Edit {
    let name = || quoted(text).next().expect("a name").to_string();
    if let Some((on, _)) = text.split_once(" is pinned to the role ") {
        Edit::Role(panel(on))
    } else if let Some((on, _)) = text.split_once(" is pinned to begin with ") {
        Edit::Begins(panel(on))
    } else if let Some((_, on)) = text.split_once("` is pinned to ") {
        Edit::Picture(panel(on))
    } else if text.ends_with("` leaves no room to words") {
        Edit::LeavesAll(name())
    } else if text.ends_with("(`whole-spread`)") {
        Edit::WholeSpread(name())
    } else if text.ends_with(" panels in a row") {
        Edit::Spans(name())
    } else if text.ends_with("(`pairs-with`)") {
        Edit::Pairs
    } else if text.starts_with("the caption of ") {
        Edit::Caption(name())
    } else {
        let rule = text
            .strip_suffix("`)")
            .and_then(|text| text.rsplit_once("(`"));
        Edit::GivesWay(rule.unwrap_or_else(|| panic!("{text}")).1.to_string())
    }
}

/// What a way out says to do. What comes of it stands behind a colon.
fn way(text: &str) -> Vec<Edit> {
    let caption = "take out [caption: ";
    let marked = text.replace(caption, "take out [caption; ");
    let steps = marked.split(": ").next().expect("steps");
    if let Some(rest) = steps.strip_prefix("make it ") {
        return vec![more_panels(rest)];
    }
    if let Some(rest) = steps.strip_prefix("make the left ") {
        return vec![margins(rest)];
    }
    let mut steps = steps.to_string();
    for verb in ["drop ", "put ", "take ", "move ", "set ", "write "] {
        steps = steps.replace(&format!(" and {verb}"), &format!("\n{verb}"));
    }
    steps.lines().flat_map(step).collect()
}

fn step(text: &str) -> Vec<Edit> {
    let rules: fn(String) -> Edit = match text.split(' ').next() {
        Some("put") if text.ends_with(" in `may-give`") => Edit::MayGive,
        Some("take") if text.ends_with(" out of `must`") => Edit::NoMust,
        Some("move") if text.ends_with(" from `must` to `may-give`") => Edit::GivesWay,
        Some("write") => {
            let names = quoted(text).skip(1);
            return names
                .map(|name| Edit::LeavesAll(name.to_string()))
                .collect();
        }
        _ => return vec![other_step(text)],
    };
    let names = quoted(text).filter(|name| !matches!(*name, "must" | "may-give"));
    names.map(|name| rules(name.to_string())).collect()
}

fn other_step(text: &str) -> Edit {
    let name = || quoted(text).last().expect("a name").to_string();
    let on = || panel(text.rsplit_once(" on ").expect("a panel").1);
    if let Some(type_size) = text.strip_prefix("set the type at ") {
        let (size, leading) = type_size.split_once(" on ").expect("a leading");
        return Edit::Size(size.to_string(), leading.to_string());
    }
    if let Some(name) = text.strip_prefix("take out [caption; ") {
        return Edit::Caption(name.trim_end_matches(']').to_string());
    }
    if let Some(what) = text.strip_prefix("drop `") {
        let end = |c: char| c == ' ' || c == '`';
        return match what.split(end).next() {
            Some("role") => Edit::Role(on()),
            Some("picture") => Edit::Picture(on()),
            Some("begins") => Edit::Begins(on()),
            Some("spans") => Edit::Spans(name()),
            Some("whole-spread") => Edit::WholeSpread(name()),
            Some("pairs-with") => Edit::Pairs,
            _ => panic!("{text}"),
        };
    }
    panic!("{text}")
}

/// "5 panels a side, with `body` on front 1 to front 5, and move what follows along"
fn more_panels(text: &str) -> Edit {
    let (count, _) = text.split_once(' ').expect("a number");
    let parts = text.split_once(", with ").map(|(_, parts)| parts);
    let parts = parts.unwrap_or_default();
    let (parts, moves) = match parts.strip_suffix(", and move what follows along") {
        Some(parts) => (parts, true),
        None => (parts, false),
    };
    let parts = parts.split(" and ").filter(|part| !part.is_empty());
    let parts = parts.map(|part| {
        let (name, on) = part.split_once(" on ").expect("panels");
        let on = on.split(", ").map(str::to_string);
        (name.trim_matches('`').to_string(), on.collect())
    });
    Edit::Panels {
        per_side: count.parse().expect("a number"),
        parts: parts.collect(),
        moves,
    }
}

/// "and right margins 9 mm", or "margin 9 mm and the right one 10 mm"
fn margins(text: &str) -> Edit {
    if let Some(both) = text.strip_prefix("and right margins ") {
        return Edit::Margins(both.to_string(), both.to_string());
    }
    let text = text.strip_prefix("margin ").expect("a margin");
    let (left, right) = text.split_once(" and the right one ").expect("two");
    Edit::Margins(left.to_string(), right.to_string())
}
