//! What the command says to people and to programs, and what it refuses.

use std::fs;
use std::path::Path;

use serde_json::Value;
use unicode_width::UnicodeWidthStr;

use crate::support::{examples, run_in, temporary, tree};

const POEM: &str = "One long, before a bend:\nI am coming. Stay where you are.\n\n[picture: a horn]\n* * *\n\
                    Two short.\nI have stopped.\n";

#[test]
fn it_is_no_wider_than_a_terminal_and_writes_nothing() {
    for folder in examples() {
        let before = tree(&folder);
        let said = run_in(
            &folder,
            &[
                "cast-off",
                "--sizes",
                "9 pt, 11 pt",
                "--panels",
                "7,8,9,10,12",
            ],
        );
        let said = said.done();
        let short = ["cast-off", "--sizes", "9,11", "--panels", "12,7-10"];
        assert_eq!(run_in(&folder, &short).done(), said);
        for line in said.lines() {
            assert!(line.width() <= 100, "{line}");
        }
        assert!(said.contains("The largest size that fits"), "{said}");
        assert!(tree(&folder) == before, "something was written");
    }
}

/// A text that is no book yet is cast off as the book that `new` makes of it.
#[test]
fn a_bare_text_is_cast_off_as_the_book_that_it_would_be() {
    let temp = temporary();
    fs::write(temp.path().join("horn.txt"), POEM).expect("written");
    let before = tree(temp.path());
    let bare = &[
        "cast-off",
        "--manuscript",
        "horn.txt",
        "--panel",
        "90 x 90 mm",
        "--panels",
        "4",
    ];
    let common = &["--sides", "front", "--set-as", "verse"];
    let said = run_in(temp.path(), &[&bare[..], common, &["--json"]].concat()).done();
    assert!(tree(temp.path()) == before, "something was written");
    let new = [
        "new",
        "horn",
        "--manuscript",
        "horn.txt",
        "--panel",
        "90 x 90 mm",
        "--panels",
        "4",
        "--pictures",
        "0",
    ];
    run_in(temp.path(), &[&new[..], common].concat()).done();
    let book = run_in(
        temp.path(),
        &["cast-off", "horn", "--panels", "4", "--json"],
    )
    .done();
    let read = |text: &str| -> Value { serde_json::from_str(text).expect("JSON") };
    assert_eq!(read(&said), read(&book));
    assert_eq!(
        read(&said)["sizes"].as_array().map(Vec::is_empty),
        Some(false)
    );
}

/// While nobody has said how many panels there are, each size tells how many it takes, and nothing is asked to fit.
#[test]
fn without_a_number_of_panels_each_size_tells_its_own() {
    let temp = temporary();
    fs::write(temp.path().join("horn.txt"), POEM.repeat(30)).expect("written");
    let bare = ["cast-off", "--manuscript", "horn.txt"];
    let said = run_in(temp.path(), &bare).done();
    assert!(!said.contains("that fits"), "{said}");
    assert!(said.contains("a side"), "{said}");
    let said = run_in(temp.path(), &[&bare[..], &["--json"]].concat()).done();
    let said: Value = serde_json::from_str(&said).expect("JSON");
    assert_eq!(said["panels_per_side"], Value::Null);
    let needed = |row: &Value| row["fewest_panels"].as_u64().expect("a number");
    let sizes = said["sizes"].as_array().expect("sizes");
    let needed: Vec<u64> = sizes.iter().map(needed).collect();
    assert!(needed.is_sorted() && needed[0] > 1, "{needed:?}");
}

#[test]
#[expect(clippy::too_many_lines, reason = "a table of calls")]
fn what_cannot_be_used_is_told_with_what_is_right() {
    let temp = temporary();
    let write =
        |name: &str, bytes: &[u8]| fs::write(temp.path().join(name), bytes).expect("written");
    write("horn.txt", POEM.as_bytes());
    write("empty.txt", b" \n\n");
    write(
        "picture.txt",
        &[0x89, b'P', b'N', b'G', 0, 0, 0, 13, 0, 0xff],
    );
    let before = tree(temp.path());
    for (arguments, told) in [
        (&["--manuscript", "none.txt"][..], "`none.txt` is missing"),
        (
            &["--manuscript", "empty.txt"],
            "there is not a word in empty.txt",
        ),
        (&["--manuscript", "picture.txt"], "picture.txt"),
        (
            &["--manuscript", "horn.txt", "--panel", "a5"],
            "such as \"105 x 148 mm\"",
        ),
        (
            &["--manuscript", "horn.txt", "--sides", "three"],
            "both, or front",
        ),
        (
            &["--manuscript", "horn.txt", "--set-as", "song"],
            "verse, or prose",
        ),
        (
            &["--manuscript", "horn.txt", "--language", "no tongue"],
            "language",
        ),
        (
            &["--manuscript", "horn.txt", "--sizes", "200 pt"],
            "from 3 pt to 144 pt",
        ),
        (
            &["--manuscript", "horn.txt", "--sizes", "large"],
            "from 3 pt to 144 pt",
        ),
        (
            &["--manuscript", "horn.txt", "--panels", "1"],
            "2 to 400 panels",
        ),
        (
            &["--manuscript", "horn.txt", "--panels", "401"],
            "2 to 400 panels",
        ),
        (
            &["--manuscript", "horn.txt", "--panels", "9-7"],
            "2 to 400 panels",
        ),
        (&["horn", "--manuscript", "horn.txt"], "cannot be used with"),
        (&["--panel", "105 x 148 mm"], "--manuscript"),
        (&["horn"], "there is no folder horn"),
        (&[], "there is no plan in the folder"),
    ] {
        let said = run_in(temp.path(), &[&["cast-off"], arguments].concat()).at_fault();
        assert!(said.contains(told), "{arguments:?}: {said}");
    }
    assert!(tree(temp.path()) == before, "something was written");
}

/// A client's file may be stored in another encoding; it is read as `new` reads it, or refused in the same words.
#[test]
fn another_encoding_is_treated_as_new_treats_it() {
    let temp = temporary();
    let latin: Vec<u8> = "Caf\u{e9} au lait,\ncr\u{ea}me br\u{fb}l\u{e9}e.\n"
        .chars()
        .map(|c| c as u8)
        .collect();
    fs::write(temp.path().join("latin.txt"), latin).expect("written");
    let cast = run_in(temp.path(), &["cast-off", "--manuscript", "latin.txt"]);
    let new = run_in(
        Path::new(temp.path()),
        &["new", "book", "--manuscript", "latin.txt"],
    );
    assert_eq!(cast.status, new.status);
    assert_eq!(cast.stderr, new.stderr);
}
