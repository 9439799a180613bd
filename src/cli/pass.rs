//! `versefold pass`: panels whose art is printed.

use std::path::Path;
use std::sync::Arc;

use super::args::{OutputArgs, PassArgs, Stretches};
use super::changes::Earlier;
use super::remarks::list;
use super::written::MovedAsideRecord;
use super::{Done, book, keep, speak};
use crate::book::BreaksPolicy;
use crate::book::compare::{Record, compare};
use crate::cli::files::{self, Held};
use crate::json::{Format, records};
use crate::layout::Layout;
use crate::layout::breaks::{self, BREAKS_FILE, Breaks};
use crate::names::{Fault, Faults, PanelName, Source, capitalized};

records! {
    /// `pass`: the panels that are passed for press.
    pub(super) struct PassRecord {
        /// The number of the form that this record has.
        format: Format,
        /// The panels that were passed.
        passed: Vec<String>,
        /// Those of them that the last layers show otherwise.
        not_as_in_the_last_layers: Vec<String>,
        /// The file that keeps it.
        file: String,
        /// That file as you edited it, where it has another name now.
        moved_aside: Vec<MovedAsideRecord>,
    }

    /// `pass --release`: panels that are no longer passed for press.
    pub(super) struct ReleaseRecord {
        /// The number of the form that this record has.
        format: Format,
        /// The panels that were released.
        released: Vec<String>,
        /// The file that keeps it.
        file: String,
        /// That file as you edited it, where it has another name now.
        moved_aside: Vec<MovedAsideRecord>,
    }
}

fn names(panels: &[PanelName]) -> Vec<String> {
    panels.iter().map(ToString::to_string).collect()
}

pub(super) fn run(args: &PassArgs, output: &OutputArgs) -> Done {
    let (book, panels) = args.book_and_panels();
    if !book.is_dir() {
        // It says that there is no book, and how to begin one.
        book::open(book)?;
    }
    let held = files::hold(book)?;
    match args.release {
        true => release(book, panels, &held, output),
        false => pass(book, panels, &held, output),
    }
}

fn pass(book: &Path, panels: &Stretches, held: &Held, output: &OutputArgs) -> Done {
    let progress = speak::Progress::begin(output, "setting and dividing the words");
    let mut bench = book::open(book)?;
    let texts = bench.read_files()?;
    let plan = bench.plan(&texts.plan)?;
    let strip: Vec<PanelName> = plan.paper.panels.all().collect();
    let panels = panels.among(&strip)?;
    let update = bench.take(BreaksPolicy::All, false, &panels)?;
    let kept = keep::write(held, update.before.as_deref(), &update.text)?;
    let stale = not_as_placed(book, &update.layout, &panels)?;
    drop(progress);
    if output.json {
        let record = PassRecord {
            format: Format,
            passed: names(&panels),
            not_as_in_the_last_layers: names(&stale),
            file: keep::path(book),
            moved_aside: keep::record(kept.as_deref()),
        };
        speak::json(&record)?;
    } else if !output.quiet {
        let (are, their) = many(panels.len());
        speak::result(&format!(
            "{} {are} passed for press: {their} lines stay where they stand.\n\
             A correction sets again only its own line of verse, or the rest of its own paragraph there.\n\
             Kept in {}. To take it back: versefold pass --release \"{}\"{}\n{}",
            capitalized(&stretches(&panels)),
            keep::path(book),
            call(&panels),
            folder(book),
            keep::told(kept.as_deref()),
        ))?;
    }
    if !stale.is_empty() && !output.json {
        let (are, _) = many(stale.len());
        speak::message(&format!(
            "{} {are} not as in the last layers: if those are printed, release, take the change back, and pass again; \
             if not, run versefold layers before you print.",
            capitalized(&stretches(&stale)),
        ));
    }
    Ok(())
}

/// Those of the panels that the last layers show otherwise.
fn not_as_placed(
    book: &Path,
    layout: &Layout,
    panels: &[PanelName],
) -> Result<Vec<PanelName>, Faults> {
    let earlier = Earlier::read(&book.join("out"), None)?;
    let Earlier::Last(last) = &earlier else {
        return Ok(Vec::new());
    };
    let changes = compare(last, &Record::of(layout, None));
    let changed = changes.panels.iter().map(|change| change.panel);
    Ok(changed.filter(|panel| panels.contains(panel)).collect())
}

fn release(book: &Path, panels: &Stretches, held: &Held, output: &OutputArgs) -> Done {
    let (source, mut breaks) = read(book)?;
    let passed: Vec<PanelName> = breaks.passed().map(|kept| kept.panel).collect();
    let asked = panels.among_passed(&passed)?;
    for kept in breaks
        .panels
        .iter_mut()
        .filter(|kept| asked.contains(&kept.panel))
    {
        kept.passed = None;
    }
    let text = breaks::write(&breaks);
    let kept = keep::write(held, Some(&source), &text)?;
    if output.json {
        let record = ReleaseRecord {
            format: Format,
            released: names(&asked),
            file: keep::path(book),
            moved_aside: keep::record(kept.as_deref()),
        };
        speak::json(&record)?;
    } else if !output.quiet {
        let (are, their) = many(asked.len());
        speak::result(&format!(
            "{} {are} released: {their} lines may move again.\n{}",
            capitalized(&stretches(&asked)),
            keep::told(kept.as_deref()),
        ))?;
    }
    Ok(())
}

fn read(book: &Path) -> Result<(Arc<Source>, Breaks), Faults> {
    let path = book.join(BREAKS_FILE);
    if path.symlink_metadata().is_err() {
        let fault = Fault::new("not-passed", "no panel of this book is passed for press");
        return Err(fault.into());
    }
    let text = files::read_text(&path, BREAKS_FILE)?;
    let source = Source::new(BREAKS_FILE, text);
    let breaks = breaks::read(&source)?;
    Ok((source, breaks))
}

fn many(count: usize) -> (&'static str, &'static str) {
    match count {
        1 => ("is", "its"),
        _ => ("are", "their"),
    }
}

/// Panels as people say them: "front 3 to front 6 and back 1".
pub(super) fn stretches(panels: &[PanelName]) -> String {
    let runs = panels.chunk_by(|one, next| next.follows(*one));
    let told = runs.flat_map(|run| match run {
        [first, _, .., last] => vec![format!("{first} to {last}")],
        few => few.iter().map(ToString::to_string).collect(),
    });
    list(&told.collect::<Vec<_>>())
}

/// Panels as a call names them: "front 3 to front 6, back 1".
fn call(panels: &[PanelName]) -> String {
    let runs = panels.chunk_by(|one, next| next.follows(*one) && next.side == one.side);
    let named = runs.flat_map(|run| match run {
        [first, _, .., last] => vec![format!("{first} to {last}")],
        few => few.iter().map(ToString::to_string).collect(),
    });
    named.collect::<Vec<_>>().join(", ")
}

/// The book of a call, where it is not the folder that one stands in.
fn folder(book: &Path) -> String {
    match book.display().to_string() {
        here if here == "." => String::new(),
        spaced if spaced.contains(' ') => format!(" \"{spaced}\""),
        book => format!(" {book}"),
    }
}
