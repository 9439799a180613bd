//! Random manuscripts: words, signs that mean something and signs that do not, and every line end.

use proptest::prelude::*;
use proptest::sample::select;

/// What a line may be made of.
const WORDS: [&str; 34] = [
    "the",
    "bus",
    "climbs",
    "pass",
    "snow",
    "*",
    "**",
    "***",
    "\\",
    "\\*",
    "\\[",
    "[",
    "]",
    "#",
    "##",
    ">>",
    ">",
    " ",
    "  ",
    "\t",
    ".",
    "—",
    "“",
    "”",
    "…",
    "é",
    "e\u{301}",
    "👩‍🦳",
    "🚌",
    "\u{a0}",
    "\u{200b}",
    "\u{feff}",
    "नी",
    "1. ",
];

/// Whole lines that stand for more than they say, some of them broken.
const LINES: [&str; 26] = [
    "# The Winter Bus",
    "## The Pass ##",
    "# ",
    "* * *",
    "***",
    "[picture: the pass]",
    "[picture: the pass ]",
    "[Picture:  the tunnel]",
    "[new panel]",
    "[may divide]",
    "[keep together]",
    "[end together]",
    "[epigraph]",
    "[attribution]",
    "[caption: the pass]",
    "[set as prose]",
    "[space: 30 mm]",
    "[space: snow]",
    "[part: colophon]",
    "[set as verse]",
    "[snow chains]",
    "[",
    "[]",
    "  [may divide]  ",
    ">> and on",
    ">>",
];

/// The mandatory breaks of UAX #14 (classes BK, CR, LF and NL).
const LINE_ENDS: [&str; 9] = [
    "\n", "\n", "\r\n", "\r", "\u{b}", "\u{c}", "\u{85}", "\u{2028}", "\u{2029}",
];

fn words() -> impl Strategy<Value = String> {
    prop::collection::vec(select(&WORDS[..]), 0..8).prop_map(|words| words.concat())
}

fn line_end() -> impl Strategy<Value = String> {
    select(&LINE_ENDS[..]).prop_map(str::to_string)
}

/// Any characters at all, line ends among them.
fn anything() -> impl Strategy<Value = String> {
    prop::collection::vec(any::<char>(), 0..6).prop_map(String::from_iter)
}

/// A text whose lines are words, now and then something else.
pub fn manuscript(callouts: u32) -> impl Strategy<Value = String> {
    let line = prop_oneof![
        12 => words(),
        callouts => select(&LINES[..]).prop_map(str::to_string),
        2 => Just(String::new()),
        1 => anything(),
    ];
    let lines = prop::collection::vec((line, line_end()), 0..9);
    (prop::bool::weighted(0.1), lines, words()).prop_map(|(mark, lines, last)| {
        let start = if mark { "\u{feff}" } else { "" };
        let lines = lines.into_iter().map(|(line, end)| line + &end);
        start.to_string() + &lines.collect::<String>() + &last
    })
}

/// Whether a character ends a line.
pub fn ends_line(c: char) -> bool {
    LINE_ENDS.iter().any(|end| end.contains(c))
}
