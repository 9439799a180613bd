//! `versefold strip`: the print sheets, the folding guide, and plates.

mod looked;
mod plate;
mod told;

use serde_json::{Value, json};

use super::call::{Strip as Asked, Verbosity};
use super::{Done, book, speak, written};
use crate::book::{CutBook, Workbench, grounds_meet};
use crate::cli::files::{self, Written};
use crate::outputs::OutputFile;
use crate::outputs::{self, Kind, Scans};
use plate::plate_ink;
use told::StripReport;

pub(super) fn run(asked: &Asked, voice: &Verbosity) -> Done {
    let progress = speak::Progress::begin(voice, "setting the words and cutting the strip");
    let mut bench = book::open(&asked.book)?;
    let book = bench.cut()?;
    let (folder, within) = match &asked.out {
        Some(out) => (out.clone(), None),
        None => (asked.book.join("out"), Some(asked.book.as_path())),
    };
    let plate = asked.plate.as_ref();
    let plate = plate.map(|ink| plate_ink(&book.layout, ink.as_deref()));
    let plate = plate.transpose()?;
    let (made, told) = match &plate {
        Some(ink) => (
            bench.plate_files(&book, ink, asked.mirrored)?,
            StripReport::of_plates(&book, ink, asked.mirrored),
        ),
        None => sheets(&bench, &book, asked)?,
    };
    let prints = bench.prints(&book.layout)?;
    let made_from = |name: &str| prints.of(name);
    // What was asked for otherwise stays beside it, as long as it shows what is so.
    let mine = |name: &str, out_of_date: bool| match Kind::of(name) {
        Some(kind) if kind.is_of_strip() => {
            out_of_date || is_asked_for(asked, plate.as_deref(), kind, name)
        }
        _ => false,
    };
    let written = files::write_all(&folder, within, &made, made_from, mine);
    let written = written?;
    drop(progress);
    written::tell(&written);
    written::tell_removed(&written.removed, |name| mine(name, false));
    if voice.json {
        let mut value = value(&book, &written, &told, asked.x4);
        value["folder"] = json!(folder.display().to_string());
        speak::json(&value)?;
    } else if !voice.quiet {
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
fn is_asked_for(asked: &Asked, plate: Option<&str>, kind: Kind, name: &str) -> bool {
    let x4 = asked.x4;
    match (kind, plate) {
        (Kind::Plate, Some(ink)) => {
            let file = name.strip_prefix("strip/");
            file.is_some_and(|file| outputs::is_plate_of(ink, asked.mirrored, file))
        }
        (Kind::WordsSheet { x4: is }, None) => asked.words_only && is == x4,
        (Kind::Sheet { x4: is }, None) => !asked.words_only && is == x4,
        (Kind::Guide, None) => true,
        _ => false,
    }
}

fn sheets(
    bench: &Workbench,
    book: &CutBook,
    asked: &Asked,
) -> Result<(Vec<OutputFile>, StripReport), crate::names::Faults> {
    let read = match asked.words_only {
        true => Ok((Scans::new(), Vec::new())),
        false => bench.scans(&book.plan, &book.layout),
    };
    let intent = asked.x4.then(|| bench.intent(&book.plan)).transpose();
    let ((scans, notes), intent) = match (read, intent) {
        (Ok(read), Ok(intent)) => (read, intent),
        (read, intent) => {
            let faults = [read.err(), intent.err()].into_iter().flatten();
            return Err(faults.flatten().collect());
        }
    };
    let grounds = grounds_meet(book, &scans);
    let mut told = StripReport::of_sheets(book, &scans, asked.words_only, &notes, &grounds);
    told.facts.extend(intent.as_ref().map(|intent| {
        format!(
            "The sheets are PDF/X-4 for the printing condition “{}”.",
            intent.condition
        )
    }));
    let mut made = bench.sheet_files(book, (!asked.words_only).then_some(&scans), intent)?;
    made.push(bench.guide_file(book, &told.remarks)?);
    Ok((made, told))
}

fn value(book: &CutBook, written: &Written, told: &StripReport, x4: bool) -> Value {
    let sheets = book.sheets.sheets.iter().map(|sheet| {
        let (left, right) = sheet.cut();
        json!({
            "sheet": sheet.number,
            "panels": [format!("front {}", sheet.panels.0), format!("front {}", sheet.panels.1)],
            "from_left_mm": left.as_mm(),
            "length_mm": (right - left).as_mm(),
            "tabs_mm": [sheet.tabs.0.as_mm(), sheet.tabs.1.as_mm()],
            "covered_mm": [sheet.covered.0.as_mm(), sheet.covered.1.as_mm()],
        })
    });
    let joins = book.sheets.joins.iter().map(|join| {
        json!({
            "after": join.after.to_string(),
            "join": join.kind.word(),
            "width_mm": join.width.as_mm(),
        })
    });
    let mut value = written::value(written);
    let made = json!({
        "page_mm": [book.sheets.page.0.as_mm(), book.sheets.page.1.as_mm()],
        "sheets": sheets.collect::<Vec<_>>(),
        "joins": joins.collect::<Vec<_>>(),
        "leaves": book.closed.leaves,
        "closed_mm": book.closed.thickness.map(|(least, most)| [least.as_mm(), most.as_mm()]),
        "weight_g": book.closed.weight_mg.map(|weight| weight as f64 / 1000.0),
        "remarks": told.remarks,
        "pdf_x4": x4,
    });
    if let (Some(all), Value::Object(made)) = (value.as_object_mut(), made) {
        all.extend(made);
    }
    value
}
