//! Every message of the manuscript, word for word: `messages.txt` holds manuscripts, each line behind a
//! bar, and below each what is told of it.

use versefold::names::{Fault, Location};

use super::read;

/// A fault in one line, as `messages.txt` writes it.
fn told(fault: &Fault) -> String {
    let at = |place: &Location| format!("{}:{}", place.line(), place.column());
    let mut line = fault.place.as_ref().map_or("?".to_string(), at);
    line += &format!(" {} {}", fault.word, fault.what);
    let said = [
        ("read", &fault.read),
        ("meant", &fault.meant),
        ("allowed", &fault.allowed),
        ("help", &fault.help),
    ];
    for (name, words) in said {
        line += &words
            .iter()
            .map(|words| format!(" | {name}: {words}"))
            .collect::<String>();
    }
    for (place, words) in &fault.also {
        line += &format!(" | {}: {words}", at(place));
    }
    line
}

#[test]
fn every_fault_is_told_where_it_is_with_what_was_meant_and_how_to_mend_it() {
    let mut seen = Vec::new();
    for block in include_str!("messages.txt").trim_end().split("\n\n") {
        let lines = block.lines().filter_map(|line| line.strip_prefix('|'));
        let lines: Vec<_> = lines
            .map(|line| line.strip_prefix(' ').unwrap_or(line))
            .collect();
        let faults = read(&lines.join("\n")).expect_err(block);
        let written = block
            .lines()
            .filter(|line| line.starts_with('|'))
            .map(str::to_string);
        let found: Vec<_> = written.chain(faults.iter().map(told)).collect();
        assert_eq!(found.join("\n"), block);
        seen.extend(faults.iter().map(|fault| fault.word));
    }
    seen.sort_unstable();
    seen.dedup();
    let words = [
        "callout",
        "empty",
        "keep-together",
        "part-twice",
        "picture-twice",
        "step",
        "unknown-callout",
    ];
    assert_eq!(seen, words);
}
