//! Whole small books and what each must give. A book is a folder below `tests/books`: a plan, a manuscript,
//! and in `expected/` either `flow.txt` and `lines.txt`, or `faults.txt`. How the books of `examples` are divided
//! stands in `tests/examples`. `UPDATE=1` writes all these anew.

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

use crate::support::{copy_of, examples, golden, run_in, temporary, tree};
use serde_json::Value;

fn books() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/books");
    let entries = fs::read_dir(folder).expect("tests/books is there");
    let paths = entries.map(|entry| entry.expect("the folder can be read").path());
    let mut books: Vec<PathBuf> = paths.filter(|path| path.is_dir()).collect();
    books.sort();
    books
}

#[test]
fn every_small_book_gives_what_it_must() {
    let books = books();
    assert!(books.len() > 20, "only {} books were found", books.len());
    let wrong: Vec<String> = books.iter().flat_map(|book| check(book)).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

#[test]
fn every_example_is_divided_as_it_was() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/examples");
    let wrong: Vec<String> = examples()
        .iter()
        .filter_map(|example| {
            let name = example.file_name()?.to_string_lossy();
            // Where its layers were made, `flow` would tell what has changed since.
            let copy = temporary();
            copy_of(example, copy.path());
            let flow = run_in(copy.path(), &["flow", "--costs"]);
            assert_eq!(flow.stderr, "", "{name}");
            golden::differs(&folder.join(format!("{name}.txt")), &flow.done())
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

/// A client's file may be stored in many ways; the same words stand in the same places.
#[test]
fn the_same_words_stand_alike_however_they_are_stored() {
    let stored: Vec<PathBuf> = books()
        .into_iter()
        .filter(|book| book.to_string_lossy().contains("stored-"))
        .collect();
    assert_eq!(stored.len(), 4);
    let bytes = |book: &PathBuf| fs::read(book.join("winter-bus.txt")).expect("a manuscript");
    let lines = |book: &PathBuf| {
        let lines = fs::read_to_string(book.join("expected/lines.txt")).expect("a golden file");
        composed(&lines)
    };
    for pair in stored.windows(2) {
        assert_ne!(bytes(&pair[0]), bytes(&pair[1]), "{pair:?}");
        assert_eq!(lines(&pair[0]), lines(&pair[1]), "{pair:?}");
    }
}

/// The text in normalisation form C.
fn composed(text: &str) -> String {
    unicode_normalization::UnicodeNormalization::nfc(text).collect()
}

/// What is wrong with a book.
fn check(book: &Path) -> Vec<String> {
    let expected = book.join("expected");
    let before = tree(book);
    let flow = run_in(book, &["flow", "--costs"]);
    let mut wrong = Vec::new();
    let mut compare = |name: &str, found: &str| {
        wrong.extend(golden::differs(&expected.join(name), found));
    };
    let unwanted: &[&str] = match flow.status {
        Some(0) => {
            let json = run_in(book, &["flow", "--json"]).done();
            let layout = serde_json::from_str(&json).expect("`flow --json` gives JSON");
            compare("flow.txt", &flow.stdout);
            compare("lines.txt", &lines(&layout));
            assert_eq!(flow.stderr, "", "{}", book.display());
            &["faults.txt"]
        }
        Some(2) => {
            compare("faults.txt", &flow.stderr);
            assert_eq!(flow.stdout, "", "{}", book.display());
            &["flow.txt", "lines.txt"]
        }
        other => panic!("{} ended with {other:?}", book.display()),
    };
    for name in unwanted.iter().filter(|name| expected.join(name).exists()) {
        wrong.push(format!(
            "{} has an {name}, and ended otherwise",
            book.display()
        ));
    }
    let ours = |name: &String| name.starts_with("expected");
    let mut after = tree(book);
    after.retain(|name, _| !ours(name));
    assert!(
        after == before.into_iter().filter(|(name, _)| !ours(name)).collect(),
        "`flow` wrote into {}",
        book.display()
    );
    wrong
}

/// The layout's lines for people: where each begins, its baseline and width in millimetres, and its words.
fn lines(layout: &Value) -> String {
    let mut text = String::from("x        baseline    width\n");
    for panel in layout["panels"].as_array().expect("panels") {
        let word = |key: &str| panel[key].as_str().unwrap_or_default().to_string();
        let full = panel["fullness"].as_f64();
        let full = full.map(|share| format!("{:.2} % full", share * 100.0));
        let facts = [Some(word("role")), Some(picture(panel)), full];
        let facts: Vec<String> = facts
            .into_iter()
            .flatten()
            .filter(|f| !f.is_empty())
            .collect();
        let _ = writeln!(text, "\n{}: {}", word("panel"), facts.join(", "));
        for line in panel["lines"].as_array().expect("lines") {
            let _ = writeln!(text, "{}", self::line(line));
        }
    }
    text + &strip(&layout["strip"])
}

/// A panel's picture, with where it runs from and to if it stands on several panels.
fn picture(panel: &Value) -> String {
    let name = panel["picture"].as_str().unwrap_or_default();
    match panel["picture_panels"].as_array().map(Vec::as_slice) {
        Some([first, .., last]) => {
            let name_of = |panel: &Value| panel.as_str().expect("a panel").to_string();
            format!("{name} ({} to {})", name_of(first), name_of(last))
        }
        Some(on) => {
            assert_eq!(on, std::slice::from_ref(&panel["panel"]));
            name.to_string()
        }
        None => name.to_string(),
    }
}

/// The folds from the strip's left edge, what is seen together, what is outside, what lies behind what.
fn strip(strip: &Value) -> String {
    let name = |value: &Value| value.as_str().unwrap_or_default().to_string();
    let list = |key: &str| strip[key].as_array().cloned().unwrap_or_default();
    let pairs = |key: &str, between: &str| {
        let pairs = list(key).into_iter();
        let joined = pairs.map(|pair| format!("{}{between}{}", name(&pair[0]), name(&pair[1])));
        joined.collect::<Vec<_>>().join(", ")
    };
    let folds = list("folds").into_iter();
    let folds = folds.map(|fold| {
        let (after, kind) = (name(&fold["after"]), name(&fold["fold"]));
        format!("{} mm {kind} after {after}", fold["from_left_mm"])
    });
    let outside: Vec<String> = list("outside").iter().map(name).collect();
    format!(
        "\nstrip: {} × {} mm\nfolds: {}\nseen together: {}\noutside: {}\nbehind: {}\n",
        strip["length_mm"],
        strip["height_mm"],
        folds.collect::<Vec<_>>().join(", "),
        pairs("spreads", " – "),
        outside.join(", "),
        pairs("behind", " | ")
    )
}

fn line(line: &Value) -> String {
    let mm = |key: &str| line[key].as_f64().expect("a length");
    let mut words = line["text"].as_str().expect("text").to_string();
    if let Some(added) = line["added"].as_str() {
        // A hyphen stands behind the words; a title of the plan stands alone.
        words = match words.is_empty() {
            true => format!("+ {added}"),
            false => format!("{words}‹{added}›"),
        };
    }
    let part = line["part"].as_str().filter(|part| *part != "body");
    let part = part.map_or(String::new(), |part| format!("({part}) "));
    let turned = if line["turnover"] == true { "↳ " } else { "" };
    let words = words.replace('\t', "→");
    format!(
        "{:8.4} {:8.4} {:8.4}  {part}{turned}{words}",
        mm("x_mm"),
        mm("baseline_mm"),
        mm("width_mm")
    )
}
