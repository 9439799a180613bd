//! The JSON Schemas of the plan and of what the program writes, as a validator of its own reads them.

use std::fs;
use std::path::{Path, PathBuf};

use super::says;
use super::support::{examples, run_in, small_plan, temporary};

/// Prints `good` or `bad` for each plan, or each text of JSON.
const VALIDATE: &str = "
import json, sys, tomllib
from jsonschema import Draft202012Validator
schema = json.load(open(sys.argv[1], encoding='utf-8'))
Draft202012Validator.check_schema(schema)
validator = Draft202012Validator(schema)
for path in sys.argv[2:]:
    with open(path, 'rb') as file:
        read = json if path.endswith('.json') else tomllib
        value = json.loads(json.dumps(read.load(file), default=str))
    print('good' if validator.is_valid(value) else 'bad')
";

fn validate(schema: &str, texts: &[PathBuf]) -> Vec<String> {
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let schema = examples.join(format!("{schema}.schema.json"));
    let files: Vec<PathBuf> = std::iter::once(schema).chain(texts.to_vec()).collect();
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
    for (plan, said) in plans.iter().zip(validate("concertina", &plans)) {
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
    for ((_, to), said) in broken.iter().zip(validate("concertina", &plans)) {
        assert_eq!(said, "bad", "{to}");
    }
}

/// What the small books and the examples give, as files and as results.
#[test]
#[ignore = "needs Python with jsonschema"]
fn the_schemas_take_what_is_written() {
    let temp = temporary();
    let (mut layouts, mut results) = (Vec::new(), Vec::new());
    let plans = sound_plans().into_iter();
    let small = plans.filter_map(|plan| plan.parent().map(Path::to_path_buf));
    for (number, book) in small.chain(examples()).enumerate() {
        let out = temp.path().join(format!("out-{number}"));
        let to = out.to_str().expect("UTF-8");
        let said = run_in(&book, &["layers", "--json", "--out", to]).done();
        let flow = run_in(&book, &["flow", "--json"]).done();
        layouts.push(out.join("layout.json"));
        for (name, text) in [("said.json", said), ("flow.json", flow)] {
            fs::write(out.join(name), text).expect("written");
            results.push(out.join(name));
        }
        results.push(out.join("manifest.json"));
    }
    assert!(layouts.len() > 50, "only {} layouts", layouts.len());
    for (schema, texts) in [("layout", layouts), ("results", results)] {
        for (text, said) in texts.iter().zip(validate(schema, &texts)) {
            assert_eq!(said, "good", "{}", text.display());
        }
    }
}
