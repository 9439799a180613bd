//! Pictures without a name are proposed, and named in the manuscript.

use std::fs;

use super::Copy;
use crate::support::{run_in, temporary};

const BOOK: &str = "tests/books/pictures-to-come";

/// The rows of panels in what `flow` tells, those of pictures alone.
fn pictures(told: &str) -> Vec<&str> {
    let rows = told.lines().filter(|line| line.contains("  picture  "));
    rows.collect()
}

#[test]
fn pictures_are_named_in_the_manuscript_and_the_old_one_is_kept() {
    let copy = Copy::of(BOOK);
    let manuscript = copy.folder().join("winter-bus.txt");
    let old = fs::read_to_string(&manuscript).expect("a manuscript");
    let proposed = copy.run(&["flow"]).done();
    let proposed = pictures(&proposed);
    assert_eq!(proposed.len(), 6);
    let after = |row: &&str| row.contains("a picture after “… ");
    assert!(proposed.iter().all(after), "{proposed:#?}");
    let told = copy.run(&["flow", "--keep", "--name-pictures"]).done();
    assert!(
        told.contains("The old one is kept as winter-bus.1.txt."),
        "{told}"
    );
    assert!(
        told.contains("[picture: picture-1] is on front 4"),
        "{told}"
    );
    let kept = fs::read_to_string(copy.folder().join("winter-bus.1.txt"));
    assert_eq!(kept.expect("the old manuscript"), old);
    let new = fs::read_to_string(&manuscript).expect("a manuscript");
    let calls = |line: &&str| line.starts_with("[picture: picture-");
    assert_eq!(new.lines().filter(calls).count(), 6);
    let words: Vec<&str> = new.lines().filter(|line| !calls(line)).collect();
    assert_eq!(words, old.lines().collect::<Vec<_>>());
    // They stand where they were proposed, and the words before each are those that were told.
    let again = copy.run(&["flow"]).done();
    for (number, row) in proposed.iter().enumerate() {
        let panel = row.split("  ").next().expect("a panel");
        let named = format!("picture-{}", number + 1);
        let stands = |line: &&str| line.starts_with(panel) && line.ends_with(&named);
        assert_eq!(again.lines().filter(stands).count(), 1, "{again}");
    }
    // There is nothing left to name.
    let refused = copy.run(&["flow", "--keep", "--name-pictures"]).at_fault();
    assert!(
        refused.starts_with("Fault: every picture of the book has a name\n"),
        "{refused}"
    );
    assert_eq!(fs::read_to_string(&manuscript).expect("a manuscript"), new);
}

#[test]
fn pictures_are_named_only_where_the_division_is_kept() {
    let copy = Copy::of(BOOK);
    let before = crate::support::tree(copy.folder());
    let refused = copy.run(&["flow", "--name-pictures"]).at_fault();
    assert!(refused.contains("--keep"), "{refused}");
    assert!(crate::support::tree(copy.folder()) == before);
}

#[test]
fn a_new_book_keeps_a_panel_for_each_picture() {
    let temp = temporary();
    let poem = (1..=8).map(|at| {
        format!(
            "{}\n",
            "The bus comes up the hill at nine.\n".repeat(13 + at % 2)
        )
    });
    fs::write(temp.path().join("poem.txt"), poem.collect::<String>()).expect("written");
    let new = |folder: &str, pictures: &str| {
        let call = [
            "new",
            folder,
            "--manuscript",
            "poem.txt",
            "--pictures",
            pictures,
        ];
        run_in(temp.path(), &call).done()
    };
    let told = new("bus", "6");
    assert!(
        told.contains("Fits at 11 pt, no line turns over: 8 panels of words and 6 of pictures; 2 of 16 stay blank."),
        "{told}"
    );
    let plan = fs::read_to_string(temp.path().join("bus/concertina.toml")).expect("a plan");
    assert!(
        plan.lines().any(|line| line.starts_with("pictures = 6 ")),
        "{plan}"
    );
    // More than there are panels, and more than there is room for.
    let call = [
        "new",
        "full",
        "--manuscript",
        "poem.txt",
        "--pictures",
        "17",
    ];
    let told = run_in(temp.path(), &call).at_fault();
    assert!(
        told.starts_with("Fault: 16 panels have no room for 17 pictures\n"),
        "{told}"
    );
    assert!(!temp.path().join("full").exists());
    let told = new("crowd", "12");
    assert!(told.contains("It does not fit yet: "), "{told}");
    assert!(
        told.contains("the body has 12 pictures in all (`pictures`)"),
        "{told}"
    );
    assert!(
        told.contains("put `pictures` in `may-give`: the body would have 8 pictures"),
        "{told}"
    );
}
