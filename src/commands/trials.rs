//! `versefold trials`: the best ways that really differ, side by side.

use serde_json::{Value, json};

use super::cli::{Trials as Asked, Voice};
use super::flow::rows;
use super::remarks::{capital, list, remarks};
use super::{Done, report, speak};
use crate::fault::Faults;
use crate::files;
use crate::layout::{LaidPanel, Layout};
use crate::outputs;
use crate::panels::Pattern;
use crate::plan::Role;
use crate::plan::vary::Variation;
use crate::units::{Length, decimals};
use crate::workbench::{Trial, Trials, TrialsAsked, Workbench};

/// The most differences that are told one by one.
const MOST_DIFFERENCES: usize = 4;

pub(super) fn run(asked: &Asked, voice: &Voice) -> Done {
    let progress = speak::Progress::begin(voice, "dividing the words in other ways");
    let mut bench = Workbench::new(&asked.book);
    let trials = bench.trials(&TrialsAsked {
        most: usize::from(asked.most),
        pattern: if asked.fine {
            Pattern::Fine
        } else {
            Pattern::Coarse
        },
        sizes: asked.sizes.clone(),
        panels: asked.panels.clone(),
    })?;
    let file = bench.trials_file(&trials)?;
    let (folder, within) = match &asked.out {
        Some(out) => (out.clone(), None),
        None => (asked.book.join("out"), Some(asked.book.as_path())),
    };
    let mine = outputs::is_of_trials;
    let written = files::write_all(&folder, within, &[file], mine).map_err(|fault| vec![fault])?;
    drop(progress);
    for (from, to) in &written.moved_aside {
        speak::message(&format!(
            "{from} was not as the program left it: it is kept as {to}, beside the new one."
        ));
    }
    if voice.json {
        let text = serde_json::to_string_pretty(&value(&trials)).unwrap_or_default();
        speak::result(&format!("{text}\n"));
    } else if !voice.quiet {
        speak::result(&told(&trials, asked.costs));
        let path = folder.join("trials.pdf");
        speak::result(&format!("All of them side by side: {}\n", path.display()));
    }
    Ok(())
}

fn told(trials: &Trials, costs: bool) -> String {
    let mut text = String::new();
    for (at, trial) in trials.trials.iter().enumerate() {
        let heading = format!("{}. {}", at + 1, name(&trial.variation, at));
        text.push_str(&format!("{}\n", speak::bold(&heading)));
        text.push_str(&rows(&trial.layout));
        if at > 0 {
            text.push_str(&format!(
                "– {}\n",
                difference(&trials.trials[0].layout, trial)
            ));
        }
        for remark in remarks(&trial.layout) {
            text.push_str(&format!("– {remark}\n"));
        }
        if costs {
            text.push_str(&format!(
                "{}\n",
                speak::dim(&format!("cost {}", trial.layout.cost))
            ));
        }
        text.push('\n');
    }
    for (variation, faults) in &trials.none {
        let heading = capital(&other(variation));
        text.push_str(&format!(
            "{}: no way. {}\n\n",
            speak::bold(&heading),
            why_not(faults)
        ));
    }
    text
}

fn name(variation: &Variation, at: usize) -> String {
    match (*variation == Variation::default(), at) {
        (true, 0) => "the best under your rules".to_string(),
        (true, _) => "another way".to_string(),
        (false, _) => other(variation),
    }
}

fn other(variation: &Variation) -> String {
    let points = |size: Length| format!("at {} pt", decimals(size.as_pt(), 2));
    let size = variation.size.map(points);
    let panels = variation
        .panels
        .map(|panels| format!("on {panels} panels a side"));
    let told: Vec<String> = size.into_iter().chain(panels).collect();
    match told.is_empty() {
        true => "as the plan is".to_string(),
        false => told.join(", "),
    }
}

fn why_not(faults: &Faults) -> String {
    let told = faults.iter().map(|fault| capital(&fault.what));
    told.collect::<Vec<_>>().join("; ")
}

/// How a trial differs from the first, in words.
fn difference(first: &Layout, trial: &Trial) -> String {
    let layout = &trial.layout;
    if layout.panels.len() != first.panels.len() {
        return format!(
            "{} panels in place of {}.",
            layout.panels.len(),
            first.panels.len()
        );
    }
    let pairs = first.panels.iter().zip(&layout.panels);
    let carries: Vec<String> = pairs
        .clone()
        .filter(|(one, other)| outputs::differ_in_pattern(one, other))
        .map(|(_, other)| format!("{} {}", other.panel, carries(other)))
        .collect();
    if !carries.is_empty() {
        return told_first(&carries);
    }
    let ends: Vec<String> = pairs
        .filter(|(one, other)| one.words().last() != other.words().last())
        .map(|(_, other)| format!("{} ends {}", other.panel, last_words(other)))
        .collect();
    match ends.is_empty() {
        true => "Every panel carries the same words.".to_string(),
        false => told_first(&ends),
    }
}

fn told_first(told: &[String]) -> String {
    let (first, rest) = told.split_at(told.len().min(MOST_DIFFERENCES));
    match rest.len() {
        0 => format!("{}.", capital(&list(first))),
        1 => format!("{}; and one more panel differs.", capital(&list(first))),
        n => format!("{}; and {n} more panels differ.", capital(&list(first))),
    }
}

fn carries(panel: &LaidPanel) -> String {
    let picture = panel.picture.as_deref().unwrap_or("a picture");
    match panel.role {
        Role::Text => "carries words alone".to_string(),
        Role::Shared => format!("carries words beside `{picture}`"),
        Role::Picture => format!("carries `{picture}`"),
        Role::Title => "carries the title".to_string(),
        Role::Blank => "is blank".to_string(),
        Role::PasteDown => "is pasted down".to_string(),
    }
}

fn last_words(panel: &LaidPanel) -> String {
    let words = panel.words();
    let Some(last) = words.last() else {
        return "without words".to_string();
    };
    let words: Vec<&str> = last.split_whitespace().collect();
    format!(
        "after “… {}”",
        words[words.len().saturating_sub(4)..].join(" ")
    )
}

fn value(trials: &Trials) -> Value {
    let first = trials.trials.first();
    let told = trials.trials.iter().enumerate().map(|(at, trial)| {
        let variation = &trial.variation;
        let differs = first.filter(|_| at > 0);
        json!({
            "trial": at + 1,
            "size_pt": variation.size.map(Length::as_pt),
            "panels_per_side": variation.panels,
            "cost": trial.layout.cost,
            "proved": trial.layout.proved,
            "rows": rows(&trial.layout).lines().collect::<Vec<_>>(),
            "gives_up": remarks(&trial.layout),
            "differs": differs.map(|first| difference(&first.layout, trial)),
            "panels": trial.layout.panels.iter().map(|panel| json!({
                "panel": panel.panel.to_string(),
                "role": panel.role.word(),
                "picture": panel.picture,
                "fullness": panel.share(),
            })).collect::<Vec<_>>(),
        })
    });
    let none = trials.none.iter().map(|(variation, faults)| {
        json!({
            "size_pt": variation.size.map(Length::as_pt),
            "panels_per_side": variation.panels,
            "faults": faults.iter().map(report::fault_value).collect::<Vec<_>>(),
        })
    });
    json!({
        "trials": told.collect::<Vec<_>>(),
        "no_way": none.collect::<Vec<_>>(),
    })
}
