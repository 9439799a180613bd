//! What was given up, in words: every rule has its clause ([`given_up`](crate::rules::Rule::given_up)).

mod blanks;
mod pictures;

use super::report::{RemarkRecord, RemarksRecord};
use crate::layout::{LaidPanel, Layout};
use crate::names::{Location, and_list, capitalized};
use crate::plan::{RuleName, Undivided};

/// What was given up and what there is to know, in words.
pub(super) fn remarks(layout: &Layout) -> Vec<String> {
    let mut remarks = given_up(layout);
    remarks.extend(notes(layout));
    remarks.extend(not_proved(layout));
    remarks
}

/// The remarks as a record for programs: of what the layout itself has to say, each by itself.
pub(super) fn record(layout: &Layout) -> RemarksRecord {
    let given_up = given_up(layout);
    let given_up = given_up.iter().map(|remark| RemarkRecord::of(remark));
    let notes = layout.notes.iter().map(RemarkRecord::from);
    let not_proved = not_proved(layout);
    let not_proved = not_proved.iter().map(|remark| RemarkRecord::of(remark));
    RemarksRecord {
        remarks: given_up.chain(notes).chain(not_proved).collect(),
    }
}

fn not_proved(layout: &Layout) -> Option<String> {
    let told = "There was too much to try: a still better division may exist.";
    (!layout.proved).then(|| told.to_string())
}

/// What was given up, in words.
fn given_up(layout: &Layout) -> Vec<String> {
    let mut remarks = Vec::new();
    remarks.extend(divided_stanzas(layout));
    match layout.turned_over() {
        0 => {}
        1 => remarks.push("One line turns over.".to_string()),
        n => remarks.push(format!("{n} lines turn over.")),
    }
    remarks.extend(fullness_remark(layout));
    remarks.extend(other_costs(layout));
    remarks
}

/// The panels that begin with the rest of a stanza that could not stay whole.
fn divided_stanzas(layout: &Layout) -> Option<String> {
    if !told_already(layout, RuleName::Undivided) {
        return None;
    }
    let panels: Vec<String> = layout
        .panels
        .iter()
        .filter(|panel| panel.continues)
        .map(|panel| panel.panel.to_string())
        .collect();
    let begin = match panels.len() {
        0 => return None,
        1 => "begins",
        _ => "begin",
    };
    Some(format!(
        "Not every stanza could stay whole: {} {begin} with the rest of one (marked ↳).",
        list(&panels),
    ))
}

/// The notes, each sentence once with all the lines that it is about.
fn notes(layout: &Layout) -> Vec<String> {
    let mut told: Vec<(&str, Vec<&Location>)> = Vec::new();
    for note in &layout.notes {
        let known = told.iter().position(|(what, _)| *what == note.what);
        let known = known.unwrap_or_else(|| {
            told.push((&note.what, Vec::new()));
            told.len() - 1
        });
        told[known].1.extend(&note.place);
    }
    let sentence = |(what, places): &(&str, Vec<&Location>)| {
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
        format!("{}{at}.", capitalized(what))
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
            let cost = cost / u64::from(layout.rules.weight(*rule).importance.max(1));
            if let Some(asked) = asked(*rule).filter(|_| cost >= 40) {
                off.push((cost, panel, asked.0));
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
        1 => format!("{}.", capitalized(&far)),
        n => format!("{n} panels are a good deal fuller or emptier than asked; {far}."),
    })
}

/// What else costs something, by rule.
fn other_costs(layout: &Layout) -> Vec<String> {
    let told = |rule: RuleName| {
        if rule == RuleName::Blanks && layout.rules.blanks.is_none() {
            return blanks::unasked(layout);
        }
        let clause = rule.rule().given_up(&layout.rules);
        let clause = clause.filter(|_| !told_already(layout, rule))?;
        let worth = |cost| clause.is_worth_a_word(cost, &layout.rules, rule);
        let costs = |panel: &&LaidPanel| {
            let mut costs = panel.costs.iter();
            costs.any(|&(name, cost)| name == rule && worth(cost))
        };
        let panels: Vec<String> = layout
            .panels
            .iter()
            .filter(costs)
            .map(|panel| panel.panel.to_string())
            .collect();
        let what = match panels.len() {
            0 => return None,
            1 => clause.one,
            _ => clause.many,
        };
        let asked = match (rule, layout.rules.blanks) {
            (RuleName::Blanks, Some(blanks)) => format!(": {}", blanks::asked(blanks)),
            _ => String::new(),
        };
        Some(format!("{} {what}{asked}.", capitalized(&list(&panels))))
    };
    let rules = RuleName::ALL.iter().map(|&(rule, ..)| rule);
    let told = rules.flat_map(|rule| match rule {
        RuleName::Nearness | RuleName::PictureComes | RuleName::PictureWith | RuleName::Reveal => {
            pictures::away(layout, rule)
        }
        _ => told(rule).into_iter().collect(),
    });
    told.collect()
}

/// Whether `undivided` asks for whole stanzas; sentences that are divided are told panel by panel.
fn stanzas_whole(layout: &Layout) -> bool {
    layout.rules.undivided == Undivided::Stanza
}

/// Whether what a rule costs is told by itself: stanzas that could not stay whole, where they should.
fn told_already(layout: &Layout, rule: RuleName) -> bool {
    let must = layout.rules.is_hard(RuleName::Undivided);
    rule == RuleName::Undivided && stanzas_whole(layout) && must
}

/// Panels by name, or how many they are where the names would not be read.
pub(super) fn list(items: &[String]) -> String {
    match items.len() {
        many if many > 8 => format!("{many} panels"),
        _ => and_list(items),
    }
}
