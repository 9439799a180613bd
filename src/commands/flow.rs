//! `versefold flow`: how the words fall on the panels, and what was given up.

use unicode_width::UnicodeWidthStr;

use super::cli::{Flow, Voice};
use super::{Done, report, rhythm, speak, why};
use crate::fault::Place;
use crate::layout::{LaidPanel, Layout};
use crate::outputs;
use crate::plan::{Role, RuleName, Side};
use crate::workbench::Workbench;

pub(super) fn run(asked: &Flow, voice: &Voice) -> Done {
    if let Some(panel) = asked.why {
        return why::run(&asked.book, panel, voice);
    }
    let progress = speak::Progress::begin(voice, "setting and dividing the words");
    let mut bench = Workbench::new(&asked.book);
    let layout = bench.lay_out()?;
    drop(progress);
    if voice.json {
        let mut value = outputs::layout_value(&layout);
        value["notes"] = layout.notes.iter().map(report::note_value).collect();
        let text = serde_json::to_string_pretty(&value).unwrap_or_default();
        speak::result(&format!("{text}\n"));
    } else if !voice.quiet {
        speak::result(&format!("{}\n\n", speak::bold(&layout.title)));
        speak::result(&table(&layout, asked.costs));
        speak::result("\n");
        speak::result(&rows_and_remarks(&layout));
    }
    Ok(())
}

/// One line for each panel: its name, role, fullness, first and last words, picture.
fn table(layout: &Layout, costs: bool) -> String {
    let mut table = String::new();
    let mut side = None;
    for panel in &layout.panels {
        if side
            .replace(panel.panel.side)
            .is_some_and(|known| known != panel.panel.side)
        {
            table.push('\n');
        }
        let line = format!(
            "{}  {}  {}  {}  {}",
            padded(&panel.panel.to_string(), 9),
            padded(panel.role.word(), 10),
            padded(&fullness(panel), 16),
            padded(&first_and_last(panel, layout), 46),
            panel.picture.as_deref().unwrap_or_default(),
        );
        table.push_str(line.trim_end());
        if costs && !panel.costs.is_empty() {
            let listed = panel
                .costs
                .iter()
                .map(|(rule, cost)| format!("{} {cost}", rule.word()));
            let listed = listed.collect::<Vec<_>>().join(", ");
            table.push_str(&format!("\n{}{}", " ".repeat(23), speak::dim(&listed)));
        }
        table.push('\n');
    }
    if costs {
        let proved = if layout.proved {
            "no other division costs less".to_string()
        } else {
            format!("not proved; no division costs less than {}", layout.bound)
        };
        table.push_str(&format!("\ncost {}: {proved}\n", layout.cost));
    }
    table
}

fn padded(text: &str, width: usize) -> String {
    let wide = text.width();
    format!("{text}{}", " ".repeat(width.saturating_sub(wide)))
}

/// A bar of ten cells and the share in whole hundredths.
fn fullness(panel: &LaidPanel) -> String {
    match panel.share() {
        None => String::new(),
        Some(share) => {
            let cells = (share * 10.0).round() as usize;
            let bar = "█".repeat(cells.min(10)) + &"░".repeat(10usize.saturating_sub(cells));
            format!("{bar} {:3.0} %", share * 100.0)
        }
    }
}

fn first_and_last(panel: &LaidPanel, layout: &Layout) -> String {
    let (Some(first), Some(last)) = (panel.lines.first(), panel.lines.last()) else {
        return String::new();
    };
    let words = |text: &str| {
        text.split_whitespace()
            .map(str::to_string)
            .collect::<Vec<_>>()
    };
    let all: Vec<String> = panel
        .lines
        .iter()
        .flat_map(|line| words(&line.text))
        .collect();
    if all.len() <= 6 {
        return all.join(" ");
    }
    let goes_on = layout
        .panels
        .iter()
        .skip_while(|other| other.panel != panel.panel)
        .skip(1)
        .find(|other| !other.lines.is_empty())
        .is_some_and(|next| {
            next.continues && next.lines.first().is_some_and(|l| l.part == last.part)
        });
    let opening = words(&first.text)
        .into_iter()
        .take(4)
        .collect::<Vec<_>>()
        .join(" ");
    let ending = words(&last.text);
    let ending = ending[ending.len().saturating_sub(3)..].join(" ");
    let begin = if panel.continues { "↳ " } else { "" };
    let end = if goes_on { " ↲" } else { "" };
    format!("{begin}{opening} … {ending}{end}")
}

/// The rhythm row of each side, and in words what was given up.
pub(super) fn rows_and_remarks(layout: &Layout) -> String {
    let mut text = rows(layout);
    let remarks = remarks(layout);
    if !remarks.is_empty() {
        text.push('\n');
        for remark in remarks {
            text.push_str(&format!("– {remark}\n"));
        }
    }
    text
}

/// The rhythm row of each side.
pub(super) fn rows(layout: &Layout) -> String {
    let row = |side: &Side| {
        let row = rhythm::row(layout, *side);
        format!("{}  {row}\n", padded(side.word(), 5))
    };
    layout.strip.sides().iter().map(row).collect()
}

/// What was given up, in words.
pub(super) fn remarks(layout: &Layout) -> Vec<String> {
    let mut remarks = Vec::new();
    for (part, rule) in &layout.gave_way {
        let divided = layout.panels.iter().filter(|panel| {
            panel.continues
                && panel
                    .lines
                    .first()
                    .is_some_and(|line| line.part.as_ref() == Some(part))
        });
        let panels: Vec<String> = divided.map(|panel| panel.panel.to_string()).collect();
        if *rule == RuleName::Undivided && !panels.is_empty() {
            let begin = if panels.len() == 1 { "begins" } else { "begin" };
            remarks.push(format!(
                "Not every stanza could stay whole: {} {begin} with the rest of one (marked ↳).",
                list(&panels),
            ));
        }
    }
    match layout.turned_over() {
        0 => {}
        1 => remarks.push("One line turns over.".to_string()),
        n => remarks.push(format!("{n} lines turn over.")),
    }
    remarks.extend(fullness_remark(layout));
    remarks.extend(other_costs(layout));
    remarks.extend(notes(layout));
    if !layout.proved {
        remarks.push("There was too much to try: a still better division may exist.".to_string());
    }
    remarks
}

/// The notes, each sentence once with all the lines that it is about.
fn notes(layout: &Layout) -> Vec<String> {
    let mut told: Vec<(&str, Vec<&Place>)> = Vec::new();
    for note in &layout.notes {
        let known = told.iter().position(|(what, _)| *what == note.what);
        let known = known.unwrap_or_else(|| {
            told.push((&note.what, Vec::new()));
            told.len() - 1
        });
        told[known].1.extend(&note.place);
    }
    let sentence = |(what, places): &(&str, Vec<&Place>)| {
        let mut lines: Vec<String> = places
            .iter()
            .map(|place| place.line().to_string())
            .collect();
        lines.dedup();
        let at = match (places.first(), lines.as_slice()) {
            (None, _) => String::new(),
            (Some(first), [line]) => format!(" ({}, line {line})", first.source.name),
            (Some(first), many) if many.len() > 8 => {
                format!(
                    " ({}, {} lines, the first line {})",
                    first.source.name,
                    many.len(),
                    many[0]
                )
            }
            (Some(first), many) => format!(" ({}, lines {})", first.source.name, list(many)),
        };
        format!("{}{at}.", capital(what))
    };
    told.iter().map(sentence).collect()
}

/// Panels that are a good deal fuller or emptier than was asked.
fn fullness_remark(layout: &Layout) -> Option<String> {
    let asked = |rule: RuleName| match rule {
        RuleName::TextFullness => Some(layout.rules.text_fullness),
        RuleName::SharedFullness => Some(layout.rules.shared_fullness),
        RuleName::FirstFullness => Some(layout.rules.first_fullness),
        RuleName::LastFullness => Some(layout.rules.last_fullness),
        _ => None,
    };
    let mut off: Vec<(u64, &LaidPanel, u8)> = Vec::new();
    for panel in &layout.panels {
        for (rule, cost) in &panel.costs {
            if let Some(asked) = asked(*rule).filter(|_| *cost >= 40) {
                off.push((*cost, panel, asked.0));
            }
        }
    }
    let &(_, furthest, asked) = off.iter().max_by_key(|(cost, ..)| *cost)?;
    let share = furthest.share().unwrap_or(0.0) * 100.0;
    let far = format!(
        "{} is {share:.0} % full where {asked} % was asked",
        furthest.panel
    );
    Some(match off.len() {
        1 => format!("{}.", capital(&far)),
        n => format!("{n} panels are a good deal fuller or emptier than asked; {far}."),
    })
}

/// What else costs something, by rule.
fn other_costs(layout: &Layout) -> Vec<String> {
    let mut remarks = Vec::new();
    for (rule, word, _) in RuleName::ALL {
        let told = match rule {
            RuleName::EachPanel => "carry more or less than `each-panel` asks",
            RuleName::PictureComes => {
                "have a picture nearer or further from its words than `picture-comes` asks"
            }
            RuleName::Fullest => "are fuller than `fullest`",
            RuleName::Emptiest => "are emptier than `emptiest`",
            RuleName::SharedPanels => {
                "have words or none beside their picture, other than `shared-panels` asks"
            }
            RuleName::Couplets
            | RuleName::KeepTogether
            | RuleName::NewPanel
            | RuleName::FewestLines => "could not keep it",
            _ => continue,
        };
        let costs = |panel: &&LaidPanel| panel.costs.iter().any(|(name, _)| *name == rule);
        let panels: Vec<String> = layout
            .panels
            .iter()
            .filter(costs)
            .map(|panel| panel.panel.to_string())
            .collect();
        if !panels.is_empty() {
            let subject = match told {
                "could not keep it" => format!("`{word}` gave way: {}", list(&panels)),
                _ => list(&panels),
            };
            remarks.push(format!("{} {told}.", capital(&subject)));
        }
    }
    remarks
}

/// Panels by name, or how many they are where the names would not be read.
pub(super) fn list(items: &[String]) -> String {
    match items {
        many if many.len() > 8 => format!("{} panels", many.len()),
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// How many panels carry words.
pub(super) fn panels_with_words(layout: &Layout) -> usize {
    let words = |panel: &&LaidPanel| matches!(panel.role, Role::Title | Role::Text | Role::Shared);
    layout.panels.iter().filter(words).count()
}
