//! Texts of a set form: names, languages, files and dates.

use std::path::{Component, Path};

use serde_json::{Value as Json, json};
use toml::de::DeValue;

use crate::names::{Date, Fault};
use crate::reading::{Node, Passage, Reader, Value, Words, stands_in_a_line};

/// A BCP 47 language tag.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Language(pub String);

impl Value for Language {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Language> {
        let Some(text) = node.text() else {
            return reader.wrong_type(node, "a language tag in quotation marks, such as \"en-GB\"");
        };
        read_language(text).map(Language).or_else(|| {
            let what = format!("`{text}` is no language tag");
            let fault = Fault::new("wrong-language", what)
                .allowed("a BCP 47 language tag, such as \"en-GB\", \"de\" or \"ja\"")
                .meant(read_language(&text.replace('_', "-")));
            reader.refuse(node, fault)
        })
    }

    fn schema() -> Json {
        json!({ "type": "string", "pattern": "^[A-Za-z]{2,3}(-[A-Za-z0-9]{1,8})*$" })
    }
}

/// The tag in its usual spelling. Its language must be two or three letters: longer words are well
/// formed too, but none is in use, and `english` would pass for one.
fn read_language(text: &str) -> Option<String> {
    let tag = oxilangtag::LanguageTag::parse_and_normalize(text).ok()?;
    let known = (2..=3).contains(&tag.primary_language().len());
    known.then(|| tag.into_inner())
}

/// A word with hyphens where it may be divided; without one, it is never divided.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HyphenatedWord(pub String);

impl Value for HyphenatedWord {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<HyphenatedWord> {
        let Words(word) = Words::read(node, reader)?;
        let part_is_sound = |part: &str| !part.is_empty() && part.chars().all(is_of_word);
        if word.split('-').all(part_is_sound) {
            return Some(HyphenatedWord(word));
        }
        let what = format!("`{word}` is no word with hyphens");
        let fault = Fault::new("wrong-word", what).allowed(
            "one word, with hyphens where it may be divided, such as \"win-ter-berg\"; without \
             any it is never divided",
        );
        reader.refuse(node, fault)
    }

    fn schema() -> Json {
        json!({ "type": "string", "pattern": "^\\s*[^\\s-]+(-[^\\s-]+)*\\s*$" })
    }
}

fn is_of_word(c: char) -> bool {
    c.is_alphabetic()
        || unicode_normalization::char::is_combining_mark(c)
        || matches!(c, '\'' | '’')
}

/// A file inside the book's folder, by its path from there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BookFile(pub String);

impl Value for BookFile {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<BookFile> {
        let Passage(text) = Passage::read(node, reader)?;
        let fault = |why: &str| {
            let what = format!(
                "{} must be a file inside the book's folder{why}",
                node.name()
            );
            Fault::new("wrong-file", what)
        };
        if text.contains('\\') {
            let fault = fault(": write folders with `/`").meant(Some(text.replace('\\', "/")));
            return reader.refuse(node, fault);
        }
        let path = Path::new(&text);
        let drive = text.as_bytes().get(1) == Some(&b':');
        if text.starts_with('/') || path.is_absolute() || drive {
            return reader.refuse(node, fault(", not one from the top of the disk"));
        }
        if path.components().any(|step| step == Component::ParentDir) {
            return reader.refuse(node, fault(": `..` leads out of it"));
        }
        if !text.chars().all(stands_in_a_line) {
            return reader.refuse(node, fault(": its name holds a character that is not seen"));
        }
        if path.file_name().is_none() || text.ends_with('/') {
            return reader.refuse(node, fault(""));
        }
        let steps = path
            .components()
            .map(|step| step.as_os_str().to_string_lossy());
        Some(BookFile(steps.collect::<Vec<_>>().join("/")))
    }

    fn schema() -> Json {
        json!({ "type": "string", "pattern": "^[^/\\\\][^\\\\]*$|^[^/\\\\]$" })
    }
}

/// A day, written bare or as text: `2026-11-25`.
impl Value for Date {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Date> {
        let date = match node.value() {
            DeValue::String(text) => read_date(text.trim()),
            DeValue::Datetime(moment) if moment.time.is_none() && moment.offset.is_none() => moment
                .date
                .and_then(|d| checked_date(d.year, d.month, d.day)),
            _ => return reader.wrong_type(node, "a day as year-month-day, such as 2026-11-25"),
        };
        date.or_else(|| {
            let read = node.text().unwrap_or("this");
            let what = format!("`{read}` is no day of the calendar");
            let fault = Fault::new("wrong-date", what);
            reader.refuse(node, fault.allowed("year-month-day, such as 2026-11-25"))
        })
    }

    fn schema() -> Json {
        json!({ "type": "string", "pattern": "^\\s*[0-9]{4}-[0-9]{2}-[0-9]{2}\\s*$" })
    }
}

fn read_date(text: &str) -> Option<Date> {
    let parts: Vec<_> = text.split('-').collect();
    let [year, month, day] = parts[..] else {
        return None;
    };
    let figures =
        |part: &str, count| part.len() == count && part.bytes().all(|byte| byte.is_ascii_digit());
    if !(figures(year, 4) && figures(month, 2) && figures(day, 2)) {
        return None;
    }
    checked_date(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?)
}

/// The date, if the calendar has it.
fn checked_date(year: u16, month: u8, day: u8) -> Option<Date> {
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let days = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => return None,
    };
    let there = (1..=9999).contains(&year) && (1..=days).contains(&day);
    there.then_some(Date { year, month, day })
}
