//! PDF/UA-1 (ISO 14289-1), as a validator of its own sees it.

use std::fs;
use std::path::PathBuf;

use super::support::temporary;
use super::{books, says};

/// Prints every failure of every file, and how many files it looked at.
const VALIDATE: &str = "
import sys, page
for path in sys.argv[1:]:
    report = page.validate_pdf(path, profile='ua1')
    for failure in report.failures:
        print(path, failure.rule_id, failure.message)
    if report.is_compliant != (not report.failures):
        print(path, 'is said to be compliant:', report.is_compliant)
print(len(sys.argv) - 1, 'files')
";

fn validate(files: &[PathBuf]) -> String {
    says("python3", &["-c", VALIDATE], files).expect("the validator runs")
}

#[test]
#[ignore = "needs Python with page-validation"]
fn every_file_keeps_its_claim_to_pdf_ua() {
    let files = books().all();
    let said = validate(&files);
    // Of a face with several font dictionaries, as those of Chinese and Japanese are, the validator looks up the
    // first glyph's width in the dictionary of the one before it. fontTools finds the width that the PDF says.
    let by_mistake = |line: &str| {
        let wide = line.contains("-ja_") || line.contains("-zh_");
        wide && line.contains("PDFUA1-FONT-GLYPH-WIDTH-001") && line.contains("CID 1 width 0.000")
    };
    let rest: Vec<&str> = said.lines().filter(|line| !by_mistake(line)).collect();
    assert_eq!(rest, [format!("{} files", files.len())]);
}

/// The validator must see what is wrong, or its silence proves nothing.
#[test]
#[ignore = "needs Python with page-validation"]
fn a_file_that_breaks_its_claim_is_found_out() {
    let temp = temporary();
    let whole = fs::read(books().of_demo("front-02.pdf")).expect("a layer");
    for (from, to) in [
        ("/Marked true", "/Marker true"),
        ("/S/P", "/S/Q"),
        ("/Lang", "/Lung"),
    ] {
        let (from, to) = (from.as_bytes(), to.as_bytes());
        let mut broken = whole.clone();
        let mut at = 0;
        while let Some(found) = broken[at..].windows(from.len()).position(|w| w == from) {
            broken[at + found..at + found + to.len()].copy_from_slice(to);
            at += found + to.len();
        }
        assert!(at > 0, "the layer has no {}", String::from_utf8_lossy(from));
        let file = temp.path().join("broken.pdf");
        fs::write(&file, broken).expect("written");
        let said = validate(&[file]);
        assert!(
            said.contains("PDFUA1-"),
            "{}: {said}",
            String::from_utf8_lossy(to)
        );
    }
}
