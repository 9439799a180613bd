//! What lies in `out/` shows the book as it is, or it is told that it does not.

use std::fs;
use std::path::Path;

use crate::support::{copy_of_demo, run_in, temporary, tree};

/// The files of `out/strip/`, by name.
fn strip(book: &Path) -> Vec<String> {
    let names = tree(&book.join("out/strip")).into_keys();
    names.collect()
}

fn change(book: &Path, file: &str, from: &str, to: &str) {
    let path = book.join(file);
    let text = fs::read_to_string(&path).expect("a file of the book");
    assert!(text.contains(from), "{file} has no {from}");
    fs::write(path, text.replacen(from, to, 1)).expect("written");
}

fn said(book: &Path, call: &[&str]) -> String {
    let ran = run_in(book, call);
    assert_eq!(ran.status, Some(0), "{call:?}: {}", ran.stderr);
    ran.stderr
}

/// Every kind of file, made one after the other.
const ALL: [&[&str]; 7] = [
    &["layers"],
    &["trials"],
    &["dummy"],
    &["strip"],
    &["strip", "--words-only"],
    &["strip", "--plate"],
    &["strip", "--plate", "--mirrored"],
];

#[test]
fn while_nothing_changes_nothing_is_out_of_date() {
    let temp = temporary();
    let book = temp.path();
    copy_of_demo(book);
    for call in ALL.iter().chain(&ALL) {
        assert_eq!(said(book, call), "", "{call:?}");
    }
    let made = tree(&book.join("out"));
    // A remark in the plan is no change.
    change(book, "concertina.toml", "[text]", "# The words.\n\n[text]");
    for call in ALL {
        assert_eq!(said(book, call), "", "{call:?}");
    }
    assert!(
        tree(&book.join("out")) == made,
        "something was made otherwise"
    );
}

/// A word of the client's: all else that shows it is told until it is made anew, and what lies with the sheets and would
/// not go with them any more is taken away.
#[test]
fn a_changed_word_is_told_everywhere() {
    let temp = temporary();
    let book = temp.path();
    copy_of_demo(book);
    for call in ALL {
        assert_eq!(said(book, call), "", "{call:?}");
    }
    let sheets = strip(book);
    let by_hand = book.join("out/strip/words-sheet-1.pdf");
    fs::write(&by_hand, "scratched by hand").expect("written");
    change(book, "winter-bus.txt", "Yellow", "Blue");
    let told = said(book, &["layers"]);
    let begins =
        "Out of date, for the book has changed since: dummy.pdf, strip/folding-guide.pdf, ";
    assert!(told.starts_with(begins), "{told}");
    for call in [
        "versefold trials",
        "versefold dummy",
        "versefold strip",
        "versefold strip --plate",
    ] {
        assert!(told.contains(call), "{told}");
    }
    assert_eq!(
        strip(book),
        sheets,
        "layers take nothing away from the strip"
    );
    let told = said(book, &["dummy"]);
    assert!(
        told.contains("trials.pdf") && !told.contains("dummy.pdf"),
        "{told}"
    );
    let told = said(book, &["strip"]);
    assert!(
        told.contains("strip/words-sheet-1.pdf was not as the program left it: it is kept as"),
        "{told}"
    );
    assert!(
        told.contains("Removed, for the book has changed since: strip/plate-black-1-"),
        "{told}"
    );
    assert!(told.contains("versefold strip --plate"), "{told}");
    assert_eq!(
        strip(book),
        [
            "folding-guide.pdf",
            "sheet-1.pdf",
            "sheet-2.pdf",
            "words-sheet-1.kept-1.pdf"
        ]
    );
    assert_eq!(said(book, &["trials"]), "");
    assert_eq!(said(book, &["layers"]), "");
}

/// Other paper, fewer sheets: what was made of the strip as it was goes, and what never shows the sheets stays as it is.
#[test]
fn fewer_sheets_leave_none_behind() {
    let temp = temporary();
    let book = temp.path();
    copy_of_demo(book);
    for call in ALL {
        said(book, call);
    }
    change(
        book,
        "concertina.toml",
        "[sheets]",
        "[sheets]\nspare = \"4 mm\"",
    );
    let told = said(book, &["layers"]);
    assert!(told.contains("strip/") && !told.contains("dummy"), "{told}");
    let told = said(book, &["strip", "--words-only"]);
    assert!(
        told.contains("strip/sheet-1.pdf, strip/sheet-2.pdf"),
        "{told}"
    );
    assert_eq!(
        strip(book),
        [
            "folding-guide.pdf",
            "words-sheet-1.pdf",
            "words-sheet-2.pdf"
        ]
    );
    assert_eq!(said(book, &["layers"]), "");
}

/// Another scan changes what shows the scans, and nothing else.
#[test]
fn another_scan_is_told_where_scans_are_shown() {
    let temp = temporary();
    let book = temp.path();
    copy_of_demo(book);
    for call in ALL {
        said(book, call);
    }
    let art = book.join("art");
    let scans = fs::read_dir(&art).expect("scans");
    let mut scans: Vec<_> = scans.map(|entry| entry.expect("an entry").path()).collect();
    scans.sort();
    fs::copy(&scans[0], &scans[1]).expect("copied");
    let told = said(book, &["layers"]);
    assert!(
        told.contains("dummy.pdf") && told.contains("strip/sheet-1.pdf"),
        "{told}"
    );
    assert!(
        !told.contains("trials") && !told.contains("plate"),
        "{told}"
    );
    let told = run_in(book, &["strip", "--plate", "--json"]).done();
    let told: serde_json::Value = serde_json::from_str(&told).expect("JSON");
    let removed = told["removed"].as_array().expect("a list");
    assert!(removed.contains(&"strip/sheet-1.pdf".into()), "{told}");
    assert_eq!(told["out_of_date"], serde_json::json!(["dummy.pdf"]));
}
