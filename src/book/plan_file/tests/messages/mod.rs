//! Every message of the plan, word for word: the files under `messages/` change a sound plan as a patch
//! would, and say what is told.

use super::{PLAN, read};
use crate::names::Fault;

/// A fault in one line, as the files under `messages/` write it.
fn told(fault: &Fault) -> String {
    let place = |place: &crate::names::Location| format!("{}:{}", place.line(), place.column());
    let mut line = fault.place.as_ref().map_or("?".to_string(), place);
    line += &format!(" {} {}", fault.word, fault.what);
    for (name, said) in [
        ("read", &fault.read),
        ("meant", &fault.meant),
        ("allowed", &fault.allowed),
        ("help", &fault.help),
    ] {
        if let Some(said) = said {
            line += &format!(" | {name}: {said}");
        }
    }
    for (also, words) in &fault.also {
        line += &format!(" | {}: {words}", place(also));
    }
    line
}

/// The lines of a block that start with a mark, without it.
fn marked(block: &str, mark: char) -> Vec<&str> {
    let lines = block.lines().filter_map(|line| line.strip_prefix(mark));
    lines
        .map(|line| line.strip_prefix(' ').unwrap_or(line))
        .collect()
}

/// Checks every block of a file: the changed lines, then the faults that the changed plan has. With `UPDATE=1` the
/// file is written anew, and the test fails once so that somebody looks at it.
fn check(name: &str) {
    let path = format!(
        "{}/src/book/plan_file/tests/messages/{name}.txt",
        env!("CARGO_MANIFEST_DIR")
    );
    let file = std::fs::read_to_string(&path).expect("a file of messages");
    let mut anew = Vec::new();
    for block in file.trim_end().split("\n\n") {
        let (old, new) = (marked(block, '-').join("\n"), marked(block, '+').join("\n"));
        assert!(PLAN.contains(&old), "{old} is not in the plan");
        let faults = read(&PLAN.replacen(&old, &new, 1)).expect_err(block);
        let change = block.lines().filter(|line| line.starts_with(['-', '+']));
        let mut lines: Vec<_> = change.map(str::to_string).collect();
        lines.extend(faults.iter().map(told));
        anew.push(lines.join("\n"));
    }
    let anew = anew.join("\n\n") + "\n";
    if std::env::var_os("UPDATE").is_some() && anew != file {
        std::fs::write(&path, anew).expect("the file can be written");
        panic!("{name}.txt is written anew: look at it");
    }
    same_blocks(&anew, &file);
}

/// Compares block by block, so that a difference is seen by itself.
fn same_blocks(anew: &str, file: &str) {
    for (anew, old) in anew
        .trim_end()
        .split("\n\n")
        .zip(file.trim_end().split("\n\n"))
    {
        assert_eq!(anew, old);
    }
}

#[test]
fn paper_and_type() {
    check("paper-and-type");
}

#[test]
fn rules_and_panels() {
    check("rules-and-panels");
}

#[test]
fn pictures_and_parts() {
    check("pictures-and-parts");
}

#[test]
fn syntax_and_several_at_once() {
    check("syntax-and-several");
}

/// Wrong values, a misspelt key, a contradiction and a missing panel, each in a table of its own.
#[test]
fn five_mistakes_are_told_at_once_and_in_order() {
    let text = PLAN
        .replace("\"The Winter Bus\"", "\"\"")
        .replace("bleed = \"4 mm\"", "bleed = 4")
        .replace("stanza-space", "stanza-spce")
        .replace("emptiest = \"10 %\"", "emptiest = \"99 %\"")
        .replace("\"back 2\"", "\"back 9\"");
    let faults = read(&text).unwrap_err();
    let words: Vec<_> = faults.iter().map(|fault| fault.word).collect();
    assert_eq!(
        words,
        [
            "empty",
            "wrong-unit",
            "unknown-key",
            "contradiction",
            "wrong-panel"
        ]
    );
}
