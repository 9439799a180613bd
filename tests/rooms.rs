//! The rooms of `src` stand in one order, and no file imports a room below its own.
//!
//! The order is that of the list in the crate root. Tests inside `src` may look anywhere.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// From the ground floor up.
const ROOMS: [&str; 19] = [
    "names", "json", "assets", "reading", "stack", "rules", "plan", "text", "art", "paper",
    "typeface", "setting", "division", "layout", "pdf", "readback", "outputs", "book", "cli",
];

fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("the folder can be read") {
        let path = entry.expect("the folder can be read").path();
        if path.is_dir() {
            files(&path, found);
        } else if path.extension().is_some_and(|end| end == "rs") {
            found.push(path);
        }
    }
}

/// What a file says outside its comments and its tests.
fn code(text: &str) -> String {
    let text = text
        .split("\n#[cfg(test)]\nmod tests {")
        .next()
        .unwrap_or(text);
    let lines = text
        .lines()
        .map(|line| line.split("//").next().unwrap_or(""));
    lines.collect::<Vec<_>>().join("\n")
}

/// The rooms that a piece of code names by their path from the crate's root.
fn rooms_named(code: &str) -> BTreeSet<&str> {
    let mut named = BTreeSet::new();
    for (at, _) in code.match_indices("crate::") {
        let rest = &code[at + "crate::".len()..];
        let heads: Vec<&str> = match rest.strip_prefix('{') {
            // `use crate::{names::Length, plan::Plan};`
            Some(group) => {
                let group = group.split('}').next().unwrap_or("");
                group.split(',').map(str::trim).collect()
            }
            None => vec![rest],
        };
        for head in heads {
            let end = head.find(|c: char| !c.is_alphanumeric() && c != '_');
            named.insert(&head[..end.unwrap_or(head.len())]);
        }
    }
    named
}

/// Asserts that no file of a room, its tests aside, names one of these others.
fn assert_imports_none(room: &str, others: &[&str]) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut found = Vec::new();
    files(&root.join(room), &mut found);
    assert!(!found.is_empty(), "{room} is empty");
    let mut against = Vec::new();
    for path in found {
        let inside = path.strip_prefix(&root).expect("it lies below");
        if inside.components().any(|step| step.as_os_str() == "tests")
            || inside
                .file_stem()
                .is_some_and(|stem| stem.to_string_lossy().ends_with("tests"))
        {
            continue;
        }
        let text = fs::read_to_string(&path).expect("a file");
        for named in rooms_named(&code(&text)) {
            if others.contains(&named) {
                against.push(format!("{} imports {named}", inside.display()));
            }
        }
    }
    assert!(against.is_empty(), "{}", against.join("\n"));
}

#[test]
fn no_room_imports_one_above_it() {
    for (floor, room) in ROOMS.iter().enumerate() {
        assert_imports_none(room, &ROOMS[floor + 1..]);
    }
}

/// The search knows whole numbers only: how words are set, and in which faces, is nothing to it.
#[test]
fn the_division_knows_no_setting_no_typeface_and_no_art() {
    assert_imports_none("division", &["setting", "typeface", "art"]);
}

/// Every folder and file below `src` is one of the rooms, the crate root or the program.
#[test]
fn every_room_is_listed() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let entries = fs::read_dir(root).expect("the folder can be read");
    let mut there: Vec<String> = entries
        .map(|entry| {
            entry
                .expect("an entry")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .filter(|name| !name.ends_with(".rs"))
        .collect();
    there.sort();
    let mut listed = ROOMS.map(str::to_string).to_vec();
    listed.sort();
    assert_eq!(there, listed);
}

/// The crate root tells the rooms in the same order.
#[test]
fn the_crate_root_tells_the_same_order() {
    let page = include_str!("../src/lib.rs");
    let list = page.split("# The rooms").nth(1).expect("a list of rooms");
    let list = list.split("# The promises").next().expect("its end");
    let mut last = 0;
    for room in ROOMS {
        let told = [format!("[`{room}`]"), format!("`{room}`:")];
        let at = told.iter().filter_map(|word| list.find(word)).min();
        let at = at.unwrap_or_else(|| panic!("{room} is not told"));
        assert!(at > last, "{room} is told out of its order");
        last = at;
    }
}
