//! Bad input: each ends with status 2 and a clear message, nothing is written, and nothing is lost.

mod breaks;
mod calls;
mod disks;
mod extremes;
mod manuscripts;
mod missing;
mod names;
mod paper;

use std::path::Path;

use crate::support::{run_in, tree};
use serde_json::Value;

/// The messages of a command that must find a fault in the book, and must leave the folder as it was.
fn refused(book: &Path, command: &[&str]) -> String {
    let before = tree(book);
    let said = run_in(book, command).at_fault();
    assert!(tree(book) == before, "{command:?} changed something");
    said
}

/// The faults of a book as `layers --json` tells them; each must have a sentence and, with a place, a line
/// and a column that count from one.
fn faults(book: &Path) -> Vec<Value> {
    let said = refused(book, &["layers", "--json"]);
    let said: Value = serde_json::from_str(&said).expect("faults are JSON");
    let faults = said["faults"].as_array().expect("a list").clone();
    for fault in &faults {
        assert!(fault["what"].as_str().is_some_and(|what| !what.is_empty()));
        let place = &fault["place"];
        let counted = |key: &str| place[key].as_u64().is_some_and(|number| number >= 1);
        assert!(place.is_null() || (counted("line") && counted("column")));
    }
    faults
}

/// The sentence of each fault with its file, line and column.
fn told(book: &Path) -> Vec<String> {
    let sentence = |fault: Value| {
        let what = fault["what"].as_str().unwrap_or_default().to_string();
        let place = &fault["place"];
        match place["file"].as_str() {
            Some(file) => format!("{file}:{}:{}: {what}", place["line"], place["column"]),
            None => what,
        }
    };
    faults(book).into_iter().map(sentence).collect()
}

/// The sentence of each fault as people see it.
fn told_to_people(book: &Path) -> Vec<String> {
    let said = refused(book, &["layers"]);
    let sentences = said.lines().filter_map(|line| line.strip_prefix("Fault: "));
    sentences.map(String::from).collect()
}
