//! What has changed, in words for people.

use crate::book::compare::{Changes, Difference, LayerChanges, Moved, PanelChange, What};
use crate::names::{Length, PanelName, capitalized, decimals, panel_list};

/// Lines that move by less are told by how much: she may see whether it matters.
const SMALL_SHIFT: Length = Length::mm(1);

/// How much is told.
pub(super) struct Most {
    pub panels: usize,
    /// Moves from one panel to another.
    pub moves: usize,
    /// On each panel.
    pub differences: usize,
}

/// All of it. `ahead`: nothing is written yet. `rewritten`: how many layers are to be kept and yet have new bytes.
pub(super) fn told(
    changes: &Changes,
    since: &str,
    most: &Most,
    ahead: bool,
    rewritten: usize,
) -> String {
    if changes.none() {
        let text = match ahead {
            true => format!("All would be as in {since}: no layer would have to be replaced"),
            false => format!("All is as in {since}: no layer need be replaced"),
        };
        return format!("{text}{}.\n", only_properties(rewritten));
    }
    let mut text = match ahead {
        true => format!("Since {since}, `versefold layers` would bring:\n"),
        false => format!("Changed since {since}:\n"),
    };
    for line in panels(&changes.panels, most) {
        text.push_str(&format!("  {line}\n"));
    }
    for sentence in sentences(changes, most) {
        text.push_str(&format!("– {sentence}\n"));
    }
    text.push_str(&layers(&changes.layers, rewritten));
    text
}

/// Panels with changed words, one a line.
fn panels(changed: &[PanelChange], most: &Most) -> Vec<String> {
    let differing = |panel: &&PanelChange| !panel.differences.is_empty();
    let panels: Vec<&PanelChange> = changed.iter().filter(differing).collect();
    let shown = most_of(panels.len(), most.panels);
    let line = |panel: &&PanelChange| {
        let all = &panel.differences;
        let few = most_of(all.len(), most.differences);
        let told: Vec<String> = all[..few].iter().map(difference).collect();
        let more = match all.len() - few {
            0 => String::new(),
            more => format!(", and {more} more changes"),
        };
        format!("{:<9} {}{more}", panel.panel.to_string(), told.join(", "))
    };
    let mut lines: Vec<String> = panels[..shown].iter().map(line).collect();
    if panels.len() > shown {
        lines.push(format!(
            "and changed words on {} more panels",
            panels.len() - shown
        ));
    }
    lines
}

/// How many of so many are told one by one: one more than `most` would be told as “and 1 more”, which is no shorter.
fn most_of(count: usize, most: usize) -> usize {
    if count <= most + 1 { count } else { most }
}

/// “the bus was [yellow → blue] that year”.
fn difference(difference: &Difference) -> String {
    let Difference {
        before,
        old,
        new,
        after,
    } = difference;
    let change = match (old.is_empty(), new.is_empty()) {
        (true, _) => format!("[+ {}]", shortened(new)),
        (_, true) => format!("[− {}]", shortened(old)),
        _ => format!("[{} → {}]", shortened(old), shortened(new)),
    };
    let parts = [before, &change, after].into_iter();
    let parts: Vec<&str> = parts
        .map(String::as_str)
        .filter(|part| !part.is_empty())
        .collect();
    format!("“{}”", parts.join(" "))
}

/// The first and last words of many.
fn shortened(words: &str) -> String {
    let all: Vec<&str> = words.split(' ').collect();
    match all.len() {
        0..=9 => words.to_string(),
        many => format!(
            "{} … {} ({many} words)",
            all[..4].join(" "),
            all[many - 3..].join(" ")
        ),
    }
}

/// What moved, and panels whose words are the same.
fn sentences(changes: &Changes, most: &Most) -> Vec<String> {
    let shown = most_of(changes.moved.len(), most.moves);
    let mut sentences: Vec<String> = changes.moved[..shown].iter().map(moved).collect();
    if changes.moved.len() > shown {
        sentences.push(format!(
            "And {} more such moves.",
            changes.moved.len() - shown
        ));
    }
    let moves = |panel: PanelName| {
        let mut moved = changes.moved.iter();
        moved.any(|moved| panel == moved.from || panel == moved.to)
    };
    let untold = changes.panels.iter().filter(|panel| {
        panel.what == What::Words && panel.differences.is_empty() && !moves(panel.panel)
    });
    let untold: Vec<PanelName> = untold.map(|panel| panel.panel).collect();
    if !untold.is_empty() {
        sentences.push(format!("Other words stand on: {}.", panel_list(&untold)));
    }
    let shifted = |panel: &&PanelChange| panel.shift.is_some_and(|shift| shift < SMALL_SHIFT);
    let small: Vec<&PanelChange> = changes.panels.iter().filter(shifted).collect();
    if let Some(most) = small.iter().filter_map(|panel| panel.shift).max() {
        let panels: Vec<PanelName> = small.iter().map(|panel| panel.panel).collect();
        sentences.push(format!(
            "The same lines stand in other places, by {} mm at most: {}.",
            decimals(most.as_mm(), 2),
            panel_list(&panels)
        ));
    }
    let on = |what: What| -> Vec<PanelName> {
        let panels = changes.panels.iter().filter(|panel| panel.what == what);
        panels
            .filter(|panel| !shifted(panel))
            .map(|panel| panel.panel)
            .collect()
    };
    for (what, told) in [
        (What::Places, "The same words stand in other places"),
        (
            What::Look,
            "The same words in their places look otherwise (their face or ink, or the bleed)",
        ),
    ] {
        let panels = on(what);
        if !panels.is_empty() {
            sentences.push(format!("{told}: {}.", panel_list(&panels)));
        }
    }
    if changes.other_form {
        sentences.push("Words are written in another form (as outlines, or as text).".to_string());
    }
    sentences
}

fn moved(moved: &Moved) -> String {
    let counted = |count: usize, thing: &str| {
        let words = [
            "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine",
        ];
        let number = words
            .get(count)
            .map_or(count.to_string(), |word| word.to_string());
        let s = if count == 1 { "" } else { "s" };
        capitalized(&format!("{number} {thing}{s}"))
    };
    let what = match moved.lines {
        0 => counted(moved.words, "word"),
        lines => counted(lines, "line"),
    };
    match moved.from == moved.to {
        true => format!("{what} of {} came to stand in another order.", moved.to),
        false => format!("{what} went from {} to {}.", moved.from, moved.to),
    }
}

/// What is to be done with the layers.
fn layers(layers: &LayerChanges, rewritten: usize) -> String {
    let mut text = String::new();
    let all = layers.keep.is_empty() && layers.replace.len() > 2;
    for (told, names) in [
        ("Replace", &layers.replace),
        ("Place", &layers.place),
        ("Take out", &layers.take_out),
    ] {
        if !names.is_empty() {
            let (passed, others) = match told {
                "Replace" => names.split_at(layers.passed),
                _ => names.split_at(0),
            };
            let mut lines = Vec::new();
            if !passed.is_empty() {
                lines.push(format!(
                    "{}, passed for press: tell the printer first",
                    runs(passed)
                ));
            }
            if all && told == "Replace" {
                let count = names.len();
                lines.push(format!("every layer that was there before: {count} files"));
            } else if !others.is_empty() {
                lines.push(runs(others));
            }
            for (at, line) in lines.iter().enumerate() {
                let told = if at == 0 { told } else { "" };
                text.push_str(&format!("{told:<9} {line}\n"));
            }
        }
    }
    if !layers.keep.is_empty() {
        let names = match layers.keep.len() <= 6 {
            true => runs(&layers.keep),
            false => format!("the other {} layers", layers.keep.len()),
        };
        text.push_str(&format!(
            "{:<9} {names}{}\n",
            "Keep",
            only_properties(rewritten)
        ));
    }
    text
}

fn only_properties(rewritten: usize) -> String {
    let layers = match rewritten {
        0 => return String::new(),
        1 => "one of them differs".to_string(),
        many => format!("{many} of them differ"),
    };
    format!(" ({layers} only in what the file says of itself, such as its title)")
}

/// File names, those of panels that follow each other by the first and the last.
fn runs(names: &[String]) -> String {
    let number = |name: &str| -> Option<(String, u32)> {
        let (side, number) = name.strip_suffix(".pdf")?.split_once('-')?;
        Some((side.to_string(), number.parse().ok()?))
    };
    let follows = |one: &String, next: &String| match (number(one), number(next)) {
        (Some((side, one)), Some((other, next))) => side == other && one + 1 == next,
        _ => false,
    };
    let told = names.chunk_by(follows).map(|run| match run {
        [first, .., last] if run.len() > 2 => format!("{first} to {last}"),
        _ => run.join(", "),
    });
    told.collect::<Vec<_>>().join(", ")
}
