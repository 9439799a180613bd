//! `versefold revise`: the client's corrected text.

mod told;

pub(super) use told::ReviseRecord;

use std::io::{BufRead, IsTerminal};
use std::sync::Arc;

use super::args::{OutputArgs, ReviseArgs};
use super::{Done, book, speak};
use crate::book::{BookTexts, BreaksPolicy, Workbench};
use crate::cli::files;
use crate::layout::breaks;
use crate::names::{Fault, Faults, Source};
use crate::plan::Plan;
use crate::text::has_readings;
use crate::text::revise::{ReadAs, Revision, revise};

pub(super) fn run(args: &ReviseArgs, output: &OutputArgs) -> Done {
    if args.file.is_dir() && args.book.is_file() {
        let what = format!(
            "`{}` is a folder, where the client's file is needed",
            args.file.display()
        );
        let help = "name the client's file first, then the book";
        return Err(Fault::new("is-folder", what).help(help).into());
    }
    let progress = speak::Progress::begin(output, "comparing the texts");
    let mut bench = book::open(&args.book)?;
    // Looked for before the folder is held: a folder that is no book is told as such.
    bench.read_files()?;
    let held = files::hold(&args.book)?;
    let texts = bench.read_files()?;
    let plan = bench.plan(&texts.plan)?;
    let manuscript = Arc::clone(&texts.manuscript);
    let client = client(args, &plan)?;
    let readings = |part: &str| {
        let part = plan.part(part).map(|part| &part.language);
        has_readings(part.unwrap_or(&plan.language))
    };
    let read_as = ReadAs {
        set_as: plan.set_as,
        has_readings: &readings,
    };
    let revision = revise(&manuscript, read_as, &client)?;
    if revision.text == manuscript.text {
        drop(progress);
        return told::nothing(output, &revision, (&manuscript.name, &client.name));
    }
    let source = Source::new(manuscript.name.as_str(), revision.text.as_str());
    let revised = BookTexts {
        manuscript: source,
        ..texts
    };
    let laid = bench.lay_out_book(&revised, BreaksPolicy::All);
    drop(progress);
    keeps_what_is_printed(&mut bench, &revised, laid.as_ref().err())?;
    may_be_written(args, output, &client.name, &revision)?;
    let (old, new) = (manuscript.text.as_bytes(), revision.text.as_bytes());
    let kept = held.replace(&manuscript.name, Some(old), new, true);
    let kept = kept?.unwrap_or_default();
    let faults = laid.err().unwrap_or_else(Faults::new);
    told::tell(
        output,
        &told::WrittenRevision {
            revision: &revision,
            manuscript: &manuscript.name,
            kept: &kept,
            faults: &faults,
        },
    )
}

/// The client's file.
fn client(args: &ReviseArgs, plan: &Plan) -> Result<Arc<Source>, Faults> {
    let name = args.file.display().to_string();
    let text = files::read_text(&args.file, &name)?;
    let own = args.book.join(&plan.manuscript);
    let same = std::fs::canonicalize(&args.file)
        .ok()
        .zip(std::fs::canonicalize(&own).ok());
    if same.is_some_and(|(one, other)| one == other) {
        let what = format!("`{name}` is the book's own manuscript");
        let help = "name the file that the client sent back; what you change in the manuscript yourself needs no `revise`";
        return Err(Fault::new("own-manuscript", what).help(help).into());
    }
    Ok(Source::new(name, text))
}

/// Refuses a text that would move what is printed, or has no room around it. Other faults it brings are told once it is
/// written.
fn keeps_what_is_printed(
    bench: &mut Workbench,
    revised: &BookTexts,
    faults: Option<&Faults>,
) -> Done {
    let (Some(faults), Some(source)) = (faults, &revised.breaks) else {
        return Ok(());
    };
    let is_printed = |fault: &&Fault| fault.word == "passed";
    let printed: Faults = faults.iter().filter(is_printed).cloned().collect();
    if !printed.is_empty() {
        return Err(printed);
    }
    let passed = breaks::read(source).is_ok_and(|breaks| breaks.passed().next().is_some());
    let nothing_kept = BookTexts {
        breaks: None,
        ..revised.clone()
    };
    match passed && bench.lay_out_book(&nothing_kept, BreaksPolicy::All).is_ok() {
        true => Err(faults.clone()),
        false => Ok(()),
    }
}

/// Everything else that may still refuse the new text; nothing has been written yet. A text that would take the place of a
/// wholly different one is asked about.
fn may_be_written(args: &ReviseArgs, output: &OutputArgs, file: &str, revision: &Revision) -> Done {
    let (found, all) = revision.found;
    if args.yes || found * 2 >= all {
        return Ok(());
    }
    let what =
        format!("of the {all} words of the manuscript only {found} are found again in `{file}`");
    let terminal = std::io::stdin().is_terminal() && std::io::stderr().is_terminal();
    if terminal && !output.json {
        speak::question(&format!(
            "{what}.\nIs it the right file, and shall it take the manuscript's place? (yes, no) [no]"
        ));
        let mut line = String::new();
        // What cannot be read is no yes.
        let read = std::io::stdin().lock().read_line(&mut line);
        if read.is_ok() && matches!(line.trim().to_lowercase().as_str(), "yes" | "y") {
            return Ok(());
        }
        let what = "nothing was written: the manuscript is as it was";
        return Err(Fault::new("another-text", what).into());
    }
    let help = "nothing was written; if it is the right file, say --yes";
    Err(Fault::new("another-text", what).help(help).into())
}
