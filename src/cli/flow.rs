//! `versefold flow`: how the words fall on the panels, and what was given up.

use std::path::Path;

use unicode_width::UnicodeWidthStr;

use super::args::{FlowArgs, OutputArgs};
use super::changes::{Earlier, SinceRecord};
use super::defaults::DefaultsRecord;
use super::remarks::remarks;
use super::report::RemarksRecord;
use super::rhythm::PictureSigns;
use super::{Done, book, changes, defaults, keep, remarks, speak, why};
use crate::book::compare::Record;
use crate::book::{BookTexts, BreaksPolicy, NamedPictures, Workbench};
use crate::cli::files;
use crate::json::records;
use crate::layout::breaks::WayName;
use crate::layout::{LaidPanel, Layout};
use crate::names::{Faults, Role, Side, Source, and_list};
use crate::outputs::{self, LayoutRecord};
use crate::plan::DEFAULTS;
use crate::text::LineKind;

/// How wide the explanation of signs is at most, in characters.
const WIDTH: usize = 96;

records! {
    /// `flow`: a book, laid out, what has changed since earlier layers, and what there is to know.
    pub(super) struct FlowRecord<'l> {
        ..layout: LayoutRecord<'l>,
        ..since: SinceRecord,
        ..defaults: DefaultsRecord,
        ..remarks: RemarksRecord,
    }
}

pub(super) fn run(args: &FlowArgs, output: &OutputArgs) -> Done {
    if let Some(panel) = args.why {
        return why::run(&args.book, panel, output);
    }
    let policy = if args.afresh {
        BreaksPolicy::Passed
    } else {
        BreaksPolicy::All
    };
    let held = match args.keep && args.book.is_dir() {
        true => Some(files::hold(&args.book)?),
        false => None,
    };
    let progress = speak::Progress::begin(output, "setting and dividing the words");
    let mut bench = book::open(&args.book)?;
    let earlier = earlier(args, &mut bench);
    let (earlier, layout, kept) = match &held {
        None => {
            let texts = texts(args, &mut bench);
            let laid = texts.and_then(|texts| bench.lay_out_book(&texts, policy));
            let (earlier, layout) = changes::both(earlier, laid)?;
            (earlier, layout, String::new())
        }
        Some(held) => keep_it(args, held, (&mut bench, policy), earlier)?,
    };
    let moved = match earlier.edition() {
        Some(edition) if edition < DEFAULTS => {
            let texts = texts(args, &mut bench)?;
            bench.new_defaults(&texts, policy, &layout, edition)?
        }
        _ => None,
    };
    let since = earlier.since(|| Record::of(&layout, None), None);
    drop(progress);
    if output.json {
        let record = FlowRecord {
            layout: outputs::layout_record(&layout),
            since: since.record(),
            defaults: defaults::record(moved.as_ref()),
            remarks: remarks::record(&layout),
        };
        speak::json(&record)?;
    } else if !output.quiet {
        speak::result(&format!("{}\n\n", speak::bold(&layout.title)))?;
        speak::result(&table(&layout, args.costs))?;
        speak::result("\n")?;
        speak::result(&rows_and_remarks(&layout))?;
        since.tell()?;
        if let Some(moved) = &moved {
            speak::result(&format!("\n{}\n", defaults::told(moved)))?;
        }
        speak::result(&kept)?;
    }
    Ok(())
}

/// Lays the book out and keeps what stands on each panel: with what it was compared with, and where it is kept.
fn keep_it(
    args: &FlowArgs,
    held: &files::Held,
    (bench, policy): (&mut Workbench, BreaksPolicy),
    earlier: Result<Earlier, Faults>,
) -> Result<(Earlier, Layout, String), Faults> {
    let before = bench.read_files().map(|texts| texts.breaks);
    let texts = texts(args, bench);
    if args.name_pictures {
        let named = texts.and_then(|texts| {
            let named = bench.name_pictures(&texts, policy)?;
            Ok((texts, named))
        });
        let (earlier, (texts, named)) = changes::both(earlier, named)?;
        let told = keep_names(args, held, (&texts, before?.as_deref()), &named)?;
        return Ok((earlier, named.update.layout, told));
    }
    let update = texts.and_then(|texts| bench.take_book(&texts, policy, true, &[]));
    let (earlier, update) = changes::both(earlier, update)?;
    let kept = match &args.name {
        Some(way) => keep::write_way(held, bench, &update, way)?,
        None => keep::write(held, before?.as_deref(), &update.text)?,
    };
    let told = kept_as(args, kept.as_deref());
    Ok((earlier, update.layout, told))
}

/// Writes the manuscript with its new callouts, the old one kept beside it, then what stands on each panel, and tells of both.
fn keep_names(
    args: &FlowArgs,
    held: &files::Held,
    (texts, breaks): (&BookTexts, Option<&Source>),
    named: &NamedPictures,
) -> Result<String, Faults> {
    let (old, new) = (&texts.manuscript, &named.manuscript);
    let (old_text, new_text) = (old.text.as_bytes(), new.text.as_bytes());
    let aside = held.replace(&old.name, Some(old_text), new_text, true)?;
    let kept = keep::write(held, breaks, &named.update.text)?;
    let names = named.names.iter();
    let names: Vec<String> = names
        .map(|(panel, name)| format!("[picture: {name}] is on {panel}"))
        .collect();
    Ok(format!(
        "\nIn {}, {}. The old one is kept as {}.\n{}",
        new.name,
        and_list(&names),
        aside.unwrap_or_default(),
        kept_as(args, kept.as_deref()),
    ))
}

/// The texts of the book, with the way that she names.
fn texts(args: &FlowArgs, bench: &mut Workbench) -> Result<BookTexts, Faults> {
    match &args.with {
        Some(way) => bench.read_files_with(way),
        None => bench.read_files(),
    }
}

/// What the layout is compared with: the file or the way that she names, or the last layers.
fn earlier(args: &FlowArgs, bench: &mut Workbench) -> Result<Earlier, Faults> {
    let named = args.against.as_deref();
    let way = named.and_then(|named| named.to_str()?.parse::<WayName>().ok());
    let way = way.filter(|way| bench.ways().contains(way));
    match (way, named.is_some_and(Path::exists)) {
        (Some(way), false) => {
            let texts = bench.read_files_with(&way)?;
            let layout = bench.lay_out_book(&texts, BreaksPolicy::All)?;
            Ok(Earlier::Way(Record::of(&layout, None), way))
        }
        _ => Earlier::read(&args.book.join("out"), named),
    }
}

/// Where what stands on each panel is kept.
fn kept_as(args: &FlowArgs, moved_aside: Option<&str>) -> String {
    match &args.name {
        Some(way) => format!("\n{}", keep::told_way(&args.book, way, moved_aside)),
        None => format!(
            "\nWhat stands on each panel is kept in {}: corrections now change as little as can be.\n{}",
            keep::path(&args.book),
            keep::told(moved_aside)
        ),
    }
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
            padded(&words(panel, layout), 46),
            picture(panel),
        );
        let line = match panel.passed {
            true => format!("{line}  passed"),
            false => line,
        };
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

/// The panel's picture; an arrow shows that it goes on from the panel before.
fn picture(panel: &LaidPanel) -> String {
    let name = panel.picture.as_deref().unwrap_or_default();
    let arrow = if panel.goes_on() { "↳ " } else { "" };
    format!("{arrow}{name}")
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

/// The first and the last words of a panel; of one that is kept for a picture without a name, the words before it.
fn words(panel: &LaidPanel, layout: &Layout) -> String {
    if !panel.has_unnamed_picture() {
        return first_and_last(panel, layout);
    }
    let pictures = layout.unnamed_pictures();
    let own = pictures.iter().find(|own| own.panel == panel.panel);
    match own.and_then(|own| own.after.as_ref()) {
        Some(words) => format!("a picture after “{words}”"),
        None => "a picture before the first words".to_string(),
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
        .find(|other| {
            other
                .lines
                .iter()
                .any(|line| line.kind != LineKind::Caption)
        })
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
    let explained = PictureSigns::of(layout).explained(layout, WIDTH);
    text.push_str(&speak::dim(explained.trim_end_matches('\n')));
    text.push('\n');
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
    let signs = PictureSigns::of(layout);
    let row = |side: &Side| {
        let row = signs.row(layout, *side);
        format!("{}  {row}\n", padded(side.word(), 5))
    };
    layout.strip.sides().iter().map(row).collect()
}

/// How many panels carry words.
pub(super) fn panels_with_words(layout: &Layout) -> usize {
    let words = |panel: &&LaidPanel| matches!(panel.role, Role::Title | Role::Text | Role::Shared);
    layout.panels.iter().filter(words).count()
}
