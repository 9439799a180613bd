//! `versefold cast-off`: how many panels the text takes.

mod record;
mod table;
mod told;

pub(super) use record::CastOffRecord;

use super::args::{CastOffArgs, NewArgs, OutputArgs, panel_counts};
use super::new::{self, NewBook};
use super::{Done, book, speak};
use crate::assets::Assets;
use crate::book::{CastOff, CastOffRequest, PLAN_FILE, Workbench};
use crate::names::{Faults, Source};

/// How many panels a side of a new book has while nobody has said: the most there can be, so that any text may be
/// tried.
const ANY: u16 = 400;

pub(super) fn run(args: &CastOffArgs, output: &OutputArgs) -> Done {
    let progress = speak::Progress::begin(output, "trying sizes and numbers of panels");
    let found = cast_off(args)?;
    drop(progress);
    if output.json {
        speak::json(&record::record(&found))?;
    } else if !output.quiet {
        speak::result(&told::told(&found))?;
    }
    Ok(())
}

fn cast_off(args: &CastOffArgs) -> Result<CastOff, Faults> {
    let mut ask = CastOffRequest {
        sizes: args.sizes.clone(),
        panels: panel_counts(&args.panels),
        any_number: false,
    };
    let Some(file) = &args.manuscript else {
        return book::open(&args.book)?.cast_off(&ask);
    };
    // What is not said is as usual: nothing is asked on the terminal.
    let usual =
        |said: &Option<String>, usual: &str| Some(said.clone().unwrap_or(usual.to_string()));
    ask.any_number = args.panels.is_empty();
    let panels = panel_counts(&args.panels).first().copied().unwrap_or(ANY);
    let begun = new::begin(&NewArgs {
        dir: file.with_extension(""),
        manuscript: Some(file.clone()),
        panel: usual(&args.panel, "105 x 148 mm"),
        panels: Some(panels.to_string()),
        sides: usual(&args.sides, "both"),
        pictures: Some("0".to_string()),
        set_as: args.set_as.clone(),
        title: None,
        language: args.language.clone(),
    })?;
    let NewBook { name, text, plan } = begun;
    let folder = file.parent().unwrap_or(file);
    Workbench::once(Assets::folder(folder)).cast_off_texts(
        &Source::new(PLAN_FILE, plan),
        &Source::new(name, text),
        &ask,
    )
}
