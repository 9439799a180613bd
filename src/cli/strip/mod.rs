//! `versefold strip`: the print sheets, the folding guide, and plates.

mod looked;
mod told;

use serde_json::{Value, json};

use super::call::{Strip as Asked, Verbosity};
use super::{Done, speak, written};
use crate::book::{CutBook, Workbench, grounds_meet, plate_ink};
use crate::cli::files::{self, Written};
use crate::outputs::OutputFile;
use crate::outputs::{self, Scans};
use told::Told;

pub(super) fn run(asked: &Asked, voice: &Verbosity) -> Done {
    let progress = speak::Progress::begin(voice, "setting the words and cutting the strip");
    let mut bench = Workbench::new(&asked.book);
    let book = bench.cut()?;
    let (folder, within) = match &asked.out {
        Some(out) => (out.clone(), None),
        None => (asked.book.join("out"), Some(asked.book.as_path())),
    };
    let (made, told, written) = match &asked.plate {
        Some(ink) => {
            let ink = plate_ink(&book.layout, ink.as_deref())?;
            let made = bench.plate_files(&book, &ink, asked.mirrored)?;
            let told = Told::of_plates(&book, &ink, asked.mirrored);
            // Plates of other inks stay.
            let mine = |name: &str| {
                let file = name.strip_prefix("strip/");
                file.is_some_and(|file| outputs::is_plate_of(&ink, asked.mirrored, file))
            };
            let written = files::write_all(&folder, within, &made, mine);
            (made, told, written)
        }
        None => {
            let (made, told) = sheets(&bench, &book, asked)?;
            let mine = match asked.words_only {
                true => outputs::is_of_words_sheets,
                false => outputs::is_of_strip,
            };
            let written = files::write_all(&folder, within, &made, mine);
            (made, told, written)
        }
    };
    let written = written.map_err(|fault| vec![fault])?;
    drop(progress);
    written::tell(&written);
    if voice.json {
        let mut value = value(&book, &written, &told);
        value["folder"] = json!(folder.display().to_string());
        let text = serde_json::to_string_pretty(&value).unwrap_or_default();
        speak::result(&format!("{text}\n"));
    } else if !voice.quiet {
        speak::result(&told.text());
        let files: Vec<&str> = made.iter().map(|file| file.name.as_str()).collect();
        speak::result(&format!(
            "\nIn {}: {}\n",
            folder.display(),
            files.join(", ")
        ));
    }
    Ok(())
}

fn sheets(
    bench: &Workbench,
    book: &CutBook,
    asked: &Asked,
) -> Result<(Vec<OutputFile>, Told), crate::names::Faults> {
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
    let told = Told::of_sheets(book, &scans, asked.words_only, &notes, &grounds);
    let mut made = bench.sheet_files(book, (!asked.words_only).then_some(&scans), intent)?;
    made.push(bench.guide_file(book, &told.remarks)?);
    Ok((made, told))
}

fn value(book: &CutBook, written: &Written, told: &Told) -> Value {
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
    });
    if let (Some(all), Value::Object(made)) = (value.as_object_mut(), made) {
        all.extend(made);
    }
    value
}
