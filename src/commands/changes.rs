//! What has changed since earlier layers: read before a command writes, told when it is done.

use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use super::remarks::capital;
use super::speak;
use crate::compare::{
    Changes, Difference, LayerChanges, Moved, PanelChange, Record, What, compare,
};
use crate::fault::{Fault, Faults};
use crate::files::{self, Listed};
use crate::plan::{PanelName, stretches};

/// The record of a layout below an output folder.
const RECORD: &str = "layout.json";

/// What the new layout is compared with.
pub(super) enum Earlier {
    /// Nothing: no layers were made.
    Nothing,
    /// Nothing, for what is there is not as it was left.
    Otherwise(PathBuf),
    /// The layers in the output folder.
    Last(Record),
    /// A file that she names.
    Named(Record, PathBuf),
}

impl Earlier {
    /// What to compare with: the file that is named, or else the last layers in `folder`.
    ///
    /// # Errors
    /// A named file that is missing or no layout.
    pub(super) fn read(folder: &Path, named: Option<&Path>) -> Result<Earlier, Faults> {
        if let Some(path) = named {
            return match read_named(path) {
                Ok(record) => Ok(Earlier::Named(record, path.to_path_buf())),
                Err(fault) => Err(vec![fault]),
            };
        }
        Ok(match files::read_listed(folder, RECORD) {
            Listed::Never => Earlier::Nothing,
            Listed::Otherwise => Earlier::Otherwise(folder.join(RECORD)),
            Listed::AsWritten(bytes) => {
                let text = String::from_utf8(bytes).ok();
                let record = text.and_then(|text| Record::read(&text).ok());
                record.map_or(Earlier::Otherwise(folder.join(RECORD)), Earlier::Last)
            }
        })
    }

    /// What has changed since, if it can be told.
    pub(super) fn changes(&self, new: impl FnOnce() -> Record) -> Option<Changes> {
        match self {
            Earlier::Nothing | Earlier::Otherwise(_) => None,
            Earlier::Last(old) | Earlier::Named(old, _) => Some(compare(old, &new())),
        }
    }

    /// Why it cannot be told what has changed, where that is not plain.
    fn why_not(&self) -> Option<String> {
        match self {
            Earlier::Otherwise(path) => Some(format!(
                "{} is not as the last run left it: what has changed since cannot be told.",
                path.display()
            )),
            _ => None,
        }
    }

    fn since(&self) -> String {
        match self {
            Earlier::Named(_, path) => path.display().to_string(),
            _ => "the last layers".to_string(),
        }
    }

    /// How much is told: all that is readable where she asks for it.
    fn most(&self) -> Most {
        match self {
            Earlier::Named(..) => Most {
                panels: 30,
                differences: 4,
            },
            _ => Most {
                panels: 8,
                differences: 1,
            },
        }
    }
}

/// What two steps came to, with the faults of both.
pub(super) fn both<A, B>(
    one: Result<A, Faults>,
    other: Result<B, Faults>,
) -> Result<(A, B), Faults> {
    match (one, other) {
        (Ok(one), Ok(other)) => Ok((one, other)),
        (Err(faults), Ok(_)) | (Ok(_), Err(faults)) => Err(faults),
        (Err(mut faults), Err(more)) => {
            faults.extend(more);
            Err(faults)
        }
    }
}

fn read_named(path: &Path) -> Result<Record, Fault> {
    let name = path.display().to_string();
    let right = "a `layout.json` that `versefold layers` wrote, or a copy of one";
    let text = files::read_text(path, &name).map_err(|fault| match fault.allowed {
        Some(_) => fault,
        None => fault.allowed(right),
    })?;
    Record::read(&text).map_err(|error| {
        let what = format!("`{name}` is no layout to compare with: {}", error.what);
        Fault::new("no-layout", what).allowed(right)
    })
}

/// How much is told.
struct Most {
    panels: usize,
    /// On each panel.
    differences: usize,
}

/// When changes are told.
#[derive(Clone, Copy)]
pub(super) enum Told<'w> {
    /// Before anything is written.
    Ahead,
    /// When these files have been written.
    Done(&'w [String]),
}

/// Tells people what has changed.
pub(super) fn tell(earlier: &Earlier, changes: Option<&Changes>, told: Told<'_>) {
    if let Some(changes) = changes {
        speak::result(&format!("\n{}", words(earlier, changes, told)));
    } else if let Some(why) = earlier.why_not() {
        speak::message(&why);
    }
}

fn words(earlier: &Earlier, changes: &Changes, told: Told<'_>) -> String {
    let since = earlier.since();
    // Whether a layer's bytes are new can only be said of the layers that were there.
    let rewritten = match (earlier, told) {
        (Earlier::Last(_), Told::Done(written)) => rewritten(changes, written).len(),
        _ => 0,
    };
    if changes.none() {
        let mut text = match told {
            Told::Ahead => {
                format!("All would be as in {since}: no layer would have to be replaced")
            }
            Told::Done(_) => format!("All is as in {since}: no layer need be replaced"),
        };
        text.push_str(&only_properties(rewritten));
        text.push_str(".\n");
        return text;
    }
    let mut text = match told {
        Told::Ahead => format!("Since {since}, `versefold layers` would bring:\n"),
        Told::Done(_) => format!("Changed since {since}:\n"),
    };
    let most = earlier.most();
    for line in panels(&changes.panels, &most) {
        text.push_str(&format!("  {line}\n"));
    }
    for sentence in sentences(changes, &most) {
        text.push_str(&format!("– {sentence}\n"));
    }
    text.push_str(&layers(&changes.layers, rewritten));
    text
}

/// Layers that show what they showed and yet have new bytes.
fn rewritten<'c>(changes: &'c Changes, written: &[String]) -> Vec<&'c String> {
    let below = |name: &String| written.contains(&below(name));
    changes
        .layers
        .keep
        .iter()
        .filter(|name| below(name))
        .collect()
}

/// A layer's name below the output folder.
fn below(name: &String) -> String {
    format!("layers/{name}")
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
    let shown = most_of(changes.moved.len(), most.panels);
    let mut sentences: Vec<String> = changes.moved[..shown].iter().map(moved).collect();
    if changes.moved.len() > shown {
        sentences.push(format!(
            "And {} more times words went from one panel to another.",
            changes.moved.len() - shown
        ));
    }
    let on = |what: What| -> Vec<PanelName> {
        let panels = changes.panels.iter().filter(|panel| panel.what == what);
        panels.map(|panel| panel.panel).collect()
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
            sentences.push(format!("{told}: {}.", stretches::told(&panels)));
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
        capital(&format!("{number} {thing}{s}"))
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
            let names = match all && told == "Replace" {
                true => format!("every layer that was there before: {} files", names.len()),
                false => runs(names),
            };
            text.push_str(&format!("{told:<9} {names}\n"));
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

/// Tells programs what has changed, as `changed` of a value: null where nothing was compared, and `not_compared` says
/// why if that is not plain.
pub(super) fn add_to(
    value: &mut Value,
    earlier: &Earlier,
    changes: Option<&Changes>,
    written: &[String],
) {
    if let Some(why) = earlier.why_not() {
        value["not_compared"] = json!(why);
    }
    value["changed"] = changes.map_or(Value::Null, |changes| changed(earlier, changes, written));
}

fn changed(earlier: &Earlier, changes: &Changes, written: &[String]) -> Value {
    let difference = |one: &Difference| json!({ "before": one.before, "old": one.old, "new": one.new, "after": one.after });
    let panels = changes.panels.iter().map(|panel| {
        json!({
            "panel": panel.panel.to_string(),
            "what": panel.what.word(),
            "differences": panel.differences.iter().map(difference).collect::<Vec<_>>(),
        })
    });
    let moved = changes.moved.iter().map(|moved| {
        json!({
            "from": moved.from.to_string(), "to": moved.to.to_string(),
            "lines": moved.lines, "words": moved.words,
        })
    });
    let all_below = |names: &[String]| -> Vec<String> { names.iter().map(below).collect() };
    let rewritten = match earlier {
        Earlier::Last(_) => rewritten(changes, written),
        _ => Vec::new(),
    };
    json!({
        "since": earlier.since(),
        "panels": panels.collect::<Vec<_>>(),
        "moved": moved.collect::<Vec<_>>(),
        "other_form": changes.other_form,
        "replace": all_below(&changes.layers.replace),
        "place": all_below(&changes.layers.place),
        "take_out": all_below(&changes.layers.take_out),
        "keep": all_below(&changes.layers.keep),
        "keep_though_written": rewritten.into_iter().map(below).collect::<Vec<_>>(),
    })
}
