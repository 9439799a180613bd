//! Kinds of value that any file may hold: words, whole numbers, switches, and one word out of a few.

use std::ops::RangeInclusive;

use serde_json::{Value as Json, json};

use super::{Node, Reader, Value};
use crate::names::{Fault, stands_in_a_name};

/// Text in one line that is not empty, white space at its ends taken off.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Words(pub String);

/// Characters that stand in no line of words, as a regular expression lists them: controls, what separates lines and
/// paragraphs, and what turns the words behind it about (Unicode Standard, 23.1; Unicode Standard Annex #9, 2).
const NOT_IN_A_LINE: &str = r"\u0000-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069";

/// Whether a character may stand in words of one line: no control, nothing that parts lines, and nothing that turns the
/// words behind it about (Unicode Standard, 23.1; Unicode Standard Annex #9, 2).
pub fn stands_in_a_line(c: char) -> bool {
    !c.is_control() && !matches!(c, '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

impl Value for Words {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Words> {
        one_line(node, reader, stands_in_a_line).map(Words)
    }

    fn schema() -> Json {
        one_line_schema(NOT_IN_A_LINE)
    }
}

/// What something is called: text in one line without any sign that is not seen, or two names that look alike would not
/// be the same.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Name(pub String);

impl Value for Name {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Name> {
        one_line(node, reader, stands_in_a_name).map(Name)
    }

    fn schema() -> Json {
        one_line_schema(&format!(r"{NOT_IN_A_LINE}\u061c\u200e\u200f"))
    }
}

/// Text that may go over several lines, and is not empty.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Passage(pub String);

impl Value for Passage {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Passage> {
        some_text(node, reader).map(|text| Passage(text.to_string()))
    }

    fn schema() -> Json {
        json!({ "type": "string", "pattern": "\\S" })
    }
}

/// Text that is not empty, white space at its ends taken off.
fn some_text<'a>(node: Node<'a>, reader: &mut Reader) -> Option<&'a str> {
    let Some(text) = node.text() else {
        return reader.wrong_type(node, "text in quotation marks");
    };
    if text.trim().is_empty() {
        let what = format!("{} must not be empty", node.name());
        return reader.refuse(node, Fault::new("empty", what));
    }
    Some(text.trim())
}

/// A text of one line, in which every character may stand by `stands`.
fn one_line(node: Node<'_>, reader: &mut Reader, stands: fn(char) -> bool) -> Option<String> {
    let text = some_text(node, reader)?;
    let Some(c) = text.chars().find(|&c| !stands(c)) else {
        return Some(text.to_string());
    };
    let code = u32::from(c);
    let (what, allowed) = match c {
        '\n' | '\r' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}' => (
            format!(
                "{} goes over more than one line (U+{code:04X})",
                node.name()
            ),
            "text in one line",
        ),
        _ => (
            format!(
                "{} holds a character that is not seen (U+{code:04X})",
                node.name()
            ),
            "characters that are seen, and spaces",
        ),
    };
    reader.refuse(node, Fault::new("control-character", what).allowed(allowed))
}

/// `banned` is the inside of a character class.
fn one_line_schema(banned: &str) -> Json {
    let seen = format!("[^\\s{banned}]");
    json!({ "type": "string", "pattern": format!("^\\s*{seen}([^{banned}]*{seen})?\\s*$") })
}

/// A whole number from `MIN` to `MAX`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Whole<const MIN: i64, const MAX: i64>(i64);

impl<const MIN: i64, const MAX: i64> Whole<MIN, MAX> {
    /// A number as it might be written; nothing where it is out of range.
    pub fn new(number: i64) -> Option<Whole<MIN, MAX>> {
        (MIN..=MAX).contains(&number).then_some(Whole(number))
    }

    /// The number, or `otherwise` where it does not fit the narrower kind of number; choose `MIN` and
    /// `MAX` so that it always does.
    pub fn get<T: TryFrom<i64>>(self, otherwise: T) -> T {
        T::try_from(self.0).unwrap_or(otherwise)
    }
}

impl<const MIN: i64, const MAX: i64> Value for Whole<MIN, MAX> {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Self> {
        read_whole(node, reader, MIN..=MAX).map(Whole)
    }

    fn schema() -> Json {
        json!({ "type": "integer", "minimum": MIN, "maximum": MAX })
    }

    fn written(&self) -> Option<String> {
        Some(self.0.to_string())
    }
}

/// Reads a whole number within bounds.
pub fn read_whole(node: Node<'_>, reader: &mut Reader, bounds: RangeInclusive<i64>) -> Option<i64> {
    if node
        .text()
        .is_some_and(|text| text.trim().parse::<i64>().is_ok())
    {
        return reader.wrong_type(node, "a whole number without quotation marks");
    }
    if !node.value().is_integer() {
        return reader.wrong_type(node, "a whole number");
    }
    node.whole()
        .filter(|number| bounds.contains(number))
        .or_else(|| {
            let (least, most) = (bounds.start(), bounds.end());
            let what = format!("{} must be from {least} to {most}", node.name());
            reader.refuse(node, Fault::new("out-of-range", what))
        })
}

/// `true` or `false`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Switch(pub bool);

impl Value for Switch {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Switch> {
        match node.value().as_bool() {
            Some(on) => Some(Switch(on)),
            None => reader.wrong_type(node, "true or false, without quotation marks"),
        }
    }

    fn schema() -> Json {
        json!({ "type": "boolean" })
    }

    fn written(&self) -> Option<String> {
        Some(self.0.to_string())
    }
}

/// A value that is one word out of a few.
pub trait Choice: Copy + PartialEq {
    /// The words and what they mean, in the order they are told.
    fn words() -> Vec<(&'static str, Self)>;

    /// A fault, without its place, for a word that needs a message of its own.
    fn special(_word: &str) -> Option<Fault> {
        None
    }
}

impl<T: Choice> Value for T {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<T> {
        read_word(node, reader, &T::words(), T::special)
    }

    fn schema() -> Json {
        let names: Vec<_> = T::words().into_iter().map(|(word, _)| word).collect();
        json!({ "enum": names })
    }

    fn written(&self) -> Option<String> {
        let words = T::words();
        let word = words.iter().find(|(_, value)| value == self);
        word.map(|(word, _)| format!("\"{word}\""))
    }
}

/// Reads one word out of a few to what it stands for; `special` has what to say of one that needs a message of its own.
pub fn read_word<T: Copy>(
    node: Node<'_>,
    reader: &mut Reader,
    words: &[(&'static str, T)],
    special: fn(&str) -> Option<Fault>,
) -> Option<T> {
    let names: Vec<_> = words.iter().map(|&(word, _)| word).collect();
    let Some(text) = node.text() else {
        let kind = format!("a word in quotation marks, such as \"{}\"", names[0]);
        return reader.wrong_type(node, &kind);
    };
    if let Some(&(_, value)) = words.iter().find(|(word, _)| *word == text) {
        return Some(value);
    }
    match special(text) {
        Some(fault) => reader.refuse(node, fault),
        None => reader.wrong_word(node, &names),
    }
}
