//! `versefold new`: begin a book.

use std::io::{BufRead, ErrorKind, IsTerminal};
use std::path::Path;
use std::sync::Arc;

use super::args::{NewArgs, OutputArgs};
use super::{Done, book, deeds, flow, speak};
use crate::assets::Assets;
use crate::book::plan_file::check;
use crate::book::plan_file::sample::{self, Answers};
use crate::book::{PLAN_FILE, read_manuscript};
use crate::cli::files;
use crate::json::{Format, records};
use crate::layout::{self, LaidLine, Layout};
use crate::names::{Fault, Faults, Length, Role, SetAs, Source, capitalized};
use crate::paper::Strip;
use crate::plan::Plan;
use crate::setting;
use crate::text::{LineKind, escape, has_readings, looks_like};
use crate::typeface::FontLibrary;

/// The poem a beginner's book opens with.
const SAMPLE: &str = include_str!("sample.txt");
const SAMPLE_TITLE: &str = "The Small Ferry";

records! {
    /// `new`: a book that was begun.
    pub(super) struct NewRecord {
        /// The number of the form that this record has.
        format: Format,
        /// The book's folder.
        folder: String,
        /// The file name of the plan.
        plan: &'static str,
        /// The file name of the manuscript.
        manuscript: String,
        /// Whether the words fit.
        fits: bool,
        /// How they do, or what stands in the way, in a sentence for people.
        says: String,
    }
}

/// A new book, not yet written.
pub(super) struct NewBook {
    /// The manuscript's file name.
    pub name: String,
    /// The manuscript.
    pub text: String,
    /// The plan.
    pub plan: String,
}

/// The book that is asked for. Nothing is written.
///
/// # Errors
/// A manuscript that cannot be read or has no word; answers that cannot be used.
pub(super) fn begin(args: &NewArgs) -> Result<NewBook, Faults> {
    let (name, words) = manuscript(args)?;
    let mut answers = answers(args, &words)?;
    let text = match &args.manuscript {
        Some(_) => escape(&words, has_readings(&answers.language)),
        None => words,
    };
    let fonts = FontLibrary::new(Assets::memory());
    let families = fonts.families_for(&format!("{}{text}", answers.title));
    answers.families = families.into_iter().map(String::from).collect();
    let mut plan = sample::plan(&answers, &name);
    // The plan is checked before anything is written: a language that is none is found here.
    let checked = check::read(&Source::new(PLAN_FILE, plan.as_str()))?;
    answers.leading = leading(&checked, &Source::new(name.as_str(), text.as_str()), &fonts);
    if answers.leading.is_some() {
        plan = sample::plan(&answers, &name);
    }
    Ok(NewBook { name, text, plan })
}

/// The leading at which no marks of neighbouring lines touch, in steps of half a point; nothing where they do not at the
/// usual one. Of words that cannot be set yet, for want of a face, it is known only whether they have readings.
fn leading(plan: &Plan, text: &Arc<Source>, fonts: &FontLibrary) -> Option<Length> {
    let manuscript = read_manuscript(text, plan).ok()?;
    let mut lines = manuscript.parts().iter().flat_map(|part| &part.lines);
    let least = match setting::set(&manuscript, plan, &Strip::new(plan.paper), fonts) {
        Ok(set) => layout::least_leading(plan, &set),
        Err(_) if lines.any(|line| !line.rubies.is_empty()) => plan.text.size * 3 / 2,
        Err(_) => return None,
    };
    let half = Length::pt(1) / 2;
    let steps = (least.units() + half.units() - 1) / half.units();
    (least > plan.text.leading).then(|| half * steps)
}

pub(super) fn run(args: &NewArgs, output: &OutputArgs) -> Done {
    let NewBook { name, text, plan } = begin(args)?;
    refuse_existing(&args.dir, &name)?;
    make_folder(&args.dir)?;
    files::write_new(&args.dir.join(&name), text.as_bytes())?;
    files::write_new(&args.dir.join(PLAN_FILE), plan.as_bytes())?;
    let laid = book::open(&args.dir).and_then(|mut bench| bench.lay_out());
    tell(args, output, &name, &laid)
}

/// One of the four questions: the flag that answers it, the answer that was given with it, the question, what is usual, and
/// what is allowed.
struct Question<'a> {
    flag: &'a str,
    given: &'a Option<String>,
    words: &'static str,
    usual: &'static str,
    allowed: &'static str,
}

/// Reads the answer to a question from its flag or from the terminal.
fn answer<T>(
    question: &Question<'_>,
    read: impl Fn(&str) -> Option<T>,
    faults: &mut Faults,
) -> Option<T> {
    if let Some(given) = question.given {
        let answer = read(given);
        if answer.is_none() {
            let what = format!("`--{} {given}` cannot be used", question.flag);
            faults.push(
                Fault::new("answer", what)
                    .read(given)
                    .allowed(question.allowed),
            );
        }
        return answer;
    }
    if !(std::io::stdin().is_terminal() && std::io::stderr().is_terminal()) {
        return read(question.usual);
    }
    read(&question_until(question, |text| read(text).is_some()))
}

/// The four questions: panel size, panels on a side, sides, pictures.
fn questions(args: &NewArgs) -> [Question<'_>; 4] {
    [
        Question {
            flag: "panel",
            given: &args.panel,
            words: "How large is a panel, width by height?",
            usual: "105 x 148 mm",
            allowed: "two lengths from 20 mm to 1000 mm, such as \"105 x 148 mm\" or \"4 x 6 in\"",
        },
        Question {
            flag: "panels",
            given: &args.panels,
            words: "How many panels has a side?",
            usual: "8",
            allowed: "a whole number from 2 to 400",
        },
        Question {
            flag: "sides",
            given: &args.sides,
            words: "Are both sides printed, or the front only? (both, front)",
            usual: "both",
            allowed: "both, or front",
        },
        Question {
            flag: "pictures",
            given: &args.pictures,
            words: "About how many pictures will there be?",
            usual: "2",
            allowed: "a whole number from 0 to 800",
        },
    ]
}

/// The four answers, and title and language.
fn answers(args: &NewArgs, text: &str) -> Result<Answers, Faults> {
    let mut faults = Faults::new();
    let [panel, panels, sides, pictures] = questions(args);
    let panel = answer(&panel, sample::panel_size, &mut faults);
    let panels = answer(&panels, sample::panel_count, &mut faults);
    let both_sides = answer(&sides, sample::both_sides, &mut faults);
    let pictures = answer(&pictures, sample::picture_count, &mut faults);
    let set_as = set_as(args, text, &mut faults);
    let (Some(panel), Some(panels), Some(both_sides), Some(pictures), Some(set_as)) =
        (panel, panels, both_sides, pictures, set_as)
    else {
        return Err(faults);
    };
    let all = panels * (1 + u16::from(both_sides));
    if pictures > all {
        let what = format!("{all} panels have no room for {pictures} pictures");
        let fault = Fault::new("answer", what).read(pictures.to_string());
        return Err(fault
            .allowed(format!("0 to {all}, and words want panels too"))
            .into());
    }
    let sample_title = args.manuscript.is_none().then(|| SAMPLE_TITLE.to_string());
    let title = args.title.clone().or(sample_title);
    let language = args.language.clone();
    Ok(Answers {
        title: title.unwrap_or_else(|| title_of(&args.dir)),
        language: language.unwrap_or_else(|| "en-GB".to_string()),
        panel,
        panels,
        both_sides,
        set_as,
        pictures,
        families: Vec::new(),
        leading: None,
    })
}

/// What the manuscript is: as the author says, or as its lines tell.
fn set_as(args: &NewArgs, text: &str, faults: &mut Faults) -> Option<SetAs> {
    let Some(given) = &args.set_as else {
        return Some(looks_like(text));
    };
    let answer = sample::set_as(given);
    if answer.is_none() {
        let what = format!("`--set-as {given}` cannot be used");
        let fault = Fault::new("answer", what).read(given);
        faults.push(fault.allowed("verse, or prose"));
    }
    answer
}

/// Asks until the answer can be used. An empty answer, or the end of the input, takes what is usual.
fn question_until(question: &Question<'_>, fits: impl Fn(&str) -> bool) -> String {
    let stdin = std::io::stdin();
    loop {
        speak::question(&format!("{} [{}]", question.words, question.usual));
        let mut line = String::new();
        let read = stdin.lock().read_line(&mut line);
        let answer = line.trim();
        match read {
            // What is no UTF-8 is no answer, and is asked for again.
            Err(error) if error.kind() == ErrorKind::InvalidData => {}
            Ok(1..) if answer.is_empty() => return question.usual.to_string(),
            Ok(1..) if fits(answer) => return answer.to_string(),
            Ok(1..) => {}
            Ok(0) | Err(_) => return question.usual.to_string(),
        }
        speak::message(&format!("  Please write {}.", question.allowed));
    }
}

/// The folder's name as a title: `winter-bus` becomes “Winter Bus”.
fn title_of(dir: &Path) -> String {
    let name = dir
        .file_name()
        .map(|name| name.to_string_lossy().into_owned())
        .unwrap_or_default();
    let words = name.split(['-', '_', ' ']).filter(|word| !word.is_empty());
    let title = words.map(capitalized).collect::<Vec<String>>().join(" ");
    if title.is_empty() {
        "Untitled".to_string()
    } else {
        title
    }
}

/// The manuscript's file name and text: the client's words, or the sample.
fn manuscript(args: &NewArgs) -> Result<(String, String), Faults> {
    let Some(path) = &args.manuscript else {
        return Ok(("manuscript.txt".to_string(), SAMPLE.to_string()));
    };
    let text = files::read_text(path, &path.display().to_string())?;
    if text.trim_start_matches('\u{feff}').trim().is_empty() {
        let fault = Fault::new(
            "empty",
            format!("there is not a word in {}", path.display()),
        );
        return Err(fault.into());
    }
    let stem = path
        .file_stem()
        .map(|stem| stem.to_string_lossy().into_owned())
        .unwrap_or_default();
    let stem = stem.trim_start_matches('.');
    let name = if stem.is_empty() {
        "manuscript".to_string()
    } else {
        stem.to_string()
    };
    Ok((format!("{name}.txt"), text))
}

/// Refuses a folder that already holds one of the two files, for nothing is overwritten.
fn refuse_existing(dir: &Path, name: &str) -> Result<(), Faults> {
    let there: Vec<&str> = [PLAN_FILE, name]
        .into_iter()
        .filter(|file| dir.join(file).exists())
        .collect();
    if dir.is_file() {
        let what = format!("{} is a file, not a folder", dir.display());
        return Err(Fault::new("exists", what).into());
    }
    if there.is_empty() {
        return Ok(());
    }
    let what = format!(
        "the folder {} already holds {}",
        dir.display(),
        there.join(" and ")
    );
    let help = "name a folder that does not exist yet; nothing was changed";
    Err(Fault::new("exists", what).help(help).into())
}

fn make_folder(dir: &Path) -> Result<(), Faults> {
    std::fs::create_dir_all(dir).map_err(|error| {
        let what = format!("the folder {} cannot be made: {error}", dir.display());
        Fault::new("cannot-write", what).into()
    })
}

fn tell(args: &NewArgs, output: &OutputArgs, name: &str, laid: &Result<Layout, Faults>) -> Done {
    let sentence = sentence(laid);
    if output.json {
        let record = NewRecord {
            format: Format,
            folder: args.dir.display().to_string(),
            plan: PLAN_FILE,
            manuscript: name.to_string(),
            fits: laid.is_ok(),
            says: sentence,
        };
        speak::json(&record)?;
    } else if !output.quiet {
        let dir = args.dir.display();
        speak::result(&format!(
            "Begun: {dir}/{PLAN_FILE} and {dir}/{name}\n{sentence}\n"
        ))?;
        let next = match laid {
            Ok(_) => format!("Next: versefold layers {dir}"),
            Err(_) => format!("Next: mend the plan, then versefold flow {dir}"),
        };
        speak::result(&format!("{next}\n"))?;
    }
    Ok(())
}

/// One sentence on how the text fits.
fn sentence(laid: &Result<Layout, Faults>) -> String {
    match laid {
        Ok(layout) => fits(layout),
        Err(faults) => faults.first().map_or_else(String::new, |fault| {
            let help = deeds::help(fault).map_or(String::new(), |help| format!(": {help}"));
            format!("It does not fit yet: {}{help}.", fault.what)
        }),
    }
}

/// How the text fits: at which size, and what the panels carry.
fn fits(layout: &Layout) -> String {
    let lines = || layout.panels.iter().flat_map(|panel| &panel.lines);
    let is_text = |line: &&LaidLine| line.kind == LineKind::Verse || line.kind.is_prose();
    let size = lines().find(is_text).map(|line| line.size);
    let size = size.map_or(String::new(), |size| format!(" at {}", size.in_points()));
    let has_verse = lines().any(|line| line.kind == LineKind::Verse);
    let how = match layout.turned_over() {
        _ if !has_verse => "set as prose".to_string(),
        0 => "no line turns over".to_string(),
        1 => "one line turns over".to_string(),
        n => format!("{n} lines turn over"),
    };
    let all = layout.panels.len();
    let with = |role: Role| {
        layout
            .panels
            .iter()
            .filter(|panel| panel.role == role)
            .count()
    };
    let words = flow::panels_with_words(layout);
    let words = match words {
        1 => "1 panel of words".to_string(),
        words => format!("{words} panels of words"),
    };
    let pictures = match with(Role::Picture) {
        0 => String::new(),
        pictures => format!(" and {pictures} of pictures"),
    };
    let blank = match with(Role::Blank) {
        0 => "none stays blank".to_string(),
        1 => format!("1 of {all} stays blank"),
        blank => format!("{blank} of {all} stay blank"),
    };
    format!("Fits{size}, {how}: {words}{pictures}; {blank}.")
}
