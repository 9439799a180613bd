//! From the plan's text to its tables: what TOML itself objects to is told in plain words.

use std::ops::Range;
use std::sync::Arc;

use toml::de::{DeTable, Error};

use super::reader::Reader;
use super::table::{Table, read_entries};
use crate::names::{Fault, Faults, Location, Source};

/// A file of tables as it was read.
pub struct TomlDocument<T> {
    /// All tables of the file; where its text is not sound TOML, those that could be read.
    pub written: T,
    /// Everything wrong with the text and with single values. Where the text is unsound, keys may be
    /// lost: none is missed then, and lines that are upset are not read into.
    pub faults: Faults,
    /// Whether every key of the text was read, so that what the keys say together can be checked.
    pub complete: bool,
}

/// Reads a file of tables and everything wrong with the single values in it.
pub fn read<T: Table>(source: &Arc<Source>) -> TomlDocument<T> {
    let (table, errors) = DeTable::parse_recoverable(&source.text);
    let mut reader = Reader::new(source);
    // Keys that the file lacks are told at its first character.
    let start = source.text.len() - source.text.trim_start_matches('\u{feff}').len();
    let written = read_entries(table.get_ref(), start..start, &mut reader);
    let mut faults = syntax_faults(source, &errors);
    let complete = faults.iter().all(|fault| fault.word == "duplicate-key");
    let values = reader.into_faults();
    match complete {
        true => faults.extend(values),
        false => faults.extend(still_sure(&faults, values)),
    }
    TomlDocument {
        written,
        faults,
        complete,
    }
}

/// The faults of the text as TOML. One mistake often upsets a whole line, or every line after it; only what is not
/// its mere consequence is told.
fn syntax_faults(source: &Arc<Source>, errors: &[Error]) -> Faults {
    let mut faults = Faults::new();
    for error in errors {
        let place = Location::new(source, error.span().unwrap_or(0..0));
        let sound = faults.iter().all(|fault| fault.word == "duplicate-key");
        let bracket = BRACKETS.iter().any(|word| error.message().contains(word));
        let mut lines = faults
            .iter()
            .filter_map(|fault| Some(fault.place.as_ref()?.line()));
        if lines.any(|line| line == place.line())
            || (!sound && error.message().starts_with("duplicate key"))
        {
            continue;
        }
        match left_open(&place).filter(|_| bracket) {
            Some(bracket) => {
                let what = format!(
                    "this bracket is not closed before line {}, or a comma is missing there",
                    place.line()
                );
                faults.push(Fault::new("syntax", what).at(bracket));
                // All that follows was read as if it stood in the bracket.
                break;
            }
            None => faults.push(syntax_fault(error.message(), place)),
        }
    }
    faults
}

/// Words by which what the TOML reader says of lists and tables in brackets is known.
const BRACKETS: [&str; 7] = [
    "comma",
    "array",
    "inline table",
    "assignment",
    "extra `=`",
    "unexpected key",
    "string values must be quoted",
];

/// The bracket that stands open on an earlier line where a line at `place` starts a new key or header:
/// there the mistake is, and not where it shows.
fn left_open(place: &Location) -> Option<Location> {
    let text = &place.source.text;
    let (start, line) = line_start(text, place.span.start);
    let key = line.split('=').next().unwrap_or_default().trim_end();
    let word = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    let starts_key = line.contains('=') && !key.is_empty() && key.chars().all(word);
    if !starts_key && !line.starts_with('[') {
        return None;
    }
    let mut closed = 0;
    for (at, byte) in text.as_bytes()[..start].iter().enumerate().rev() {
        match byte {
            b']' | b'}' => closed += 1,
            b'[' | b'{' if closed > 0 => closed -= 1,
            b'[' | b'{' => return Some(Location::new(&place.source, at..at + 1)),
            _ => {}
        }
    }
    None
}

/// The faults in the values of an unsound text that its unsoundness cannot have made.
fn still_sure(syntax: &[Fault], faults: Faults) -> Faults {
    let lines: Vec<_> = syntax
        .iter()
        .filter_map(|fault| fault.place.as_ref().map(Location::line))
        .collect();
    // An open bracket swallows what follows, and an open header takes other keys for its own.
    let open = ["this bracket", "the header", "the square", "the curly"];
    let open = syntax
        .iter()
        .filter(|fault| open.iter().any(|start| fault.what.starts_with(start)))
        .filter_map(|fault| fault.place.as_ref().map(Location::line))
        .min();
    let sure = |fault: &Fault| {
        let line = fault.place.as_ref().map_or(1, Location::line);
        let lost = fault.word == "missing-key" || open.is_some_and(|open| line >= open);
        !lost && !lines.contains(&line)
    };
    faults.into_iter().filter(sure).collect()
}

const NUMBER: &str = "this is no number; text must stand in quotation marks, such as \"11 pt\"";

/// How messages of the TOML reader begin, and what each says in plain words.
const PLAIN: [(&str, &str); 28] = [
    (
        "missing assignment",
        "an `=` is missing between key and value",
    ),
    ("missing key", "a key is missing"),
    (
        "invalid mantissa",
        "a number needs a figure on both sides of the point, such as 0.5",
    ),
    ("invalid boolean", "text must stand in quotation marks"),
    ("invalid float", NUMBER),
    ("invalid integer", NUMBER),
    ("invalid decimal", NUMBER),
    ("unexpected leading zero", "a number may not start with 0"),
    (
        "invalid date",
        "this is no day of the calendar: write year-month-day, such as 2026-11-25",
    ),
    (
        "unclosed multi",
        "the text in three quotation marks does not end",
    ),
    (
        "string values must be quoted",
        "text must stand in quotation marks",
    ),
    (
        "invalid basic string",
        "the text in quotation marks does not end, or holds a `\\` that means nothing here",
    ),
    (
        "invalid literal string",
        "the text in single quotation marks does not end",
    ),
    (
        "invalid multi-line",
        "the text in three quotation marks does not end",
    ),
    (
        "missing escaped value",
        "the `\\` means nothing here; write `\\\\` for a backslash",
    ),
    (
        "missing opening quote",
        "the quotation mark at the front is missing",
    ),
    (
        "key with no value",
        "the key has no value: write key = value",
    ),
    ("missing value", "the value after `=` is missing"),
    ("extra `=`", "there is one `=` too many"),
    ("missing comma", "a comma is missing between two entries"),
    ("extra comma", "there is one comma too many"),
    ("unclosed array table", "the header needs `]]` at its end"),
    ("unclosed table", "the header needs `]` at its end"),
    (
        "unclosed array",
        "the square bracket is never closed with `]`",
    ),
    (
        "unclosed inline table",
        "the curly bracket is never closed with `}`",
    ),
    (
        "unexpected key or value",
        "the line should end here: put the next key on a line of its own",
    ),
    (
        "invalid unquoted key",
        "a key may only have letters, figures, `-` and `_`",
    ),
    (
        "cannot recurse further",
        "brackets stand too deep inside each other",
    ),
];

fn syntax_fault(message: &str, place: Location) -> Fault {
    if message.starts_with("duplicate key") {
        return twice(place);
    }
    if message.starts_with("cannot extend") {
        let what = "this key already has a value, and can have no keys of its own";
        return Fault::new("duplicate-key", what).at(place);
    }
    let (_, line) = line_start(&place.source.text, place.span.end);
    let blank = line
        .split('=')
        .nth(1)
        .is_some_and(|value| value.trim().is_empty());
    if place.source.text[place.span.start..].starts_with(['“', '”', '„', '‘', '’', '«', '»'])
    {
        let what = "quotation marks around a value must be straight ones: \" and not curly";
        return Fault::new("syntax", what).at(place);
    }
    let message = match message.starts_with("string values") && blank {
        true => "missing value",
        false => message,
    };
    let plain = PLAIN.iter().find(|(start, _)| message.starts_with(start));
    let what = match plain {
        Some((_, plain)) => (*plain).to_string(),
        None => format!("this is no sound TOML ({message})"),
    };
    Fault::new("syntax", what).at(place)
}

/// A key that its table already has.
fn twice(place: Location) -> Fault {
    let text = &place.source.text;
    let key = text[place.span.clone()].to_string();
    let header = line_start(text, place.span.start).1.starts_with('[');
    let what = match header {
        true => format!("[{key}] is there twice: put its keys under one header"),
        false => format!("`{key}` is there twice"),
    };
    let first = earlier(text, &place.span, &key, header);
    let fault = Fault::new("duplicate-key", what).read(key);
    let fault = match first {
        Some(span) => fault.also(Location::new(&place.source, span), "first here"),
        None => fault,
    };
    fault.at(place)
}

/// Where the line that holds `at` starts, and what stands there, without the space at its front.
fn line_start(text: &str, at: usize) -> (usize, &str) {
    let start = text[..at].rfind('\n').map_or(0, |newline| newline + 1);
    let line = text[start..].lines().next().unwrap_or_default();
    (start, line.trim_start())
}

/// The nearest earlier line that starts with the same key, or the same header. The TOML reader knows
/// the place, but does not tell it; a plan has one key a line, so that looking back finds it.
fn earlier(text: &str, span: &Range<usize>, key: &str, header: bool) -> Option<Range<usize>> {
    let before = &text[..line_start(text, span.start).0];
    let mut end = before.len();
    for line in before.split_inclusive('\n').rev() {
        let start = end - line.len();
        end = start;
        let opened = line.trim_start().trim_start_matches(['[', '\u{feff}']);
        let is_header = line.trim_start().starts_with('[');
        let rest = opened.strip_prefix(key).map(str::trim_start);
        let after = if header { ']' } else { '=' };
        if is_header == header && rest.is_some_and(|rest| rest.starts_with(after)) {
            let at = start + line.len() - opened.len();
            return Some(at..at + key.len());
        }
    }
    None
}
