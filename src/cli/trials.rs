//! `versefold trials`: the best ways that really differ, side by side.

use std::path::Path;

use super::args::{OutputArgs, TrialsArgs, panel_counts};
use super::flow::rows;
use super::remarks::remarks;
use super::report::{FaultRecord, RemarksRecord};
use super::written::WrittenRecord;
use super::{Done, book, keep, remarks, report, speak, written};
use crate::book::{BreaksPolicy, Trials, TrialsRequest};
use crate::cli::files;
use crate::division::Pattern;
use crate::json::{Figure, Format, records};
use crate::names::{Faults, capitalized};
use crate::outputs::{self, Kind};

/// No more trials than this are looked for.
const MOST: usize = 50;

pub(super) fn run(args: &TrialsArgs, output: &OutputArgs) -> Done {
    let held = match args.choose.is_some() && args.book.is_dir() {
        true => Some(files::hold(&args.book)?),
        false => None,
    };
    let progress = speak::Progress::begin(output, "dividing the words in other ways");
    let mut bench = book::open(&args.book)?;
    let request = TrialsRequest {
        most: usize::from(args.most),
        pattern: if args.fine {
            Pattern::Fine
        } else {
            Pattern::Kind
        },
        sizes: args.sizes.clone(),
        panels: panel_counts(&args.panels),
    };
    let mut trials = bench.trials(&request)?;
    // A number behind those that are shown is that of the next best.
    let number = args.choose.unwrap_or(1).min(MOST);
    if number > trials.trials.len() {
        trials = bench.trials(&TrialsRequest {
            most: number,
            ..request
        })?;
    }
    let file = bench.trials_file(&trials)?;
    let (folder, within) = match &args.out {
        Some(out) => (out.clone(), None),
        None => (args.book.join("out"), Some(args.book.as_path())),
    };
    // Nothing is written where what is chosen is not there.
    let update = args.choose.map(|number| bench.choose(&trials, number));
    let update = update.transpose()?;
    // Where the book as the plan has it cannot be made, nothing is known of its other files.
    let layout = bench.lay_out_book(&trials.texts, BreaksPolicy::All).ok();
    let prints = layout.as_ref().map(|layout| bench.prints(layout));
    let prints = prints.transpose()?;
    let mine = |name: &str, _| Kind::of(name) == Some(Kind::Trials);
    let made_from = |name: &str| prints.as_ref()?.of(name);
    let written = files::write_all(&folder, within, &[file], made_from, mine)?;
    let chosen = match update.as_ref().zip(held.as_ref()) {
        None => None,
        Some((update, held)) => Some(match &args.name {
            Some(way) => keep::write_way(held, &bench, update, way)?,
            None => keep::write(held, update.before.as_deref(), &update.text)?,
        }),
    };
    drop(progress);
    written::tell(&written);
    match (chosen, args.choose) {
        (Some(kept), Some(number)) if !output.json && !output.quiet => {
            tell_chosen(args, number, kept.as_deref())
        }
        _ => tell(&trials, &folder, &written, args, output),
    }
}

/// Says which trial was chosen, and where that is kept.
fn tell_chosen(args: &TrialsArgs, number: usize, moved_aside: Option<&str>) -> Done {
    speak::result(&match &args.name {
        Some(way) => keep::told_way(&args.book, way, moved_aside),
        None => format!(
            "Trial {number} is chosen: what it puts on each panel is kept in {}.\n{}",
            keep::path(&args.book),
            keep::told(moved_aside)
        ),
    })
}

/// Shows all trials: to other programs, or to people.
fn tell(
    trials: &Trials,
    folder: &Path,
    written: &files::Written,
    args: &TrialsArgs,
    output: &OutputArgs,
) -> Done {
    if output.json {
        let all = 0..trials.trials.len();
        speak::json(&TrialsRecord {
            format: Format,
            folder: folder.display().to_string(),
            chosen: args.choose,
            trials: all.map(|at| record(trials, at)).collect(),
            more: trials.more,
            no_way: no_way(trials),
            gone: gone(trials),
            written: written::record(written),
        })?;
    } else if !output.quiet {
        speak::result(&told(trials, args.costs))?;
        let path = folder.join("trials.pdf");
        speak::result(&format!("All of them side by side: {}\n", path.display()))?;
    }
    Ok(())
}

fn told(trials: &Trials, costs: bool) -> String {
    let mut text = String::new();
    for (at, trial) in trials.trials.iter().enumerate() {
        let heading = format!("{}. {}", at + 1, trial.name(at));
        text.push_str(&format!("{}\n", speak::bold(&heading)));
        text.push_str(&rows(&trial.layout));
        if at > 0 {
            text.push_str(&format!("– {}\n", difference(trials, at)));
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
    if trials.more {
        text.push_str(
            "Among the best divisions there are no more that a reader would tell apart; --fine shows more.\n\n",
        );
    }
    // What stands in the way of several at once is told once.
    let mut none: Vec<(String, Vec<String>)> = Vec::new();
    for (variation, faults) in &trials.none {
        let why = why_not(faults);
        match none.iter_mut().find(|(known, _)| *known == why) {
            Some((_, names)) => names.push(variation.name()),
            None => none.push((why, vec![variation.name()])),
        }
    }
    for (way, faults) in &trials.gone {
        let names = vec![format!("the way kept as {way}")];
        none.push((why_not(faults), names));
    }
    for (why, names) in none {
        let heading = capitalized(&names.join("; "));
        text.push_str(&format!("{}: no way. {why}.\n\n", speak::bold(&heading)));
    }
    text
}

fn why_not(faults: &Faults) -> String {
    let told = faults.iter().map(|fault| capitalized(&fault.what));
    told.collect::<Vec<_>>().join("; ")
}

records! {
    /// `trials`: the best ways to divide the words that really differ, the best first.
    pub(super) struct TrialsRecord {
        /// The number of the form that this record has.
        format: Format,
        /// The output folder.
        folder: String,
        /// Which trial was chosen, by number. Null where none was.
        chosen: Option<usize>,
        /// The trials.
        trials: Vec<TrialRecord>,
        /// Whether there may be more ways that differ, behind all that were looked through.
        more: bool,
        /// Sizes and numbers of panels that were asked for and at which there is no way.
        no_way: Vec<NoWayRecord>,
        /// Ways kept by name that are no more possible.
        gone: Vec<GoneWayRecord>,
        ..written: WrittenRecord,
    }

    /// One way to divide the words.
    pub(super) struct TrialRecord {
        /// Its number, from 1.
        trial: usize,
        /// The type size, where it is not the plan's.
        size_pt: Option<Figure>,
        /// How many panels a side has, where it is not as in the plan.
        panels_per_side: Option<u16>,
        /// The name by which it is kept. Null where it is not.
        kept_as: Option<String>,
        /// What it costs under the author's rules.
        cost: u64,
        /// Whether no other division of its kind costs less.
        proved: bool,
        /// The rhythm row of each side, as people see it.
        rows: Vec<String>,
        /// How it differs from the first, in a sentence. Null of the first.
        differs: Option<String>,
        /// Every panel.
        panels: Vec<TrialPanelRecord>,
        ..remarks: RemarksRecord,
    }

    /// A panel of a trial.
    pub(super) struct TrialPanelRecord {
        /// Its name.
        panel: String,
        /// What it carries.
        role: &'static str,
        /// Its picture. Null where it has none.
        picture: Option<String>,
        /// The share of the text area's depth that the words take. Null where no words stand.
        fullness: Option<Figure>,
    }

    /// A way kept by name that is no more possible.
    pub(super) struct GoneWayRecord {
        /// Its name.
        kept_as: String,
        /// What stands in the way.
        faults: Vec<FaultRecord>,
    }

    /// What was tried without a way.
    pub(super) struct NoWayRecord {
        /// The type size, where it is not the plan's.
        size_pt: Option<Figure>,
        /// How many panels a side has, where it is not as in the plan.
        panels_per_side: Option<u16>,
        /// What stands in the way.
        faults: Vec<FaultRecord>,
    }
}

fn gone(trials: &Trials) -> Vec<GoneWayRecord> {
    let gone = trials.gone.iter().map(|(way, faults)| GoneWayRecord {
        kept_as: way.to_string(),
        faults: report::fault_records(faults),
    });
    gone.collect()
}

fn record(trials: &Trials, at: usize) -> TrialRecord {
    let trial = &trials.trials[at];
    let variation = &trial.variation;
    let panels = trial.layout.panels.iter().map(|panel| TrialPanelRecord {
        panel: panel.panel.to_string(),
        role: panel.role.word(),
        picture: panel.picture.clone(),
        fullness: panel.share().map(Figure::of),
    });
    TrialRecord {
        trial: at + 1,
        size_pt: variation.size.map(Figure::pt),
        panels_per_side: variation.panels,
        kept_as: trial.kept_as.as_ref().map(ToString::to_string),
        cost: trial.layout.cost,
        proved: trial.layout.proved,
        rows: rows(&trial.layout).lines().map(str::to_string).collect(),
        differs: (at > 0).then(|| difference(trials, at)),
        panels: panels.collect(),
        remarks: remarks::record(&trial.layout),
    }
}

/// How a trial differs from the first.
fn difference(trials: &Trials, at: usize) -> String {
    let layouts = trials.trials[..=at].iter().map(|trial| &trial.layout);
    outputs::difference(&layouts.collect::<Vec<_>>())
}

fn no_way(trials: &Trials) -> Vec<NoWayRecord> {
    let none = trials.none.iter().map(|(variation, faults)| NoWayRecord {
        size_pt: variation.size.map(Figure::pt),
        panels_per_side: variation.panels,
        faults: report::fault_records(faults),
    });
    none.collect()
}
