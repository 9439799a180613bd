//! `flow --why` of panels that the author chose, or passed for press.

use std::path::Path;

use serde_json::Value;

use crate::support::{copy_of_demo, run_in, temporary};

const PANEL: &str = "front 4";

fn told(book: &Path) -> String {
    run_in(book, &["flow", "--why", PANEL]).done()
}

fn value(book: &Path) -> Value {
    let said = run_in(book, &["flow", "--json", "--why", PANEL]).done();
    serde_json::from_str(&said).expect("JSON")
}

/// What each other end costs, by the words it comes after.
fn costs(value: &Value) -> Vec<(String, i64)> {
    let ends = value["ends"].as_array().expect("ends").iter();
    ends.filter_map(|end| Some((end["after"].as_str()?.to_string(), end["more"].as_i64()?)))
        .collect()
}

#[test]
fn a_chosen_panel_is_told_as_chosen_and_other_ends_by_the_other_rules() {
    let temp = temporary();
    let book = temp.path();
    copy_of_demo(book);
    let by_rules = value(book);
    assert_eq!(by_rules["breaks"], Value::Null);
    assert!(!told(book).contains("You chose"));
    run_in(book, &["flow", "--keep", "--quiet"]).done();
    let said = told(book);
    let second = said.lines().nth(1);
    assert_eq!(second, Some("You chose it so in breaks.toml."), "{said}");
    assert!(!said.contains("chosen-breaks"), "{said}");
    // The same ends: with other panels held as she chose them each costs as much, or more.
    let chosen = value(book);
    assert_eq!(chosen["breaks"], "as-chosen");
    let (free, held) = (costs(&by_rules), costs(&chosen));
    assert!(!held.is_empty(), "{said}");
    for (after, more) in &held {
        let least = free.iter().find(|(other, _)| other == after);
        let (_, least) = least.expect("it could be while nothing was chosen");
        assert!(more >= least, "{after}: {more} is less than {least}");
        assert!(*more < 100_000, "{after}: {more}");
    }
}

#[test]
fn a_passed_panel_is_told_as_passed() {
    let temp = temporary();
    let book = temp.path();
    copy_of_demo(book);
    run_in(book, &["pass", PANEL, "--quiet"]).done();
    let said = told(book);
    let told: Vec<&str> = said.lines().collect();
    assert_eq!(told.len(), 2, "{said}");
    assert!(told[0].starts_with("Front 4 runs from"), "{said}");
    assert_eq!(
        told[1],
        "It is passed for press: it stays as it is until you release it (versefold pass --release \"front 4\")."
    );
    assert_eq!(value(book)["breaks"], "passed");
}
