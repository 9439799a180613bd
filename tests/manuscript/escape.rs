//! A client's plain text, escaped, reads as that text and nothing else.

use std::cell::Cell;

use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use versefold::text::{LineKind, Style, TileKind, escape};

use super::texts::{ends_line, manuscript};
use super::{is_verse, lines, read, source};

/// The lines of a text that hold words, without the spaces at their ends.
fn plain_lines(text: &str) -> Vec<&str> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    text.split(ends_line)
        .map(|line| line.trim_matches([' ', '\t']))
        .filter(|line| !line.is_empty())
        .collect()
}

fn check(text: &str) -> Result<(), TestCaseError> {
    let escaped = escape(text, false);
    let manuscript = match read(&escaped) {
        Ok(manuscript) => manuscript,
        Err(faults) => {
            return Err(TestCaseError::fail(format!(
                "{escaped:?}: {}",
                faults[0].what
            )));
        }
    };
    let words: String = manuscript
        .word_ranges()
        .map(|word| &escaped[word])
        .collect();
    let spoken: String = plain_lines(text).concat();
    prop_assert_eq!(words, spoken.replace([' ', '\t'], ""), "{:?}", &escaped);
    let kinds = manuscript.tiles().iter().map(|tile| tile.kind);
    prop_assert!(kinds.into_iter().all(|kind| kind != TileKind::Callout));
    prop_assert_eq!(manuscript.parts().len(), 1);
    prop_assert!(manuscript.parts()[0].pictures.is_empty());
    for line in lines(&manuscript) {
        let words = line.text(source(&manuscript));
        let is_row_of_asterisks = words
            .split([' ', '\t'])
            .all(|word| word.trim_matches('*').is_empty());
        let kept = line.kind == LineKind::Ornament && is_row_of_asterisks;
        prop_assert!(is_verse(line) || kept, "{:?} in {:?}", line.kind, &escaped);
        prop_assert!(!line.stepped, "stepped in {:?}", &escaped);
        let unmarked = |run: &versefold::text::Run| run.style == Style::default();
        prop_assert!(line.runs.iter().all(unmarked), "stressed in {:?}", &escaped);
    }
    let read: Vec<String> = lines(&manuscript)
        .map(|line| line.text(source(&manuscript)))
        .collect();
    prop_assert_eq!(read, plain_lines(text), "{:?}", &escaped);
    Ok(())
}

#[test]
fn an_escaped_text_reads_as_its_own_words_without_mark_up() {
    let checked = Cell::new(0);
    let mut runner = TestRunner::new(Config {
        failure_persistence: None,
        ..Config::with_cases(4_000)
    });
    let result = runner.run(&manuscript(6), |text| {
        if plain_lines(&text).is_empty() {
            let empty = read(&escape(&text, false)).map_err(|faults| faults[0].word);
            prop_assert_eq!(empty.err(), Some("empty"));
            return Ok(());
        }
        if text.contains(|c: char| c.is_control() && c != '\t' && !ends_line(c)) {
            let words = read(&escape(&text, false)).map_err(|faults| faults[0].word);
            prop_assert_eq!(words.err(), Some("control-character"));
            return Ok(());
        }
        checked.set(checked.get() + 1);
        check(&text)
    });
    result.unwrap_or_else(|failure| panic!("{failure}"));
    assert!(
        checked.get() > 3_000,
        "only {} texts have words",
        checked.get()
    );
}

#[test]
fn what_needs_no_escape_is_left_alone() {
    let poem = "She drove the mail\n  over the pass — 3 degrees —\n\n1. no list, [no] callout\r\n> and no >> step";
    assert_eq!(escape(poem, false), poem);
    let ornaments = "snow\n   *  *  *\n***";
    assert_eq!(escape(ornaments, false), ornaments);
    assert_eq!(escape("* *", false), "\\* \\*");
    assert_eq!(
        escape("[the pass]\n# 7\n>> on", false),
        "\\[the pass]\n\\# 7\n\\>> on"
    );
    assert_eq!(
        escape("snow*flakes \\* a\\b", false),
        "snow\\*flakes \\\\\\* a\\b"
    );
}
