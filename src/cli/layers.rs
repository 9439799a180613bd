//! `versefold layers`: the main job.

use std::path::Path;

use super::args::{LayersArgs, OutputArgs};
use super::changes::{Earlier, Since, SinceRecord};
use super::report::RemarksRecord;
use super::written::WrittenRecord;
use super::{Done, book, changes, flow, remarks, speak, written};
use crate::book::compare::Record;
use crate::cli::files::{self, Written};
use crate::json::{Format, records};
use crate::layout::Layout;
use crate::outputs::{Kind, WordsAs};

records! {
    /// `layers`: what was written, what has changed since earlier layers, and what there is to know.
    pub(super) struct LayersRecord {
        /// The number of the form that this record has.
        format: Format,
        /// The output folder.
        folder: String,
        /// What the division costs under the author's rules.
        cost: u64,
        /// Whether no other division costs less.
        proved: bool,
        ..written: WrittenRecord,
        ..since: SinceRecord,
        ..remarks: RemarksRecord,
    }
}

pub(super) fn run(args: &LayersArgs, output: &OutputArgs) -> Done {
    let progress = speak::Progress::begin(output, "setting and dividing the words");
    // A folder that the author names is hers to choose; the book's own out/ must lie inside the book.
    let (folder, within) = match &args.out {
        Some(out) => (out.clone(), None),
        None => (args.book.join("out"), Some(args.book.as_path())),
    };
    let earlier = Earlier::read(&folder, args.against.as_deref());
    let laid = book::open(&args.book).and_then(|mut bench| Ok((bench.lay_out()?, bench)));
    let (earlier, (layout, mut bench)) = changes::both(earlier, laid)?;
    let words_as = if args.as_paths {
        WordsAs::Paths
    } else {
        WordsAs::Text
    };
    let made = bench.output_files(&layout, words_as)?;
    let rewritten = files::other_than_listed(&folder, &made);
    let since = earlier.since(|| Record::of(&layout, Some(words_as)), Some(rewritten));
    let prints = bench.prints(&layout)?;
    let mine = |name: &str, _| Kind::of(name).is_none_or(Kind::is_of_layers);
    let made_from = |name: &str| prints.of(name);
    let written = files::write_all(&folder, within, &made, made_from, mine);
    let written = written?;
    drop(progress);
    tell(output, &folder, &layout, &written, &since)
}

fn tell(
    output: &OutputArgs,
    folder: &Path,
    layout: &Layout,
    written: &Written,
    since: &Since,
) -> Done {
    if output.json {
        return speak::json(&LayersRecord {
            format: Format,
            folder: folder.display().to_string(),
            written: written::record(written),
            cost: layout.cost,
            proved: layout.proved,
            since: since.record(),
            remarks: remarks::record(layout),
        });
    }
    written::tell(written);
    if output.quiet {
        return Ok(());
    }
    speak::result(&flow::rows_and_remarks(layout))?;
    speak::result(&format!(
        "\nEvery word is in its place and reads back from the PDFs. {} in {}\n",
        counted(written),
        folder.display()
    ))?;
    since.tell()
}

fn counted(written: &Written) -> String {
    let files = |count: usize| match count {
        1 => "1 file".to_string(),
        n => format!("{n} files"),
    };
    let mut parts = Vec::new();
    if !written.written.is_empty() {
        parts.push(format!("{} written", files(written.written.len())));
    }
    if !written.unchanged.is_empty() {
        parts.push(format!("{} unchanged", files(written.unchanged.len())));
    }
    if !written.removed.is_empty() {
        parts.push(format!("{} removed", files(written.removed.len())));
    }
    parts.join(", ")
}
