//! The arguments of the command line.

use std::collections::BTreeSet;
use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

pub(super) use super::stretches::{Stretches, stretches};
use crate::layout::breaks::WayName;
use crate::names::{Length, Measure, PanelName, SheetSize, Unit};
use crate::plan::sizes;

/// Sets a poem or prose memoir onto the panels of a concertina book and writes PDF text layers to lie over the art.
#[derive(Parser)]
#[command(name = "versefold", version, about, max_term_width = 100)]
pub(super) struct Cli {
    #[command(subcommand)]
    pub command: Command,
    #[command(flatten)]
    pub output: OutputArgs,
}

/// How the program speaks.
#[derive(Args)]
pub(super) struct OutputArgs {
    /// Say results and faults as JSON, for other programs
    #[arg(long, global = true)]
    pub json: bool,
    /// Say nothing but faults
    #[arg(long, global = true)]
    pub quiet: bool,
}

#[derive(Subcommand)]
pub(super) enum Command {
    /// Begin a book: a plan and a manuscript in a folder of their own
    #[command(
        after_help = "Example:\n  versefold new winter-bus --manuscript poem.txt --panel \"105 x 148 mm\" \
                            --panels 8 --sides both --pictures 8"
    )]
    New(NewArgs),
    /// Tell how many panels the text takes at which type sizes; writes nothing
    #[command(
        after_help = "Examples:\n  versefold cast-off examples/winter-bus\n  versefold cast-off \
                            examples/winter-bus --sizes \"10 pt, 10.5 pt\" --panels 11,12,13\n  versefold cast-off \
                            --manuscript poem.txt --panel \"105 x 148 mm\""
    )]
    CastOff(CastOffArgs),
    /// Divide the text over the panels and show the result; writes nothing
    #[command(after_help = "Example:\n  versefold flow examples/winter-bus")]
    Flow(FlowArgs),
    /// Show the best ways to divide the book that really differ, and write them to out/trials.pdf
    #[command(
        after_help = "Examples:\n  versefold trials examples/winter-bus\n  versefold trials \
                            examples/winter-bus --sizes \"10.5 pt, 12 pt\" --panels 7,9"
    )]
    Trials(TrialsArgs),
    /// Write the text layers, the contact sheet and layout.json
    #[command(after_help = "Example:\n  versefold layers examples/winter-bus\n\n\
                            The layers are in out/layers/: one PDF for each panel with words, and one for each \
                            side of the strip.")]
    Layers(LayersArgs),
    /// Take in the client's corrected text; the old manuscript is kept beside the new one
    #[command(after_help = "Example:\n  versefold revise corrected.txt my-book\n\n\
                            The corrected text is plain UTF-8, without callouts and mark-up: those of the manuscript \
                            stay with their words. Of my-book/poem.txt the old one is kept as my-book/poem.1.txt, \
                            then as poem.2.txt, and so on.")]
    Revise(ReviseArgs),
    /// Mark panels as passed for press: their lines stay where they stand
    #[command(
        after_help = "Examples:\n  versefold pass \"front 3 to front 6\" winter-bus\n  versefold pass \
                            \"front, back 1\" winter-bus\n  versefold pass --release \"front 3\" winter-bus"
    )]
    Pass(PassArgs),
    /// Write the print sheets of both sides with their marks, and the folding guide
    #[command(
        after_help = "Examples:\n  versefold strip examples/winter-bus\n  versefold strip --words-only \
                            examples/winter-bus\n  versefold strip --plate=black --mirrored \
                            examples/winter-bus\n\nThe sheets are in out/strip/, each a PDF with its front and its \
                            back."
    )]
    Strip(StripArgs),
    /// Write a mock-up of the folded book on office paper to out/dummy.pdf
    #[command(
        after_help = "Examples:\n  versefold dummy examples/winter-bus\n  versefold dummy --paper A3 --backs pasted \
                            examples/winter-bus"
    )]
    Dummy(DummyArgs),
    /// Print completions for a shell
    #[command(after_help = "Example:\n  versefold completions bash > \
                            ~/.local/share/bash-completion/completions/versefold")]
    Completions(CompletionsArgs),
}

#[derive(Args)]
pub(super) struct NewArgs {
    /// The folder to make
    pub dir: PathBuf,
    /// The client's text, a plain UTF-8 file; without it a small sample poem is written
    #[arg(long, value_name = "FILE")]
    pub manuscript: Option<PathBuf>,
    /// Width and height of a panel, such as "105 x 148 mm"
    #[arg(long, value_name = "SIZE")]
    pub panel: Option<String>,
    /// How many panels a side has
    #[arg(long, value_name = "N")]
    pub panels: Option<String>,
    /// Which sides are printed: both, or front
    #[arg(long, value_name = "SIDES")]
    pub sides: Option<String>,
    /// About how many pictures there will be
    #[arg(long, value_name = "N", allow_negative_numbers = true)]
    pub pictures: Option<String>,
    /// Whether the text is verse or prose; without it, the lines of the text tell
    #[arg(long, value_name = "KIND")]
    pub set_as: Option<String>,
    /// The book's title; without it the folder's name
    #[arg(long)]
    pub title: Option<String>,
    /// The book's language as a BCP 47 tag, such as en-GB
    #[arg(long, value_name = "TAG")]
    pub language: Option<String>,
}

#[derive(Args)]
pub(super) struct CastOffArgs {
    /// The book's folder
    #[arg(default_value = ".", conflicts_with = "manuscript")]
    pub book: PathBuf,
    /// A text that is no book yet, a plain UTF-8 file; nothing is written
    #[arg(long, value_name = "FILE")]
    pub manuscript: Option<PathBuf>,
    /// Width and height of a panel; without it, 105 x 148 mm
    #[arg(long, value_name = "SIZE", requires = "manuscript")]
    pub panel: Option<String>,
    /// Which sides are printed: both, or front
    #[arg(long, value_name = "SIDES", requires = "manuscript")]
    pub sides: Option<String>,
    /// Whether the text is verse or prose; without it, the lines of the text tell
    #[arg(long, value_name = "KIND", requires = "manuscript")]
    pub set_as: Option<String>,
    /// The text's language as a BCP 47 tag, such as en-GB
    #[arg(long, value_name = "TAG", requires = "manuscript")]
    pub language: Option<String>,
    /// The type sizes to try, such as 10,10.5,11
    #[arg(long, value_name = "SIZES", value_delimiter = ',', value_parser = size)]
    pub sizes: Vec<Length>,
    /// The numbers of panels on a side to try, such as 7-9,12
    #[arg(long, value_name = "NUMBERS", value_delimiter = ',', value_parser = panels)]
    pub panels: Vec<PanelCounts>,
}

#[derive(Args)]
pub(super) struct FlowArgs {
    /// The book's folder
    #[arg(default_value = ".")]
    pub book: PathBuf,
    /// Show what each rule costs on each panel
    #[arg(long)]
    pub costs: bool,
    /// Tell why this panel, such as "front 4", ends where it does
    #[arg(long, value_name = "PANEL", conflicts_with = "costs")]
    pub why: Option<PanelName>,
    /// Keep what stands on each panel in breaks.toml: later corrections then change as little as can be
    #[arg(long, conflicts_with = "why")]
    pub keep: bool,
    /// Keep it by this name instead, beside what is chosen
    #[arg(long, value_name = "NAME", requires = "keep")]
    pub name: Option<WayName>,
    /// Give each picture without a name one, too, by a callout in the manuscript where the words before it end
    #[arg(long, requires = "keep", conflicts_with = "name")]
    pub name_pictures: bool,
    /// Show the way that is kept by this name
    #[arg(long, value_name = "NAME", conflicts_with_all = ["why", "afresh"])]
    pub with: Option<WayName>,
    /// Divide afresh, whatever breaks.toml says; panels that are passed for press stay
    #[arg(long, conflicts_with = "why")]
    pub afresh: bool,
    /// Tell what has changed since this earlier layout.json, or beside the way that is kept by this name; without it, since
    /// the last layers
    #[arg(long, value_name = "LAYOUT.json or NAME", conflicts_with = "why")]
    pub against: Option<PathBuf>,
}

#[derive(Args)]
pub(super) struct TrialsArgs {
    /// The book's folder
    #[arg(default_value = ".")]
    pub book: PathBuf,
    /// How many to show, 1 to 50
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = clap::value_parser!(u8).range(1..=50))]
    pub most: u8,
    /// Count ways as different too where only the order on a spread, or the stanza that a panel ends in, is another
    #[arg(long)]
    pub fine: bool,
    /// Try these type sizes as well, such as 10.5,12
    #[arg(long, value_name = "SIZES", value_delimiter = ',', value_parser = size)]
    pub sizes: Vec<Length>,
    /// Try these numbers of panels on a side as well, such as 7,9 or 11-13
    #[arg(long, value_name = "NUMBERS", value_delimiter = ',', value_parser = panels)]
    pub panels: Vec<PanelCounts>,
    /// Show what each way costs under the rules
    #[arg(long)]
    pub costs: bool,
    /// Choose the trial of this number: what it puts on each panel is kept in breaks.toml
    #[arg(long, value_name = "N")]
    pub choose: Option<usize>,
    /// Keep that trial by this name instead, beside what is chosen
    #[arg(long, value_name = "NAME", requires = "choose")]
    pub name: Option<WayName>,
    /// The folder to write to; without it, out/ in the book's folder
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

/// One number of panels on a side, or several that follow each other.
#[derive(Clone, Debug)]
pub(super) struct PanelCounts(std::ops::RangeInclusive<u16>);

/// Every number of panels that is named, in order, none twice.
pub(super) fn panel_counts(named: &[PanelCounts]) -> Vec<u16> {
    let all: BTreeSet<u16> = named.iter().flat_map(|counts| counts.0.clone()).collect();
    all.into_iter().collect()
}

/// How many panels a side could have: one number, or the first and the last of several.
fn panels(text: &str) -> Result<PanelCounts, String> {
    let number = |text: &str| {
        let number = text.trim().parse().ok();
        number.filter(|number| (2..=400).contains(number))
    };
    let (from, to) = text.split_once(['-', '–']).unwrap_or((text, text));
    match (number(from), number(to)) {
        (Some(from), Some(to)) if from <= to => Ok(PanelCounts(from..=to)),
        _ => Err("a side has 2 to 400 panels; name the numbers, such as 7,9 or 11-13".to_string()),
    }
}

/// A type size that a plan could have; in points where no unit is named.
fn size(text: &str) -> Result<Length, String> {
    let wrong = || "a type size is from 3 pt to 144 pt, such as 10.5 or \"10.5 pt\"".to_string();
    let text = text.trim();
    let plain = text.ends_with(|c: char| c.is_ascii_digit());
    let text = format!("{text}{}", if plain { " pt" } else { "" });
    let measure = Measure::read(&text).map_err(|_| wrong())?;
    if matches!(measure.unit(), Unit::Em | Unit::Line) {
        return Err(wrong());
    }
    let size = measure.resolve(Length::ZERO, Length::ZERO);
    let sizes = Length::pt(3)..=Length::pt(144);
    sizes.contains(&size).then_some(size).ok_or_else(wrong)
}

#[derive(Args)]
pub(super) struct PassArgs {
    /// The panels, such as "front 3 to front 6", "front 2, back 1", or "front" for the whole side
    #[arg(value_parser = stretches)]
    panels: Stretches,
    /// The book's folder
    #[arg(default_value = ".")]
    book: PathBuf,
    /// Release the panels: they are no longer passed
    #[arg(long)]
    pub release: bool,
}

impl PassArgs {
    pub(super) fn book_and_panels(&self) -> (&std::path::Path, &Stretches) {
        (&self.book, &self.panels)
    }
}

#[derive(Args)]
pub(super) struct LayersArgs {
    /// The book's folder
    #[arg(default_value = ".")]
    pub book: PathBuf,
    /// The folder to write to; without it, out/ in the book's folder
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Write words as outlines, for programs that lose fonts; their text stays readable in the structure
    #[arg(long)]
    pub as_paths: bool,
    /// Tell what has changed since this earlier layout.json; without it, since the last layers
    #[arg(long, value_name = "LAYOUT.json")]
    pub against: Option<PathBuf>,
}

#[derive(Args)]
pub(super) struct StripArgs {
    /// The book's folder
    #[arg(default_value = ".")]
    pub book: PathBuf,
    /// Leave the scans out: words and marks alone
    #[arg(long, conflicts_with = "plate")]
    pub words_only: bool,
    /// Write plates instead: the words of one ink alone, solid; --plate=INK where there are several
    #[arg(long, value_name = "INK", num_args = 0..=1, require_equals = true)]
    pub plate: Option<Option<String>>,
    /// Write plates as seen in a mirror
    #[arg(long, requires = "plate")]
    pub mirrored: bool,
    /// Write PDF/X-4 for the printing condition that the plan names
    #[arg(long, conflicts_with = "plate")]
    pub x4: bool,
    /// The folder to write to; without it, out/ in the book's folder
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

#[derive(Args)]
pub(super) struct DummyArgs {
    /// The book's folder
    #[arg(default_value = ".")]
    pub book: PathBuf,
    /// The printer's paper: A4, A3, letter, or another sheet by name
    #[arg(long, value_name = "SHEET", default_value = "A4", value_parser = paper)]
    pub paper: SheetSize,
    /// How the backs come behind the fronts: printed on both sides, pasted behind, or none
    #[arg(long, value_name = "HOW", default_value = "printed")]
    pub backs: BacksRequest,
    /// The folder to write to; without it, out/ in the book's folder
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

/// How the backs of a dummy come behind its fronts.
#[derive(Clone, Copy, ValueEnum)]
pub(super) enum BacksRequest {
    Printed,
    Pasted,
    None,
}

/// A sheet by its name.
fn paper(text: &str) -> Result<SheetSize, String> {
    sizes::named(text).ok_or_else(|| {
        "the sheets known are those of ISO A, B and C, RA, SRA, JIS B, letter, legal, ledger, ANSI and arch sizes: \
         such as A4, A3 or letter"
            .to_string()
    })
}

#[derive(Args)]
pub(super) struct ReviseArgs {
    /// The client's corrected text, a plain UTF-8 file
    pub file: PathBuf,
    /// The book's folder
    #[arg(default_value = ".")]
    pub book: PathBuf,
    /// Take in these of the client's changes alone, by their numbers: `--only 2,5-8`
    #[arg(long, value_name = "NUMBERS", value_parser = changes, conflicts_with = "except")]
    pub only: Option<ChangeNumbers>,
    /// Take in all changes but these
    #[arg(long, value_name = "NUMBERS", value_parser = changes)]
    pub except: Option<ChangeNumbers>,
    /// Tell the changes with their numbers, and write nothing
    #[arg(long)]
    pub look: bool,
    /// Ask nothing; take it in even if it is wholly another text
    #[arg(long)]
    pub yes: bool,
}

/// Numbers of the client's changes.
#[derive(Clone, Debug)]
pub(super) struct ChangeNumbers(pub BTreeSet<usize>);

fn changes(text: &str) -> Result<ChangeNumbers, String> {
    super::revise::numbers(text).map(ChangeNumbers)
}

#[derive(Args)]
pub(super) struct CompletionsArgs {
    /// The shell
    pub shell: clap_complete::Shell,
}
