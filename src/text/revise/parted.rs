//! Words that the client's program has parted at a line's end after their own hyphen.

use std::collections::HashSet;
use std::sync::Arc;

use super::view::ClientView;
use crate::names::{SetAs, Source};

/// A word without the marks around it.
fn bare(word: &str) -> &str {
    word.trim_matches(|c: char| !c.is_alphanumeric())
}

/// The client's text with words whole again that were parted at a line end behind their own hyphen, where the manuscript's prose has them in one. A line end in prose is a
/// space, so that such a word would otherwise come in as two.
pub(super) fn joined(old: &ClientView, client: &Arc<Source>) -> Arc<Source> {
    let prose = old.lines.iter();
    let prose = prose.filter(|line| line.is_text() && line.region.set_as == SetAs::Prose);
    let hyphened = prose.flat_map(|line| line.view.split_whitespace().map(bare));
    let mut known: HashSet<String> = hyphened
        .filter(|word| word.contains('-'))
        .map(String::from)
        .collect();
    // What the manuscript itself has in two somewhere is left as the client has it.
    for unit in old.units.iter().filter(|unit| unit.prose) {
        let words: Vec<&str> = unit.key.split_whitespace().collect();
        for pair in words.windows(2).filter(|pair| pair[0].ends_with('-')) {
            known.remove(bare(&format!("{}{}", pair[0], pair[1])));
        }
    }
    if known.is_empty() {
        return Arc::clone(client);
    }
    let mut text = String::with_capacity(client.text.len());
    let mut lines = client.text.split_inclusive('\n').peekable();
    let mut rest = "";
    while let Some(line) = lines.next() {
        let line = if rest.is_empty() { line } else { rest };
        rest = "";
        let words = line.trim_end();
        let last = words.split_whitespace().next_back().unwrap_or_default();
        let next = lines.peek().map_or("", |next| next.trim_start());
        let first = next.split_whitespace().next().unwrap_or_default();
        let whole = format!("{last}{first}");
        let parted = last.ends_with('-') && known.contains(bare(&whole));
        if !parted || first.is_empty() {
            text.push_str(line);
            continue;
        }
        text.push_str(words);
        text.push_str(first);
        let after = next[first.len()..].trim_start_matches([' ', '\t']);
        if after.trim().is_empty() {
            // Nothing else stood on the next line: its line end becomes this line's.
            text.push_str(after);
            lines.next();
        } else {
            text.push_str(&line[words.len()..]);
            rest = after;
        }
    }
    match text == client.text {
        true => Arc::clone(client),
        false => Source::new(client.name.as_str(), text),
    }
}
