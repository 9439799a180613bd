//! `versefold strip`: the print sheets, the folding guide, and plates.

mod looked;
mod plate;
mod told;

use std::path::Path;

use super::args::{OutputArgs, StripArgs};
use super::report::{RemarkRecord, RemarksRecord};
use super::written::WrittenRecord;
use super::{Done, book, speak, written};
use crate::book::{CutBook, Workbench, grounds_meet};
use crate::cli::files::{self, Written};
use crate::json::{Figure, Format, records};
use crate::names::{Length, PanelName};
use crate::outputs::{self, Kind, OutputFile, Scans};
use plate::plate_ink;
use told::StripReport;

pub(super) fn run(args: &StripArgs, output: &OutputArgs) -> Done {
    let progress = speak::Progress::begin(output, "setting the words and cutting the strip");
    let mut bench = book::open(&args.book)?;
    let book = bench.cut()?;
    let (folder, within) = match &args.out {
        Some(out) => (out.clone(), None),
        None => (args.book.join("out"), Some(args.book.as_path())),
    };
    let plate = args.plate.as_ref();
    let plate = plate.map(|ink| plate_ink(&book.layout, ink.as_deref()));
    let plate = plate.transpose()?;
    let (made, told) = match &plate {
        Some(ink) => (
            bench.plate_files(&book, ink, args.mirrored)?,
            StripReport::of_plates(&book, ink, args.mirrored),
        ),
        None => sheets(&bench, &book, args)?,
    };
    let prints = bench.prints(&book.layout)?;
    let made_from = |name: &str| prints.of(name);
    // What was asked for otherwise stays beside it, as long as it shows what is so.
    let mine = |name: &str, out_of_date: bool| match Kind::of(name) {
        Some(kind) if kind.is_of_strip() => {
            out_of_date || is_asked_for(args, plate.as_deref(), kind, name)
        }
        _ => false,
    };
    let written = files::write_all(&folder, within, &made, made_from, mine);
    let written = written?;
    drop(progress);
    written::tell(&written);
    written::tell_removed(&written.removed, |name| mine(name, false));
    if output.json {
        speak::json(&record(&book, (&folder, &written), &told, args.x4))?;
    } else if !output.quiet {
        speak::result(&told.text())?;
        let files: Vec<&str> = made.iter().map(|file| file.name.as_str()).collect();
        speak::result(&format!(
            "\nIn {}: {}\n",
            folder.display(),
            files.join(", ")
        ))?;
    }
    Ok(())
}

/// Whether a file is one of those that are asked for.
fn is_asked_for(args: &StripArgs, plate: Option<&str>, kind: Kind, name: &str) -> bool {
    let x4 = args.x4;
    match (kind, plate) {
        (Kind::Plate, Some(ink)) => {
            let file = name.strip_prefix("strip/");
            file.is_some_and(|file| outputs::is_plate_of(ink, args.mirrored, file))
        }
        (Kind::WordsSheet { x4: is }, None) => args.words_only && is == x4,
        (Kind::Sheet { x4: is }, None) => !args.words_only && is == x4,
        (Kind::Guide, None) => true,
        _ => false,
    }
}

fn sheets(
    bench: &Workbench,
    book: &CutBook,
    args: &StripArgs,
) -> Result<(Vec<OutputFile>, StripReport), crate::names::Faults> {
    let read = match args.words_only {
        true => Ok((Scans::new(), Vec::new())),
        false => bench.scans(&book.plan, &book.layout),
    };
    let intent = args.x4.then(|| bench.intent(&book.plan)).transpose();
    let ((scans, notes), intent) = match (read, intent) {
        (Ok(read), Ok(intent)) => (read, intent),
        (read, intent) => {
            let faults = [read.err(), intent.err()].into_iter().flatten();
            return Err(faults.flatten().collect());
        }
    };
    let grounds = grounds_meet(book, &scans);
    let mut told = StripReport::of_sheets(book, &scans, args.words_only, &notes, &grounds);
    told.facts.extend(intent.as_ref().map(|intent| {
        format!(
            "The sheets are PDF/X-4 for the printing condition “{}”.",
            intent.condition
        )
    }));
    let mut made = bench.sheet_files(book, (!args.words_only).then_some(&scans), intent)?;
    made.push(bench.guide_file(book, &told.remarks)?);
    Ok((made, told))
}

records! {
    /// `strip`: the print sheets, or plates, and how the strip is made of them.
    pub(super) struct PrintSheetsRecord {
        /// The number of the form that this record has.
        format: Format,
        /// The output folder.
        folder: String,
        /// How wide a page is, marks and all.
        page_width_mm: Figure,
        /// How high it is.
        page_height_mm: Figure,
        /// The sheets, from the left of the strip's front.
        sheets: Vec<SheetRecord>,
        /// Where they are joined.
        joins: Vec<JoinRecord>,
        /// How many leaves lie on each other when the book is closed.
        leaves: u32,
        /// How thick it is then, at least and at most. Null where nothing is known of the paper.
        closed_mm: Option<[Figure; 2]>,
        /// What the paper of one copy weighs, in grams. Null where nothing is known of the paper.
        weight_g: Option<Figure>,
        /// Whether the sheets are PDF/X-4.
        pdf_x4: bool,
        ..remarks: RemarksRecord,
        ..written: WrittenRecord,
    }

    /// A sheet. Of what it has two, the one at its left comes first.
    pub(super) struct SheetRecord {
        /// Its number, from 1.
        sheet: usize,
        /// The panels at its ends.
        ends: [String; 2],
        /// Where it is cut, from the strip's left edge.
        from_left_mm: Figure,
        /// How long it is cut.
        length_mm: Figure,
        /// How wide its tabs are.
        tabs_mm: [Figure; 2],
        /// How much of it lies under the tabs of its neighbours.
        covered_mm: [Figure; 2],
    }

    /// A place where sheets are joined.
    pub(super) struct JoinRecord {
        /// The front panel that it follows.
        after: String,
        /// How: `tab`, `hinge` or `doubled`.
        join: &'static str,
        /// How wide the tab is, or the tissue.
        width_mm: Figure,
    }
}

fn record(
    book: &CutBook,
    (folder, written): (&Path, &Written),
    told: &StripReport,
    x4: bool,
) -> PrintSheetsRecord {
    let both = |(one, other): (Length, Length)| [one, other].map(Figure::mm);
    let sheets = book.sheets.sheets.iter().map(|sheet| {
        let (left, right) = sheet.cut();
        let (first, last) = sheet.panels;
        SheetRecord {
            sheet: sheet.number,
            ends: [first, last].map(|panel| PanelName::front(panel).to_string()),
            from_left_mm: Figure::mm(left),
            length_mm: Figure::mm(right - left),
            tabs_mm: both(sheet.tabs),
            covered_mm: both(sheet.covered),
        }
    });
    let joins = book.sheets.joins.iter().map(|join| JoinRecord {
        after: join.after.to_string(),
        join: join.kind.word(),
        width_mm: Figure::mm(join.width),
    });
    PrintSheetsRecord {
        format: Format,
        folder: folder.display().to_string(),
        page_width_mm: Figure::mm(book.sheets.page.0),
        page_height_mm: Figure::mm(book.sheets.page.1),
        sheets: sheets.collect(),
        joins: joins.collect(),
        leaves: book.closed.leaves,
        closed_mm: book.closed.thickness.map(both),
        weight_g: book
            .closed
            .weight_mg
            .map(|weight| Figure::of(weight as f64 / 1000.0)),
        pdf_x4: x4,
        remarks: RemarksRecord {
            remarks: told
                .remarks
                .iter()
                .map(|remark| RemarkRecord::of(remark))
                .collect(),
        },
        written: written::record(written),
    }
}
