//! The JSON Schema of the plan, as a validator of its own reads it.

use std::fs;
use std::path::{Path, PathBuf};

use super::says;
use super::support::{examples, run_in, small_plan, temporary};

/// Prints `good` or `bad` for each plan.
const VALIDATE: &str = "
import json, sys, tomllib
from jsonschema import Draft202012Validator
schema = json.load(open(sys.argv[1], encoding='utf-8'))
Draft202012Validator.check_schema(schema)
validator = Draft202012Validator(schema)
for path in sys.argv[2:]:
    with open(path, 'rb') as file:
        plan = json.loads(json.dumps(tomllib.load(file), default=str))
    print('good' if validator.is_valid(plan) else 'bad')
";

fn validate(plans: &[PathBuf]) -> Vec<String> {
    let schema = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/concertina.schema.json");
    let files: Vec<PathBuf> = std::iter::once(schema).chain(plans.to_vec()).collect();
    let said = says("python3", &["-c", VALIDATE], &files).expect("the validator runs");
    said.lines().map(String::from).collect()
}

/// The plans of the small books that give a layout: the program takes them, and so must the schema.
fn sound_plans() -> Vec<PathBuf> {
    let books = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/books");
    let books = fs::read_dir(books).expect("tests/books is there");
    let books = books.map(|book| book.expect("the folder can be read").path());
    let sound = books.filter(|book| book.join("expected/flow.txt").exists());
    sound.map(|book| book.join("concertina.toml")).collect()
}

#[test]
#[ignore = "needs Python with jsonschema"]
fn the_schema_takes_every_sound_plan() {
    let temp = temporary();
    run_in(temp.path(), &["new", "ferry"]).done();
    let mut plans = vec![temp.path().join("ferry/concertina.toml")];
    plans.extend(examples().iter().map(|book| book.join("concertina.toml")));
    plans.extend(sound_plans());
    assert!(plans.len() > 20, "only {} plans", plans.len());
    for (plan, said) in plans.iter().zip(validate(&plans)) {
        assert_eq!(said, "good", "{}", plan.display());
    }
}

/// What the schema refuses, the program must refuse too.
#[test]
#[ignore = "needs Python with jsonschema"]
fn the_schema_refuses_broken_plans() {
    let temp = temporary();
    let whole = small_plan(4, "\n[text]\nsize = \"11 pt\"\n");
    let broken = [
        ("title", "titel"),
        ("90 mm", "90 mn"),
        ("per-side = 4", "per-side = 0"),
        ("sides = \"front\"", "sides = \"three\""),
        ("manuscript = \"winter-bus.txt\"\n", ""),
        ("size = \"11 pt\"", "size = 11"),
        ("en-GB", "en_GB"),
        ("[text]", "[[text]]"),
    ];
    let plans = broken.iter().enumerate().map(|(number, (from, to))| {
        assert!(whole.contains(from), "{from}");
        let book = temp.path().join(number.to_string());
        super::support::write_book(&book, &whole.replacen(from, to, 1), "One long.\n");
        assert_eq!(run_in(&book, &["flow"]).status, Some(2), "{to}");
        book.join("concertina.toml")
    });
    let plans: Vec<PathBuf> = plans.collect();
    for ((_, to), said) in broken.iter().zip(validate(&plans)) {
        assert_eq!(said, "bad", "{to}");
    }
}
