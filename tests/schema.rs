//! The JSON Schemas that lie beside the demo: that of plans is the one that the program reads them by, and those of what
//! it writes are made of the declarations that write it. `UPDATE=1` writes them anew.
//!
//! What every example and small book gives is as its schema says.

use std::path::{Path, PathBuf};

use rayon::prelude::*;
use serde_json::Value;
use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::cli::results_schema;
use versefold::outputs::{WordsAs, json, layout_schema};

use crate::support::refusals::refusals;
use crate::support::{copy_of, examples, golden, run_in, temporary};

#[test]
fn the_schemas_in_the_examples_are_fresh() {
    let stale: Vec<String> = [
        ("concertina", versefold::book::plan_file::schema::schema()),
        ("layout", layout_schema()),
        ("results", results_schema()),
    ]
    .into_iter()
    .filter_map(|(name, schema)| {
        let text = serde_json::to_string_pretty(&schema).expect("JSON") + "\n";
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
        golden::differs(&path.join(format!("{name}.schema.json")), &text)
    })
    .collect();
    assert!(stale.is_empty(), "{}", stale.join("\n"));
}

/// The small books that give a layout, and the examples.
fn books() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/books");
    let entries = std::fs::read_dir(folder).expect("tests/books is there");
    let paths = entries.map(|entry| entry.expect("the folder can be read").path());
    let small = paths.filter(|path| path.join("expected/flow.txt").exists());
    small.chain(examples()).collect()
}

#[test]
fn every_layout_is_as_its_schema_says() {
    let (schema, books) = (layout_schema(), books());
    assert!(books.len() > 50, "only {}", books.len());
    books.par_iter().for_each(|book| {
        let layout = Workbench::new(Assets::folder(book))
            .lay_out()
            .expect("the book is sound");
        let text = json(&layout, WordsAs::Text);
        let value: Value = serde_json::from_slice(&text).expect("JSON");
        assert_eq!(refusals(&schema, &value), [""; 0], "{}", book.display());
        let begins = String::from_utf8_lossy(&text[..40]);
        assert!(begins.starts_with("{\n  \"format\": 1,\n"), "{begins}");
    });
}

/// A schema that took anything would say nothing.
#[test]
fn a_layout_that_is_otherwise_is_refused() {
    let schema = layout_schema();
    let layout = Workbench::new(Assets::folder(crate::support::demo())).lay_out();
    let text = json(&layout.expect("the demo is sound"), WordsAs::Text);
    let whole: Value = serde_json::from_slice(&text).expect("JSON");
    let spoilt = |at: &str, put: Value| {
        let mut value = whole.clone();
        *value.pointer_mut(at).expect("it is there") = put;
        refusals(&schema, &value)
    };
    assert_eq!(spoilt("/format", 2.into()), ["format.const"]);
    assert_eq!(spoilt("/title", Value::Null), ["title.type"]);
    assert_eq!(spoilt("/words_as", 1.into()), ["words_as.anyOf"]);
    let line = "/panels/1/lines/0";
    let in_line = |key: &str| format!("{line}/{key}");
    assert_eq!(
        spoilt(&in_line("x_mm"), "11".into()),
        ["panels.lines.x_mm.type"]
    );
    let sources = serde_json::json!([[1, 2, 3]]);
    assert_eq!(
        spoilt(&in_line("sources"), sources),
        ["panels.lines.sources.maxItems"]
    );
    let costs = serde_json::json!({ "text-fullness": "much" });
    assert_eq!(
        spoilt("/panels/1/costs", costs),
        ["panels.costs.text-fullness.type"]
    );
    let mut more = whole.clone();
    more["strip"]["colour"] = "red".into();
    assert_eq!(refusals(&schema, &more), ["strip.additionalProperties"]);
    more["strip"]
        .as_object_mut()
        .expect("a record")
        .remove("folds");
    assert_eq!(
        refusals(&schema, &more),
        ["strip.additionalProperties", "strip.required"]
    );
}

/// Every command, as one meets them in turn.
#[test]
fn what_every_command_says_is_as_its_schema_says() {
    let temp = temporary();
    let book = temp.path().join("book");
    copy_of(&crate::support::demo(), &book);
    let poem = "Chains go on before you need them.\n\nSnow lay on the step.\n";
    std::fs::write(temp.path().join("poem.txt"), poem).expect("written");
    let manuscript = std::fs::read_to_string(book.join("winter-bus.txt")).expect("UTF-8");
    let corrected = manuscript.replacen("Yellow", "Blue", 1);
    assert_ne!(corrected, manuscript);
    std::fs::write(temp.path().join("client.txt"), &corrected).expect("written");
    let schema = results_schema();
    let check = |arguments: &[&str], kind: &str| {
        let ran = run_in(temp.path(), &[arguments, &["--json"]].concat());
        let said = if ran.status == Some(0) {
            &ran.stdout
        } else {
            &ran.stderr
        };
        let said: Value = serde_json::from_str(said).expect("JSON");
        assert_eq!(refusals(&schema, &said), [""; 0], "{arguments:?}: {said:#}");
        // The whole schema takes what any of the records takes: this must be the one it is meant to be.
        let mut own = schema.clone();
        own["anyOf"] = serde_json::json!([{ "$ref": format!("#/$defs/{kind}") }]);
        assert_eq!(refusals(&own, &said), [""; 0], "{arguments:?}");
        assert_eq!(said["format"], 1, "{arguments:?}");
    };
    check(&["new", "ferry", "--manuscript", "poem.txt"], "New");
    check(&["new", "ferry"], "Faults");
    check(
        &[
            "cast-off",
            "book",
            "--sizes",
            "11 pt, 40 pt",
            "--panels",
            "3,12",
        ],
        "CastOff",
    );
    check(&["flow", "book"], "Flow");
    check(&["flow", "book", "--why", "front 3"], "Why");
    check(&["trials", "book", "--sizes", "11 pt, 40 pt"], "Trials");
    check(&["trials", "book", "--choose", "2"], "Trials");
    check(&["layers", "book"], "Layers");
    check(&["flow", "book", "--why", "front 3"], "Why");
    check(&["pass", "front 4", "book"], "Pass");
    check(&["revise", "client.txt", "book"], "Revise");
    check(&["revise", "client.txt", "book"], "Revise");
    check(&["flow", "book"], "Flow");
    check(&["layers", "book"], "Layers");
    check(&["pass", "--release", "front 4", "book"], "Release");
    check(&["strip", "book"], "PrintSheets");
    check(&["strip", "book", "--plate=black"], "PrintSheets");
    check(&["dummy", "book"], "Dummy");
    let list = std::fs::read(book.join("out/manifest.json")).expect("the list");
    let list: Value = serde_json::from_slice(&list).expect("JSON");
    let mut own = schema.clone();
    own["anyOf"] = serde_json::json!([{ "$ref": "#/$defs/Manifest" }]);
    assert_eq!(refusals(&own, &list), [""; 0]);
    // Every record has been met, so that none is described which nothing gives.
    assert_eq!(schema["anyOf"].as_array().map(Vec::len), Some(13));
}
