//! Running again: the same bytes, nothing stale, and nobody's own work lost.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::support::{copy_of_demo, files_ending, run_in, small_plan, temporary, tree, write_book};

/// Begins or changes a book of so many panels with words, each of one stanza.
fn write_stanzas(book: &Path, count: usize) {
    let stanzas =
        (1..=count).map(|number| format!("[new panel]\nBend {number} of ten,\nby number.\n"));
    write_book(
        book,
        &small_plan(10, "[rules]\ntext-in-a-row = 10\n"),
        stanzas.collect::<Vec<_>>().join("\n"),
    );
}

fn layers(book: &Path) -> Value {
    let said = run_in(book, &["layers", "--json"]).done();
    serde_json::from_str(&said).expect("JSON")
}

#[test]
fn the_same_book_gives_the_same_bytes_here_and_elsewhere() {
    let temp = temporary();
    let (here, elsewhere) = (temp.path().join("here"), temp.path().join("a/b/else where"));
    copy_of_demo(&here);
    copy_of_demo(&elsewhere);
    let first = layers(&here);
    let written = first["written"].as_array().expect("names").len();
    let once = tree(&here);
    assert!(written > 20 && files_ending(&once, ".pdf").len() == written - 1);
    let second = layers(&here);
    assert_eq!(second["written"], serde_json::json!([]));
    assert_eq!(
        second["unchanged"].as_array().expect("names").len(),
        written
    );
    assert!(tree(&here) == once, "a second run changed something");
    fs::remove_dir_all(here.join("out")).expect("out/ is safe to delete");
    layers(&here);
    assert!(tree(&here) == once, "a fresh run gave other bytes");
    layers(&elsewhere);
    assert!(tree(&elsewhere) == once, "another folder gave other bytes");
}

#[test]
fn a_shorter_book_leaves_no_stale_layers() {
    let temp = temporary();
    let book = temp.path();
    write_stanzas(book, 5);
    let first = layers(book);
    let written = first["written"].as_array().expect("names");
    assert!(written.contains(&"layers/front-05.pdf".into()), "{first}");
    write_stanzas(book, 3);
    let again = layers(book);
    let removed = ["layers/front-04.pdf", "layers/front-05.pdf"];
    assert_eq!(again["removed"], serde_json::json!(removed));
    let shorter = tree(book);
    assert!(!shorter.contains_key("out/layers/front-04.pdf"));
    fs::remove_dir_all(book.join("out")).expect("out/ is safe to delete");
    layers(book);
    assert!(
        tree(book) == shorter,
        "something of the longer book is left"
    );
}

#[test]
fn a_layer_edited_by_hand_is_never_lost() {
    let temp = temporary();
    let book = temp.path();
    write_stanzas(book, 5);
    layers(book);
    let edit = |name: &str, words: &str| {
        fs::write(book.join("out").join(name), words).expect("a file can be edited");
    };
    edit("layers/front-02.pdf", "moved by hand");
    edit("layers/front-05.pdf", "drawn over");
    edit("notes.txt", "ask the client");
    write_stanzas(book, 3);
    let said = run_in(book, &["layers", "--quiet"]);
    assert_eq!(
        said.stderr,
        "layers/front-02.pdf was not as the program left it: it is kept as layers/front-02.kept-1.pdf.\n\
         layers/front-05.pdf was not as the program left it: it is kept as layers/front-05.kept-1.pdf.\n"
    );
    assert_eq!(said.done(), "");
    let read = |name: &str| fs::read(book.join("out").join(name)).expect("it is there");
    assert_eq!(read("layers/front-02.kept-1.pdf"), b"moved by hand");
    assert_eq!(read("layers/front-05.kept-1.pdf"), b"drawn over");
    assert!(!book.join("out/layers/front-05.pdf").exists());
    assert_eq!(read("notes.txt"), b"ask the client");
    assert!(read("layers/front-02.pdf").starts_with(b"%PDF-1.7"));
    assert!(!book.join("out/layers/front-04.pdf").exists());
    // Once told, the matter is closed: the next run finds everything in its place.
    assert_eq!(run_in(book, &["layers", "--quiet"]).stderr, "");
}
