//! PDF/X-4 files, as far as a program can tell: sound ones keep every rule, and each rule finds what breaks it.

mod broken;
mod press;
mod profile;
mod rules;

use std::fs;
use std::path::PathBuf;

use crate::support::{demo, examples, small_plan, temporary, write_book};
use broken::every_breakage_is_found;
use press::{for_press, sheets};
use rules::{File, findings};

/// What every rule finds in every one of these files.
fn assert_sound(what: &str, files: &[PathBuf]) {
    for file in files {
        let pdf = fs::read(file).expect("a sheet");
        assert_eq!(findings(&pdf), [], "{what}: {}", file.display());
    }
}

#[test]
fn every_example_keeps_every_rule() {
    let examples = examples();
    assert!(examples.len() >= 3, "only {examples:?}");
    for example in examples {
        let temp = temporary();
        for_press(&example, temp.path(), |plan| plan);
        let sheets = sheets(temp.path(), &["--x4"]);
        assert_sound(&example.display().to_string(), &sheets);
    }
}

/// The demo with its words in an ink.
fn inked(ink: &str, more: &[&str]) -> Vec<u8> {
    let temp = temporary();
    for_press(&demo(), temp.path(), |plan| {
        assert!(plan.contains("[text]\n"), "{plan}");
        plan.replacen("[text]\n", &format!("[text]\nink = {ink}\n"), 1)
    });
    let sheets = sheets(temp.path(), more);
    fs::read(&sheets[0]).expect("a sheet")
}

const LIGHT: &str = "{ rgb = [0.5, 0.25, 1] }";

#[test]
fn words_in_every_ink_keep_every_rule() {
    for ink in [
        "\"black\"",
        "\"reversed-out\"",
        "{ grey = 0.3 }",
        "{ cmyk = [0.1, 0.2, 0.3, 0.4] }",
        LIGHT,
        "{ spot = \"Bus Yellow\", cmyk = [0, 0.2, 0.9, 0.05] }",
    ] {
        for more in [&["--x4"][..], &["--x4", "--words-only"]] {
            assert_eq!(findings(&inked(ink, more)), [], "{ink} {more:?}");
        }
    }
}

/// A sheet longer than PDF's 14,400 units, and strips joined from many.
#[test]
fn long_strips_keep_every_rule() {
    for (more, one) in [
        ("longest-sheet = \"7000 mm\"", true),
        ("size = \"A4\"", false),
    ] {
        let temp = temporary();
        let (from, to) = (temp.path().join("from"), temp.path().join("to"));
        let plan = small_plan(70, "\n[rules]\neach-panel = \"stanza\"\n");
        write_book(&from, &plan, "One long, before a bend.\nTwo short.\n");
        let sheets_of = |plan: String| plan.replace("[sheets]", &format!("[sheets]\n{more}"));
        for_press(&from, &to, sheets_of);
        let sheets = sheets(&to, &["--x4"]);
        assert_eq!(sheets.len() == 1, one, "{more}");
        assert_sound(more, &sheets);
        let pdf = fs::read(&sheets[0]).expect("a sheet");
        let unit = File::read(&pdf).pages()[0].has(b"UserUnit");
        assert_eq!(unit, one, "{more}");
    }
}

#[test]
fn what_breaks_a_rule_is_found_by_that_rule() {
    every_breakage_is_found(&inked(LIGHT, &["--x4"]));
}

/// A file that does not claim to be PDF/X-4 is found out too.
#[test]
fn ordinary_sheets_are_not_pdf_x4() {
    let found = findings(&inked(LIGHT, &[]));
    for rule in [
        "version", "named-x4", "edition", "dates", "trapped", "intent", "keys",
    ] {
        assert!(found.iter().any(|(by, _)| *by == rule), "{rule}: {found:?}");
    }
}

/// The same book is the same edition; another is another.
#[test]
fn an_edition_is_named_by_what_is_in_it() {
    let id = |pdf: &[u8]| {
        let file = File::read(pdf);
        let id = file.xmp_value("http://ns.adobe.com/xap/1.0/mm/", "DocumentID");
        id.expect("an identifier").to_string()
    };
    let black = inked("\"black\"", &["--x4"]);
    assert_eq!(black, inked("\"black\"", &["--x4"]));
    assert_ne!(id(&black), id(&inked(LIGHT, &["--x4"])));
}

/// Files for the press and plain ones lie side by side, under names of their own, and it is said which are which.
#[test]
fn x4_and_plain_sheets_never_replace_each_other() {
    let temp = temporary();
    for_press(&demo(), temp.path(), |plan| plan);
    let said = crate::support::run_in(temp.path(), &["strip"]).done();
    assert!(!said.contains("PDF/X-4"), "{said}");
    let plain = fs::read(temp.path().join("out/strip/sheet-1.pdf")).expect("a sheet");
    let said = crate::support::run_in(temp.path(), &["strip", "--x4"]).done();
    let told = "The sheets are PDF/X-4 for the printing condition “A press for tests”.";
    assert!(said.contains(told), "{said}");
    assert!(said.contains("strip/sheet-1-x4.pdf"), "{said}");
    crate::support::run_in(temp.path(), &["strip", "--x4", "--words-only"]).done();
    let strip = temp.path().join("out/strip");
    assert_eq!(fs::read(strip.join("sheet-1.pdf")).expect("a sheet"), plain);
    for name in ["sheet-1-x4.pdf", "words-sheet-1-x4.pdf"] {
        let pdf = fs::read(strip.join(name)).expect("a sheet");
        assert_eq!(findings(&pdf), [], "{name}");
    }
    assert!(!strip.join("words-sheet-1.pdf").exists());
}
