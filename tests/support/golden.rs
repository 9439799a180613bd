//! Golden files: what is expected, and how it is written anew.

use std::fs;
use std::path::Path;

/// Compares `found` with the file at `path`. With `UPDATE=1` in the environment the file is written anew,
/// and the comparison fails all the same, so that nothing passes unread. Gives what is wrong, if anything.
pub fn differs(path: &Path, found: &str) -> Option<String> {
    let expected = fs::read_to_string(path).ok();
    if expected.as_deref() == Some(found) {
        return None;
    }
    let name = path.display();
    if std::env::var_os("UPDATE").is_some_and(|value| value == "1") {
        fs::create_dir_all(path.parent().unwrap_or(path)).expect("a folder for golden files");
        fs::write(path, found).expect("the golden file is written");
        return Some(format!("{name} was written anew: read it, then test again"));
    }
    let Some(expected) = expected else {
        return Some(format!("{name} is missing; it would hold:\n{found}"));
    };
    Some(format!("{name} {}", first_difference(&expected, found)))
}

fn first_difference(expected: &str, found: &str) -> String {
    let mut number = 1;
    let (mut expected, mut found) = (expected.split('\n'), found.split('\n'));
    loop {
        match (expected.next(), found.next()) {
            (Some(a), Some(b)) if a == b => number += 1,
            (a, b) => {
                let end = "(the end)";
                return format!(
                    "differs in line {number}:\n  expected {}\n  found    {}",
                    a.unwrap_or(end),
                    b.unwrap_or(end)
                );
            }
        }
    }
}
