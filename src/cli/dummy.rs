//! `versefold dummy`: the fold-up mock-up.

use super::args::{BacksRequest, DummyArgs, OutputArgs};
use super::written::WrittenRecord;
use super::{Done, book, speak, written};
use crate::cli::files;
use crate::json::{Format, records};
use crate::outputs::{Backs, Kind};

records! {
    /// `dummy`: the fold-up mock-up.
    pub(super) struct DummyRecord {
        /// The number of the form that this record has.
        format: Format,
        /// The output folder.
        folder: String,
        /// How many pages it has.
        pages: usize,
        /// How many pieces are cut out of them.
        pieces: usize,
        /// How large it is, in hundredths of the book's own size.
        scale_percent: i64,
        /// The edge that the printer flips the paper on. Null where it prints on one side.
        flip: Option<&'static str>,
        ..written: WrittenRecord,
    }
}

pub(super) fn run(args: &DummyArgs, output: &OutputArgs) -> Done {
    let progress = speak::Progress::begin(output, "setting the words and drawing the dummy");
    let mut bench = book::open(&args.book)?;
    let backs = match args.backs {
        BacksRequest::Printed => Backs::Printed,
        BacksRequest::Pasted => Backs::Pasted,
        BacksRequest::None => Backs::None,
    };
    let (file, made, layout) = bench.dummy_file(&args.paper, backs)?;
    let prints = bench.prints(&layout)?;
    let (folder, within) = match &args.out {
        Some(out) => (out.clone(), None),
        None => (args.book.join("out"), Some(args.book.as_path())),
    };
    let mine = |name: &str, _| Kind::of(name) == Some(Kind::Dummy);
    let made_from = |name: &str| prints.of(name);
    let written = files::write_all(&folder, within, &[file], made_from, mine);
    let written = written?;
    drop(progress);
    written::tell(&written);
    let pieces = made.fitted.pieces.sheets.len();
    if output.json {
        let record = DummyRecord {
            format: Format,
            folder: folder.display().to_string(),
            pages: made.pages,
            pieces,
            scale_percent: made.fitted.scale,
            flip: made.flip.map(|flip| flip.words()),
            written: written::record(&written),
        };
        speak::json(&record)?;
    } else if !output.quiet {
        let size = match made.fitted.scale {
            100 => "full size".to_string(),
            scale => format!("{scale} % of its size, for no panel fits the paper in full"),
        };
        let count = |number: usize, what: &str| match number {
            1 => format!("1 {what}"),
            n => format!("{n} {what}s"),
        };
        let printed = match made.flip {
            Some(flip) => format!("on both sides, flipped on the {}, ", flip.words()),
            None => String::new(),
        };
        speak::result(&format!(
            "The dummy is {size}: {} on {}. Print it {printed}at 100 %, not scaled to fit; its first page says the rest.\n\
             {}\n",
            count(pieces, "piece"),
            count(made.pages, "page"),
            folder.join("dummy.pdf").display()
        ))?;
    }
    Ok(())
}
