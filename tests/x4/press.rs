//! Books that are written as PDF/X-4.

use std::fs;
use std::path::{Path, PathBuf};

use super::profile::cmyk;
use crate::support::{copy_of, run_in};

/// Copies a book with a day, a printing condition and its profile, and whatever else `change` makes of its plan.
pub fn for_press(book: &Path, to: &Path, change: impl Fn(String) -> String) {
    copy_of(book, to);
    fs::write(to.join("press.icc"), cmyk()).expect("the profile is written");
    let at = to.join("concertina.toml");
    let plan = fs::read_to_string(&at).expect("a plan");
    let asked = "[sheets]\nintent = \"press.icc\"\ncondition = \"A press for tests\"\n";
    let plan = match plan.contains("[sheets]\n") {
        true => plan.replacen("[sheets]\n", asked, 1),
        false => format!("{plan}\n{asked}"),
    };
    let plan = format!("date = 2026-02-01\n{plan}");
    fs::write(at, change(plan)).expect("the plan is written");
}

/// Writes a book's sheets, and gives their paths.
pub fn sheets(book: &Path, more: &[&str]) -> Vec<PathBuf> {
    run_in(book, &[&["strip", "--quiet"], more].concat()).done();
    let entries = fs::read_dir(book.join("out/strip")).expect("sheets");
    let paths = entries.map(|entry| entry.expect("the folder can be read").path());
    let mut sheets: Vec<PathBuf> = paths
        .filter(|path| {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            ["sheet-", "words-sheet-", "plate-"]
                .iter()
                .any(|begin| name.starts_with(begin))
        })
        .collect();
    sheets.sort();
    assert!(!sheets.is_empty(), "no sheets of {}", book.display());
    sheets
}
