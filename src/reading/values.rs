//! Kinds of value that any file may hold: words, whole numbers, switches, and one word out of a few.

use serde_json::{Value as Json, json};

use super::{Node, Reader, Value};
use crate::names::Fault;

/// Text that is not empty, white space at its ends taken off.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Words(pub String);

impl Value for Words {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Words> {
        let Some(text) = node.text() else {
            return reader.wrong_type(node, "text in quotation marks");
        };
        if text.trim().is_empty() {
            let what = format!("{} must not be empty", node.name());
            return reader.refuse(node, Fault::new("empty", what));
        }
        Some(Words(text.trim().to_string()))
    }

    fn schema() -> Json {
        json!({ "type": "string", "pattern": "\\S" })
    }
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
        if node
            .text()
            .is_some_and(|text| text.trim().parse::<i64>().is_ok())
        {
            return reader.wrong_type(node, "a whole number without quotation marks");
        }
        if !node.value().is_integer() {
            return reader.wrong_type(node, "a whole number");
        }
        match node.whole() {
            Some(number) if (MIN..=MAX).contains(&number) => Some(Whole(number)),
            _ => {
                let what = format!("{} must be from {MIN} to {MAX}", node.name());
                reader.refuse(node, Fault::new("out-of-range", what))
            }
        }
    }

    fn schema() -> Json {
        json!({ "type": "integer", "minimum": MIN, "maximum": MAX })
    }
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
}

/// A value that is one word out of a few.
pub trait Choice: Copy {
    /// The words and what they mean, in the order they are told.
    fn words() -> Vec<(&'static str, Self)>;

    /// What to say of a word that is close to being one: a fault without its place.
    fn special(_word: &str) -> Option<Fault> {
        None
    }
}

impl<T: Choice> Value for T {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<T> {
        let words = T::words();
        let names: Vec<_> = words.iter().map(|&(word, _)| word).collect();
        let Some(text) = node.text() else {
            let kind = format!("a word in quotation marks, such as \"{}\"", names[0]);
            return reader.wrong_type(node, &kind);
        };
        if let Some(&(_, value)) = words.iter().find(|(word, _)| *word == text) {
            return Some(value);
        }
        match T::special(text) {
            Some(fault) => reader.refuse(node, fault),
            None => reader.wrong_word(node, &names),
        }
    }

    fn schema() -> Json {
        let names: Vec<_> = T::words().into_iter().map(|(word, _)| word).collect();
        json!({ "enum": names })
    }
}
