//! `versefold revise`: the client's corrected text, whole or change by change.

mod listed;
mod numbers;
mod passed;
mod record;
mod told;

pub(super) use numbers::numbers;
pub(super) use record::ReviseRecord;

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
use crate::text::revise::{Choice, ReadAs, Revision, revise};
use passed::PassedLines;
use told::{Told, Written};

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
    let client = client(args, &plan)?;
    let mut taking = Taking {
        bench,
        texts,
        plan,
        client,
    };
    let mut choice = choice(args);
    let mut taken = taking.take(&choice)?;
    drop(progress);
    let mut listed = false;
    if !taken.is_idle(&taking) && !args.look {
        taking.keeps_what_is_printed(&taken)?;
        is_the_right_text(args, output, &taking.client.name, &taken.revision)?;
        if choice == Choice::All && may_ask(args, output) {
            speak::result(&told::changes(&taking.told(&taken, false)))?;
            choice = match ask()? {
                Some(choice) => choice,
                None => return speak::result("\nNothing was written.\n"),
            };
            listed = true;
            if choice != Choice::All {
                taken = taking.take(&choice)?;
                taking.keeps_what_is_printed(&taken)?;
            }
        }
    }
    let told = taking.told(&taken, listed);
    if taken.is_idle(&taking) {
        return told::nothing(output, &told, &taking.client.name);
    }
    if args.look {
        return told::looked_at(output, &told);
    }
    let manuscript = &taking.texts.manuscript;
    let (old, new) = (manuscript.text.as_bytes(), taken.revision.text.as_bytes());
    let kept = held.replace(&manuscript.name, Some(old), new, true);
    let written = Written {
        kept: &kept?.unwrap_or_default(),
        faults: &taken.faults,
    };
    told::tell(output, &told, &written)
}

/// What is taken in, and into what.
struct Taking {
    bench: Workbench,
    texts: BookTexts,
    plan: Arc<Plan>,
    client: Arc<Source>,
}

/// The book with the client's words.
struct Taken {
    revision: Revision,
    revised: BookTexts,
    passed: PassedLines,
    /// What is wrong with the book then.
    faults: Faults,
}

impl Taken {
    /// Whether the manuscript stays as it is.
    fn is_idle(&self, taking: &Taking) -> bool {
        self.revision.text == taking.texts.manuscript.text
    }
}

impl Taking {
    /// Takes the client's changes in, as far as they are chosen; nothing is written.
    fn take(&mut self, choice: &Choice) -> Result<Taken, Faults> {
        let plan = Arc::clone(&self.plan);
        let readings = |part: &str| {
            let part = plan.part(part).map(|part| &part.language);
            has_readings(part.unwrap_or(&plan.language))
        };
        let read_as = ReadAs {
            set_as: plan.set_as,
            has_readings: &readings,
        };
        let manuscript = Arc::clone(&self.texts.manuscript);
        let revision = revise(&manuscript, read_as, &self.client, choice)?;
        let revised = BookTexts {
            manuscript: Source::new(manuscript.name.as_str(), revision.text.as_str()),
            ..self.texts.clone()
        };
        let mut taken = Taken {
            revision,
            revised,
            passed: PassedLines::default(),
            faults: Faults::new(),
        };
        if taken.is_idle(self) {
            return Ok(taken);
        }
        match self.bench.lay_out_book(&taken.revised, BreaksPolicy::All) {
            Err(faults) => taken.faults = faults,
            Ok(new) if new.panels.iter().any(|panel| panel.passed) => {
                // A book that could not be made before has nothing to compare with.
                if let Ok(old) = self.bench.lay_out_book(&self.texts, BreaksPolicy::All) {
                    taken.passed = PassedLines::of(&old, &new, &taken.revision.text);
                }
            }
            Ok(_) => {}
        }
        Ok(taken)
    }

    fn told<'a>(&'a self, taken: &'a Taken, listed: bool) -> Told<'a> {
        Told {
            revision: &taken.revision,
            passed: &taken.passed,
            manuscript: &self.texts.manuscript.name,
            listed,
        }
    }

    /// Refuses a text that would move what is printed, or has no room around it. Other faults it brings are told once it is
    /// written.
    fn keeps_what_is_printed(&mut self, taken: &Taken) -> Done {
        let (false, Some(source)) = (taken.faults.is_empty(), &taken.revised.breaks) else {
            return Ok(());
        };
        let is_printed = |fault: &&Fault| fault.word == "passed";
        let printed: Faults = taken.faults.iter().filter(is_printed).cloned().collect();
        if !printed.is_empty() {
            return Err(printed);
        }
        let passed = breaks::read(source).is_ok_and(|breaks| breaks.passed().next().is_some());
        let nothing_kept = BookTexts {
            breaks: None,
            ..taken.revised.clone()
        };
        let bench = &mut self.bench;
        match passed && bench.lay_out_book(&nothing_kept, BreaksPolicy::All).is_ok() {
            true => Err(taken.faults.clone()),
            false => Ok(()),
        }
    }
}

/// The changes that she names.
fn choice(args: &ReviseArgs) -> Choice {
    match (&args.only, &args.except) {
        (Some(numbers), _) => Choice::Only(numbers.0.clone()),
        (None, Some(numbers)) => Choice::Except(numbers.0.clone()),
        (None, None) => Choice::All,
    }
}

/// Whether she is there to be args.
fn may_ask(args: &ReviseArgs, output: &OutputArgs) -> bool {
    let terminal = std::io::stdin().is_terminal() && std::io::stderr().is_terminal();
    terminal && !args.yes && !output.json && !output.quiet
}

/// Asks which changes are taken in; nothing where none are.
fn ask() -> Result<Option<Choice>, Faults> {
    loop {
        speak::question(
            "\nShall they all be taken in? (yes, no, or the numbers to leave out, such as 3, 7-9) [yes]",
        );
        let Some(answer) = answer() else {
            return Ok(None);
        };
        match answer.as_str() {
            "" | "yes" | "y" => return Ok(Some(Choice::All)),
            "no" | "n" => return Ok(None),
            named => match numbers(named) {
                Ok(numbers) => return Ok(Some(Choice::Except(numbers))),
                Err(why) => speak::message(&why),
            },
        }
    }
}

/// What she answers; nothing where it cannot be read.
fn answer() -> Option<String> {
    let mut line = String::new();
    let read = std::io::stdin().lock().read_line(&mut line);
    let read = read.is_ok_and(|bytes| bytes > 0);
    read.then(|| line.trim().to_lowercase())
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

/// Asks about a text that would take the place of a wholly different one. Nothing has been written yet.
fn is_the_right_text(
    args: &ReviseArgs,
    output: &OutputArgs,
    file: &str,
    revision: &Revision,
) -> Done {
    let (found, all) = revision.found;
    if args.yes || found * 2 >= all {
        return Ok(());
    }
    let what =
        format!("of the {all} words of the manuscript only {found} are found again in `{file}`");
    if may_ask(args, output) {
        speak::question(&format!(
            "{what}.\nIs it the right file, and shall it take the manuscript's place? (yes, no) [no]"
        ));
        if matches!(answer().as_deref(), Some("yes" | "y")) {
            return Ok(());
        }
        let what = "nothing was written: the manuscript is as it was";
        return Err(Fault::new("another-text", what).into());
    }
    let help = "nothing was written; if it is the right file, say --yes";
    Err(Fault::new("another-text", what).help(help).into())
}
