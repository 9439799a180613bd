//! Emphasis against pulldown-cmark, an independent implementation of CommonMark 0.31.2
//! (<https://spec.commonmark.org/0.31.2/#emphasis-and-strong-emphasis>).

use std::cell::Cell;

use proptest::prelude::*;
use proptest::sample::select;
use proptest::test_runner::{Config, TestRunner};
use pulldown_cmark::{Event, Parser, Tag, TagEnd};

use super::{is_verse, lines, read, source};

/// A character with whether it is emphasised and whether it is strong.
type Stressed = (char, bool, bool);

/// What CommonMark reads, where it reads one paragraph and nothing but words and stress in it.
fn reference(text: &str) -> Option<Vec<Stressed>> {
    let (mut paragraphs, mut emphasis, mut strong) = (0, 0, 0);
    let mut found = Vec::new();
    for event in Parser::new(text) {
        match event {
            Event::Start(Tag::Paragraph) => paragraphs += 1,
            Event::Start(Tag::Emphasis) => emphasis += 1,
            Event::End(TagEnd::Emphasis) => emphasis -= 1,
            Event::Start(Tag::Strong) => strong += 1,
            Event::End(TagEnd::Strong) => strong -= 1,
            Event::Text(words) => {
                found.extend(words.chars().map(|c| (c, emphasis > 0, strong > 0)));
            }
            // Line ends are compared without their stress: they are not set.
            Event::SoftBreak | Event::HardBreak => found.push(('\n', false, false)),
            Event::End(TagEnd::Paragraph) => {}
            _ => return None,
        }
    }
    (paragraphs == 1).then_some(found)
}

/// What we read, where we read one stanza of verse.
fn ours(text: &str) -> Option<Vec<Stressed>> {
    let manuscript = read(text).ok()?;
    let mut found = Vec::new();
    for (index, line) in lines(&manuscript).enumerate() {
        if !is_verse(line) || line.block > 0 {
            return None;
        }
        if index > 0 {
            found.push(('\n', false, false));
        }
        for run in &line.runs {
            let words = source(&manuscript).text[run.from..run.to].chars();
            found.extend(words.map(|c| (c, run.style.emphasis, run.style.strong)));
        }
    }
    Some(found)
}

/// Compares both readings of texts made of these pieces, and counts those that both read as one stanza.
fn compare(cases: u32, pieces: &'static [&'static str]) {
    let (compared, stressed) = (Cell::new(0), Cell::new(0));
    let config = Config {
        max_global_rejects: cases * 4,
        failure_persistence: None,
        ..Config::with_cases(cases)
    };
    let text = prop::collection::vec(select(pieces), 1..16).prop_map(|pieces| pieces.concat());
    let result = TestRunner::new(config).run(&text, |text| {
        let (Some(reference), Some(ours)) = (reference(&text), ours(&text)) else {
            return Err(TestCaseError::reject("not one stanza"));
        };
        compared.set(compared.get() + 1);
        let any = reference
            .iter()
            .any(|(_, emphasis, strong)| *emphasis || *strong);
        stressed.set(stressed.get() + usize::from(any));
        prop_assert_eq!(ours, reference, "{:?}", text);
        Ok(())
    });
    result.unwrap_or_else(|failure| panic!("{failure}"));
    assert!(compared.get() >= cases as usize);
    assert!(
        stressed.get() * 8 > compared.get(),
        "{} are stressed",
        stressed.get()
    );
}

#[test]
fn emphasis_in_a_line_is_as_in_commonmark() {
    compare(
        5_000,
        &[
            "a", "b", "*", "*", "*", "**", "**", "***", " ", ".", "(", ")", "“", "”", "é", "\\*",
            "\\\\", "\\.",
        ],
    );
}

#[test]
fn emphasis_runs_on_over_the_lines_of_a_stanza_as_in_commonmark() {
    compare(
        5_000,
        &[
            "a", "b", "*", "*", "**", "**", "***", " ", "“", "”", "é", "\\*", "\na", "\nb", "\n*",
            "\n**", "\n(", "—\n",
        ],
    );
}

/// Signs of many scripts and kinds: which of them count as punctuation decides what asterisks do. Letters that are written
/// without spaces are another matter, see `tests/emphasis.rs`.
#[test]
fn signs_of_other_scripts_flank_as_in_commonmark() {
    compare(
        10_000,
        &[
            "a", "*", "*", "**", "**", "***", " ", "€", "¡", "。", "—", "…", "©", "²", "7", "नी",
            "न्", "מַ", "בְּ֑", "e\u{301}", "🚌", "\u{200d}", "\u{2060}", "\u{ad}", "\u{a0}",
            "\u{3000}", "\u{202a}", "\u{e000}",
        ],
    );
}
