//! Reading one value of the plan: where it stands, and what is wrong with it.

use std::ops::Range;
use std::sync::Arc;

use serde_json::Value as Json;
use toml::Spanned;
use toml::de::DeValue;

use crate::names::{Fault, Faults, Location, Source, nearest};

/// A value and the place where the plan says it.
#[derive(Clone, Debug, PartialEq)]
pub struct At<T> {
    /// The value.
    pub value: T,
    /// Where it stands.
    pub place: Location,
}

/// A kind of value that a plan may hold.
///
/// Reading and describing stand side by side, so that the schema promises just what the reader takes.
pub trait Value: Sized {
    /// How a whole table of this kind is headed in the plan; nothing for values after an `=`.
    const HEADED: bool = false;

    /// Reads the value. Nothing where it is faulty; then at least one fault has been gathered.
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Self>;

    /// This kind of value as a JSON Schema.
    fn schema() -> Json;

    /// The value as an author writes it, of a table what its keys are unless said; nothing for kinds that are the
    /// default of no key.
    fn written(&self) -> Option<String> {
        None
    }
}

/// A TOML value under its key.
#[derive(Clone, Copy)]
pub struct Node<'a> {
    /// The key it stands under.
    pub key: &'a str,
    /// Whether it is one entry of the list under that key.
    pub in_list: bool,
    value: &'a Spanned<DeValue<'a>>,
}

impl<'a> Node<'a> {
    /// The value of `key`.
    pub fn new(key: &'a str, value: &'a Spanned<DeValue<'a>>) -> Node<'a> {
        Node {
            key,
            in_list: false,
            value,
        }
    }

    /// The bare value.
    pub fn value(self) -> &'a DeValue<'a> {
        self.value.get_ref()
    }

    /// Its bytes in the plan.
    pub fn span(self) -> Range<usize> {
        self.value.span()
    }

    /// Text, if it is text.
    pub fn text(self) -> Option<&'a str> {
        self.value().as_str()
    }

    /// A whole number, if it is one that fits.
    pub fn whole(self) -> Option<i64> {
        let number = self.value().as_integer()?;
        i64::from_str_radix(number.as_str(), number.radix()).ok()
    }

    /// A number with or without decimals, if it is one and finite.
    pub fn number(self) -> Option<f64> {
        let number = match self.value() {
            DeValue::Float(float) => float.as_str().parse().ok()?,
            _ => self.whole()? as f64,
        };
        f64::is_finite(number).then_some(number)
    }

    /// The value under another name, for messages.
    pub fn entry(self, value: &'a Spanned<DeValue<'a>>) -> Node<'a> {
        Node {
            key: self.key,
            in_list: true,
            value,
        }
    }

    /// How messages call it: `` `size` ``, or ``each entry of `features` ``.
    pub fn name(self) -> String {
        if self.in_list {
            format!("each entry of `{}`", self.key)
        } else {
            format!("`{}`", self.key)
        }
    }
}

/// Reads a plan and gathers what is wrong with it.
pub struct Reader {
    source: Arc<Source>,
    faults: Faults,
}

impl Reader {
    /// A reader of `source` that has found nothing wrong yet.
    pub fn new(source: &Arc<Source>) -> Reader {
        Reader {
            source: Arc::clone(source),
            faults: Faults::new(),
        }
    }

    /// Everything found wrong.
    pub fn into_faults(self) -> Faults {
        self.faults
    }

    /// A place in the plan, by its bytes.
    pub fn place(&self, span: Range<usize>) -> Location {
        Location::new(&self.source, span)
    }

    /// Gathers a fault.
    pub fn report(&mut self, fault: Fault) {
        self.faults.push(fault);
    }

    /// Gathers a fault about `node`, with what was read there; always nothing, to end a reading.
    pub fn refuse<T>(&mut self, node: Node<'_>, fault: Fault) -> Option<T> {
        let place = self.place(node.span());
        let read = match node.text() {
            Some(text) => text.to_string(),
            None => said(&place),
        };
        self.report(fault.at(place).read(read));
        None
    }

    /// Refuses a value that is not of the right kind, told as `text in quotation marks`.
    pub fn wrong_type<T>(&mut self, node: Node<'_>, kind: &str) -> Option<T> {
        let what = format!("{} must be {kind}", node.name());
        self.refuse(node, Fault::new("wrong-type", what))
    }

    /// Refuses a word that is none of `allowed`.
    pub fn wrong_word<T>(&mut self, node: Node<'_>, allowed: &[&'static str]) -> Option<T> {
        let read = node.text().unwrap_or_default();
        let what = format!("`{read}` is no word for `{}`", node.key);
        let fault = Fault::new("wrong-word", what)
            .allowed(allowed.join(", "))
            .meant(nearest(read, allowed.iter().copied()));
        self.refuse(node, fault)
    }

    /// Reads a value with its place. A value that the TOML reader had to invent is passed over: its fault
    /// is told already.
    pub fn read<T: Value>(&mut self, node: Node<'_>) -> Option<At<T>> {
        if node.span().is_empty() {
            return None;
        }
        let value = T::read(node, self)?;
        Some(At {
            value,
            place: self.place(node.span()),
        })
    }
}

/// What stands at a place, without quotation marks and cut short, for messages.
pub fn said(place: &Location) -> String {
    let text = &place.source.text[place.span.clone()];
    shortened(text.trim_matches(['"', '\'']))
}

/// The first line of a text, at most 40 characters of it.
fn shortened(text: &str) -> String {
    let line = text.lines().next().unwrap_or_default().trim_end();
    match line.char_indices().nth(40) {
        Some((end, _)) => format!("{}…", &line[..end]),
        None => line.to_string(),
    }
}

impl<T: Value> Value for Vec<At<T>> {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Self> {
        let Some(entries) = node.value().as_array() else {
            if T::HEADED && node.value().is_table() {
                let key = node.key;
                let what = format!("[{key}] needs double brackets: write [[{key}]]");
                return reader.refuse(node, Fault::new("wrong-type", what));
            }
            return reader.wrong_type(node, "a list in square brackets");
        };
        let read: Vec<_> = entries
            .iter()
            .filter_map(|entry| reader.read(node.entry(entry)))
            .collect();
        // A list with a faulty entry is still worth checking, each entry for itself; one that only has
        // faulty entries is not the same as an empty one.
        (!read.is_empty() || entries.is_empty()).then_some(read)
    }

    fn written(&self) -> Option<String> {
        self.is_empty().then(|| "[]".to_string())
    }

    fn schema() -> Json {
        serde_json::json!({ "type": "array", "items": T::schema() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_read_is_kept_short() {
        assert_eq!(shortened("{ head = 1,\n foot = 2 }"), "{ head = 1,");
        assert_eq!(shortened(&"é".repeat(50)), format!("{}…", "é".repeat(40)));
    }
}
