//! What `flow` and `layers` say, as she meets it.

use std::fs;
use std::path::Path;

use serde_json::{Value, json};

use crate::support::{copy_of_demo, run_in, small_plan, temporary, tree, write_book};

/// What is said of changes: all from the line that begins so.
fn from<'t>(text: &'t str, begins: &str) -> &'t str {
    let at = text.find(begins);
    at.map_or_else(|| panic!("no “{begins}” in:\n{text}"), |at| &text[at..])
}

fn edit(book: &Path, file: &str, from: &str, to: &str) {
    let path = book.join(file);
    let text = fs::read_to_string(&path).expect("UTF-8");
    assert_eq!(text.matches(from).count(), 1, "{from}");
    fs::write(&path, text.replace(from, to)).expect("written");
}

fn changed(book: &Path, command: &[&str]) -> Value {
    let said = run_in(book, command).done();
    let said: Value = serde_json::from_str(&said).expect("JSON");
    said["changed"].clone()
}

#[test]
fn a_changed_word_names_its_panel_and_the_layers_to_replace() {
    let temp = temporary();
    let book = temp.path();
    copy_of_demo(book);
    for command in [&["flow"][..], &["layers"]] {
        let first = run_in(book, command).done();
        assert!(!first.contains("last layers"), "{first}");
    }
    assert!(run_in(book, &["flow"]).done().ends_with(
        "\n\nAll would be as in the last layers: no layer would have to be replaced.\n"
    ));
    assert!(
        run_in(book, &["layers"])
            .done()
            .ends_with("\n\nAll is as in the last layers: no layer need be replaced.\n")
    );
    fs::copy(book.join("out/layout.json"), book.join("kept.json")).expect("a copy");
    edit(
        book,
        "winter-bus.txt",
        "Yellow to the sills",
        "Blue to the sills",
    );
    let before = tree(book);
    let told = "  front 3   “to sell it. [Yellow → Blue] to the”\n\
                Replace   front-03.pdf, front.pdf\n\
                Keep      the other 21 layers\n";
    assert_eq!(
        from(&run_in(book, &["flow"]).done(), "Since"),
        format!("Since the last layers, `versefold layers` would bring:\n{told}")
    );
    assert!(tree(book) == before, "`flow` wrote something");
    assert_eq!(
        from(&run_in(book, &["layers"]).done(), "Changed"),
        format!("Changed since the last layers:\n{told}")
    );
    assert!(changed(book, &["flow", "--json"])["panels"] == json!([]));
    let since = changed(book, &["flow", "--json", "--against", "kept.json"]);
    assert_eq!(
        since["panels"],
        json!([{
            "panel": "front 3", "what": "words", "shift_mm": null,
            "differences": [{
                "before": "to sell it.", "was": "Yellow", "now": "Blue", "after": "to the"
            }]
        }])
    );
    assert_eq!(
        since["replace"],
        json!(["layers/front-03.pdf", "layers/front.pdf"])
    );
    assert_eq!(since["keep"].as_array().map(Vec::len), Some(21));
}

#[test]
fn files_that_only_say_something_else_of_themselves_need_not_be_replaced() {
    let temp = temporary();
    let book = temp.path();
    copy_of_demo(book);
    run_in(book, &["layers", "--quiet"]).done();
    edit(
        book,
        "concertina.toml",
        "title = \"The Winter Bus\"",
        "title = \"The Last Run\"",
    );
    let since = changed(book, &["layers", "--json"]);
    assert_eq!(since["panels"], json!([]));
    assert_eq!(since["keep"], since["keep_though_written"]);
    assert_eq!(since["keep"].as_array().map(Vec::len), Some(23));
    // What was done to a file by hand since does not make it differ so.
    fs::write(book.join("out/layers/front-02.pdf"), "drawn over").expect("written");
    let again = changed(book, &["layers", "--json"]);
    assert_eq!(
        (&again["panels"], &again["keep_though_written"]),
        (&json!([]), &json!([]))
    );
    let outlines = changed(book, &["layers", "--json", "--as-paths"]);
    assert_eq!(
        (&outlines["panels"], &outlines["other_form"]),
        (&json!([]), &json!(true))
    );
    assert_eq!(outlines["replace"], since["keep"]);
}

/// Stanzas of two lines, each on a panel of its own.
fn stanzas(book: &Path, stanzas: &[&str]) {
    let stanzas: Vec<String> = stanzas
        .iter()
        .map(|name| {
            format!("[new panel]\nAt {name} the horn sounds once,\nand nobody answers {name}.\n")
        })
        .collect();
    let rules = "[rules]\ntext-in-a-row = 10\n";
    write_book(book, &small_plan(10, rules), stanzas.join("\n"));
}

#[test]
fn lines_that_stand_elsewhere_have_moved_and_are_not_changed() {
    let temp = temporary();
    let book = temp.path();
    stanzas(book, &["Ladle", "Elbow", "Knee", "Dairy"]);
    run_in(book, &["layers", "--quiet"]).done();
    // Cut out before the others, which then stand a panel earlier.
    stanzas(book, &["Ladle", "Knee", "Dairy"]);
    assert_eq!(
        from(&run_in(book, &["flow"]).done(), "Since"),
        "Since the last layers, `versefold layers` would bring:\n  \
           front 2   “[− At Elbow the horn … nobody answers Elbow. (10 words)]”\n\
         – Two lines went from front 3 to front 2.\n\
         – Two lines went from front 4 to front 3.\n\
         Replace   front-02.pdf, front-03.pdf, front.pdf\n\
         Take out  front-04.pdf\n\
         Keep      front-01.pdf\n"
    );
    // Put in another order, and one word changed too.
    stanzas(book, &["Dairy", "Ladle", "Elbow", "the Bishop"]);
    assert_eq!(
        from(&run_in(book, &["layers"]).done(), "Changed"),
        "Changed since the last layers:\n  \
           front 4   “At [Knee → the Bishop] the horn”, “and nobody answers [Knee. → the Bishop.]”\n\
         – Two lines went from front 4 to front 1.\n\
         – Two lines went from front 1 to front 2.\n\
         – Two lines went from front 2 to front 3.\n\
         – Two lines went from front 3 to front 4.\n\
         Replace   every layer that was there before: 5 files\n"
    );
}

/// Does something to the record, or to the list that vouches for it.
type Spoil = fn(&Path, &Path);

#[test]
fn a_layout_that_is_not_as_it_was_left_is_not_compared_with() {
    let temp = temporary();
    let book = temp.path();
    copy_of_demo(book);
    let record = book.join("out/layout.json");
    let sentence = "./out/layout.json is not as the last run left it: what has changed since cannot be told.\n";
    run_in(book, &["layers", "--quiet"]).done();
    let left = fs::read(&record).expect("the record");
    let list = fs::read(book.join("out/manifest.json")).expect("the list");
    let spoil: [(&str, Spoil); 4] = [
        ("edited", |record, _| {
            fs::write(record, "{}").expect("written")
        }),
        ("taken away", |record, _| {
            fs::remove_file(record).expect("removed")
        }),
        ("without a list", |_, list| {
            fs::remove_file(list).expect("removed")
        }),
        ("with a damaged list", |_, list| {
            fs::write(list, "[").expect("written")
        }),
    ];
    for (how, spoil) in spoil {
        fs::write(&record, &left).expect("written");
        fs::write(book.join("out/manifest.json"), &list).expect("written");
        spoil(&record, &book.join("out/manifest.json"));
        let flow = run_in(book, &["flow"]);
        assert_eq!(flow.stderr, sentence, "{how}");
        assert!(!flow.done().contains("last layers"), "{how}");
        let flow = run_in(book, &["flow", "--json"]).done();
        let flow: Value = serde_json::from_str(&flow).expect("JSON");
        assert_eq!(flow["changed"], Value::Null, "{how}");
        assert_eq!(flow["not_compared"], sentence.trim_end(), "{how}");
    }
    assert!(run_in(book, &["layers"]).stderr.ends_with(sentence));
    assert_eq!(run_in(book, &["layers"]).stderr, "");
}
