//! The program called as she calls it: what it says, what it writes, and what it refuses.

use std::fs;
use std::path::Path;

use crate::support::{copy_of_demo, run_in, small_plan, temporary, tree, write_book};

const POEM: &str = "# The Winter Bus\n\nShe took the bus\nover the pass *alone*.\n[picture: the bus]\n\nIt snowed.\n";
const CLIENT: &str = "The Winter Bus\n\nShe took the bus\nover the pass alone.\n\nIt snowed.\n";

fn book(panels: usize) -> tempfile::TempDir {
    let temp = temporary();
    let picture = "\n[[picture]]\nname = \"the bus\"\n";
    write_book(
        &temp.path().join("book"),
        &small_plan(panels, picture),
        POEM,
    );
    temp
}

/// The message of a call that must be refused and must change nothing.
fn refused(folder: &Path, arguments: &[&str]) -> String {
    let before = tree(folder);
    let said = run_in(folder, arguments).at_fault();
    assert!(tree(folder) == before, "{arguments:?} changed something");
    said
}

#[test]
fn corrections_are_taken_in_and_told() {
    let temp = book(4);
    let folder = temp.path();
    let manuscript = folder.join("book/winter-bus.txt");
    fs::write(folder.join("client.txt"), CLIENT).expect("written");
    let before = tree(&folder.join("book"));
    let said = run_in(folder, &["revise", "client.txt", "book"]).done();
    assert_eq!(
        said,
        "Nothing has changed: client.txt has the words of the manuscript.\n"
    );
    assert!(tree(&folder.join("book")) == before);

    fs::write(
        folder.join("client.txt"),
        CLIENT.replace("the bus\n", "the yellow bus\n"),
    )
    .expect("written");
    let said = run_in(folder, &["revise", "client.txt", "book"]).done();
    assert_eq!(
        said,
        "The client's corrections: 1 line changed.\n\n\
         1  line 3  She took the [+ yellow] bus\n\n\
         Its one callout stands beside the words that it stood beside.\n\n\
         winter-bus.txt has the client's words; as it was, it is kept as winter-bus.1.txt.\n"
    );
    let read = |name: &str| fs::read_to_string(folder.join("book").join(name)).expect("there");
    assert_eq!(
        read("winter-bus.txt"),
        POEM.replace("the bus\nover", "the yellow bus\nover")
    );
    assert_eq!(read("winter-bus.1.txt"), POEM);

    // And back, from within the book, for a program.
    fs::write(folder.join("client.txt"), CLIENT).expect("written");
    let said = run_in(&folder.join("book"), &["revise", "../client.txt", "--json"]).done();
    let said: serde_json::Value = serde_json::from_str(&said).expect("JSON");
    let kept = serde_json::json!([{ "from": "winter-bus.txt", "to": "winter-bus.2.txt" }]);
    assert_eq!(said["moved_aside"], kept);
    assert_eq!(
        said["changes"][0]["words"][1],
        serde_json::json!({ "number": 1, "same": null, "was": "yellow", "now": "" })
    );
    assert_eq!(fs::read_to_string(&manuscript).expect("there"), POEM);
}

#[test]
fn files_that_cannot_be_taken_in_are_refused() {
    let temp = book(4);
    let folder = temp.path();
    fs::write(
        folder.join("latin.txt"),
        b"over the pass, caf\xe9 and all\n",
    )
    .expect("written");
    fs::write(folder.join("empty.txt"), "\u{feff}\n \n").expect("written");
    fs::write(folder.join("bell.txt"), CLIENT.replace("took", "to\u{7}ok")).expect("written");
    for (file, said) in [
        (
            "missing.txt",
            "`missing.txt` is missing; it was looked for at",
        ),
        (
            "latin.txt",
            "`latin.txt` is not UTF-8 text from byte offset 18 on, on line 1; it is likely",
        ),
        ("empty.txt", "there is not a word in empty.txt"),
        ("bell.txt", "a control character (U+0007) stands in"),
        ("book", "`book` is a folder, where a text file is needed"),
        (
            "book/winter-bus.txt",
            "`book/winter-bus.txt` is the book's own manuscript",
        ),
    ] {
        let told = refused(folder, &["revise", file, "book"]);
        assert!(told.contains(said), "{told}");
    }
    fs::write(folder.join("client.txt"), CLIENT).expect("written");
    let told = refused(folder, &["revise", "book", "client.txt"]);
    assert!(
        told.contains("name the client's file first, then the book"),
        "{told}"
    );
    let told = refused(folder, &["revise", "client.txt", "nowhere"]);
    assert!(told.contains("there is no folder nowhere"), "{told}");
    fs::write(
        folder.join("book/winter-bus.txt"),
        format!("{POEM}[pictur: x]\n"),
    )
    .expect("written");
    let told = refused(folder, &["revise", "client.txt", "book"]);
    assert!(told.contains("there is no callout `[pictur: x]`"), "{told}");
}

#[test]
fn wholly_another_text_is_taken_in_only_if_she_says_so() {
    let temp = book(4);
    let folder = temp.path();
    fs::write(
        folder.join("other.txt"),
        "A ferry crossed\na lake in May.\n",
    )
    .expect("written");
    assert_eq!(
        refused(folder, &["revise", "other.txt", "book"]),
        "Fault: of the 13 words of the manuscript only 0 are found again in `other.txt`\n  \
         help: nothing was written; if it is the right file, say --yes\n"
    );
    let said = run_in(folder, &["revise", "other.txt", "book", "--yes"]).done();
    assert!(said.contains("[picture: the bus]"), "{said}");
    let made = fs::read_to_string(folder.join("book/winter-bus.txt")).expect("there");
    assert!(
        made.contains("A ferry crossed\n") && made.contains("[picture: the bus]\n"),
        "{made}"
    );
}

#[test]
fn a_book_that_does_not_fit_any_more_is_told_after_the_words_are_in() {
    let temp = book(2);
    let folder = temp.path();
    let more = "And over the pass it went, the whole winter long.\n".repeat(40);
    fs::write(folder.join("client.txt"), format!("{CLIENT}\n{more}")).expect("written");
    let ran = run_in(folder, &["revise", "client.txt", "book"]);
    assert_eq!(ran.status, Some(0));
    assert!(
        ran.stdout.contains("it is kept as winter-bus.1.txt"),
        "{}",
        ran.stdout
    );
    assert!(
        ran.stderr
            .contains("The words are in; but the book cannot be made now:"),
        "{}",
        ran.stderr
    );
    assert!(ran.stderr.contains("panels"), "{}", ran.stderr);
}

#[cfg(unix)]
#[test]
fn two_runs_at_once_on_one_book_are_refused() {
    let temp = temporary();
    let book = temp.path().join("winter-bus");
    copy_of_demo(&book);
    fs::write(temp.path().join("client.txt"), CLIENT).expect("written");
    let lock = fs::File::open(&book).expect("there");
    lock.lock().expect("held");
    let told = refused(temp.path(), &["revise", "client.txt", "winter-bus"]);
    assert!(
        told.contains("another run is changing the book in `winter-bus` just now"),
        "{told}"
    );
}

#[test]
fn changes_are_taken_in_one_by_one() {
    let temp = book(4);
    let folder = temp.path();
    let client = CLIENT
        .replace("the bus\n", "the yellow bus\n")
        .replace("It snowed.", "It snowed");
    fs::write(folder.join("client.txt"), client).expect("written");
    let before = tree(&folder.join("book"));
    let said = run_in(folder, &["revise", "--look", "client.txt", "book"]).done();
    assert_eq!(
        said,
        "The client's corrections: 2 lines changed.\n\n\
         1  line 3  She took the [+ yellow] bus\n\
         2  line 7  It [snowed. → snowed]\n\n\
         Its one callout stands beside the words that it stood beside.\n\n\
         Nothing was written.\n"
    );
    for (numbers, said) in [
        ("2,9", "there is no change 9: the client made 2"),
        ("x", "`x` is no number of a change; write them as 3, 7-9"),
        ("2-1", "`2-1` runs backwards; write 1-2"),
    ] {
        let refused = refused(
            folder,
            &["revise", "--except", numbers, "client.txt", "book"],
        );
        assert!(refused.contains(said), "{refused}");
    }
    let both = [
        "revise",
        "--except",
        "1",
        "--only",
        "2",
        "client.txt",
        "book",
    ];
    refused(folder, &both);
    let said = run_in(folder, &["revise", "--except", "1-2", "client.txt", "book"]).done();
    assert_eq!(
        said,
        "Every change is left out: winter-bus.txt is as it was.\n"
    );
    assert!(tree(&folder.join("book")) == before);

    let said = run_in(folder, &["revise", "--except", "1", "client.txt", "book"]).done();
    assert_eq!(
        said,
        "The client's corrections: 1 line changed.\n\n\
         1  line 7  It [snowed. → snowed]\n\n\
         Left out, by the numbers in the whole list: 1 line changed.\n\n\
         1  line 3  She took the [+ yellow] bus\n\n\
         Its one callout stands beside the words that it stood beside.\n\n\
         winter-bus.txt has the client's words; as it was, it is kept as winter-bus.1.txt.\n"
    );
    let read = fs::read_to_string(folder.join("book/winter-bus.txt")).expect("there");
    assert_eq!(read, POEM.replace("It snowed.", "It snowed"));
}

/// Whoever takes in a change on a panel that is passed for press must know, for the printer must be told.
#[test]
fn changes_on_passed_panels_are_marked() {
    let temp = book(4);
    let folder = temp.path();
    run_in(folder, &["layers", "book"]).done();
    let told = run_in(folder, &["flow", "--json", "book"]).done();
    let told: serde_json::Value = serde_json::from_str(&told).expect("JSON");
    let panels = told["panels"].as_array().expect("panels").iter();
    let mut with_words =
        panels.filter(|panel| panel["lines"].as_array().is_some_and(|l| !l.is_empty()));
    let last = with_words.next_back().expect("a panel of words")["panel"].clone();
    let last = last.as_str().expect("a name");
    run_in(folder, &["pass", last, "book"]).done();
    let client = CLIENT.replace("It snowed.", "It snowed");
    fs::write(folder.join("client.txt"), client).expect("written");
    let said = run_in(folder, &["revise", "client.txt", "book"]).done();
    let marked = format!("1  line 7  It [snowed. → snowed]  ({last}, passed for press)\n");
    assert!(said.contains(&marked), "{said}");
    let first = format!("Passed for press, and otherwise now: {last}. Tell the printer first.\n");
    assert!(said.contains(&first), "{said}");
    let said = run_in(folder, &["layers", "book"]).done();
    let replaced = said.lines().find(|line| line.starts_with("Replace   "));
    let replaced = replaced.expect("a layer is replaced");
    assert!(
        replaced.ends_with(".pdf, passed for press: tell the printer first"),
        "{said}"
    );
}
