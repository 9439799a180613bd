//! How one way to divide a book differs from another, in words.

use crate::layout::{LaidPanel, Layout};
use crate::names::{PanelName, Role, and_list, capitalized};

/// The most differences that are told one by one.
const MOST: usize = 4;

/// Panels of a book that carry another role or picture than in the first, those left out whose spread carries the same in
/// another order; where none is left, all of them; where none does, those that end with other words.
pub fn differing(first: &Layout, other: &Layout) -> Vec<PanelName> {
    if first.panels.len() != other.panels.len() {
        return Vec::new();
    }
    let pairs = first.panels.iter().zip(&other.panels);
    let carry = |(one, other): &(&LaidPanel, &LaidPanel)| {
        one.role != other.role || one.picture != other.picture
    };
    let carrying = pairs.clone().filter(carry).map(|(_, other)| other.panel);
    let all: Vec<PanelName> = carrying.collect();
    let alike = |panel: &&PanelName| on_spread(first, **panel) == on_spread(other, **panel);
    let mut found: Vec<PanelName> = all.iter().filter(|own| !alike(own)).copied().collect();
    if found.is_empty() {
        found = all;
    }
    if found.is_empty() {
        let end = |(one, other): &(&LaidPanel, &LaidPanel)| last_source(one) != last_source(other);
        found.extend(pairs.filter(end).map(|(_, other)| other.panel));
    }
    found
}

/// What the spread of a panel carries, in no order and without what is blank.
fn on_spread(book: &Layout, panel: PanelName) -> Vec<(Role, Option<&str>)> {
    let (one, other) = book.strip.spread_of(panel).unwrap_or((panel, panel));
    let panels = book.panels.iter();
    let panels = panels.filter(|own| own.panel == one || own.panel == other);
    let carried = panels.filter(|own| own.role != Role::Blank);
    let mut carried: Vec<_> = carried
        .map(|own| (own.role, own.picture.as_deref()))
        .collect();
    carried.sort_unstable();
    carried
}

fn last_source(panel: &LaidPanel) -> Option<usize> {
    let sources = panel.lines.iter().flat_map(|line| &line.sources);
    sources.map(|(_, to)| *to).max()
}

/// How the last of some books differs from the first, in a sentence. Where there is too much to tell, what sets it apart from
/// those between goes before.
pub fn difference(books: &[&Layout]) -> String {
    let [first, between @ .., other] = books else {
        return String::new();
    };
    if first.panels.len() != other.panels.len() {
        return format!(
            "{} panels in place of {}.",
            other.panels.len(),
            first.panels.len()
        );
    }
    let all = told(first, other);
    if all.is_empty() {
        let same = first
            .panels
            .iter()
            .zip(&other.panels)
            .all(|(one, other)| one.size == other.size);
        return match same {
            true => "Every panel carries the same words.".to_string(),
            false => "Every panel carries the same words, on other paper.".to_string(),
        };
    }
    let alike: Vec<String> = between.iter().flat_map(|book| told(first, book)).collect();
    let mut shown: Vec<usize> = (0..all.len()).collect();
    shown.sort_by_key(|&at| alike.contains(&all[at]));
    shown.truncate(MOST);
    shown.sort_unstable();
    let shown: Vec<&str> = shown.into_iter().map(|at| &*all[at]).collect();
    let sentence = capitalized(&and_list(&shown));
    match all.len() - shown.len() {
        0 => format!("{sentence}."),
        1 => format!("{sentence}; one more panel differs."),
        more => format!("{sentence}; {more} more panels differ."),
    }
}

/// What each panel does that is otherwise than in the first.
fn told(first: &Layout, other: &Layout) -> Vec<String> {
    let names = differing(first, other);
    let panels = first.panels.iter().zip(&other.panels);
    let told = panels.filter(|(_, other)| names.contains(&other.panel));
    let told = told.map(|(one, other)| {
        let does = match one.role != other.role || one.picture != other.picture {
            true => carries(other),
            false => ends(other),
        };
        format!("{} {does}", other.panel)
    });
    told.collect()
}

fn carries(panel: &LaidPanel) -> String {
    let picture = panel.picture.as_deref().unwrap_or("a picture");
    match panel.role {
        Role::Text => "carries words alone".to_string(),
        Role::Shared => format!("carries words beside “{picture}”"),
        Role::Picture if panel.picture.is_none() => "carries a picture without a name".to_string(),
        Role::Picture => format!("carries “{picture}”"),
        Role::Title => "carries the title".to_string(),
        Role::Blank => "is blank".to_string(),
        Role::PasteDown => "is pasted down".to_string(),
    }
}

fn ends(panel: &LaidPanel) -> String {
    let words = panel.words();
    let Some(last) = words.last() else {
        return "has no words".to_string();
    };
    let words: Vec<&str> = last.split_whitespace().collect();
    format!(
        "ends after “… {}”",
        words[words.len().saturating_sub(4)..].join(" ")
    )
}
