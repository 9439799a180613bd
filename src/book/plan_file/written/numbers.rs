//! Whole numbers, hundredths and shares as the plan writes them.

use serde_json::{Value as Json, json};

use crate::names::Fault;
use crate::plan::{Percent, RuleName};
use crate::reading::{At, Node, Reader, Value, Whole};

/// Written `"60 %"`, from 0 to 100.
impl Value for Percent {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Percent> {
        let written = node.text().and_then(|text| text.trim().strip_suffix('%'));
        let digits = written.map(str::trim_end).filter(|digits| {
            (1..=3).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit())
        });
        let Some(digits) = digits else {
            let example = node.whole().filter(|n| (0..=100).contains(n)).unwrap_or(60);
            let kind = format!("a whole percentage in quotation marks, such as \"{example} %\"");
            return reader.wrong_type(node, &kind);
        };
        match digits.parse::<u8>() {
            Ok(number) if number <= 100 => Some(Percent(number)),
            _ => {
                let what = format!("{} must be from 0 % to 100 %", node.name());
                reader.refuse(node, Fault::new("out-of-range", what))
            }
        }
    }

    fn schema() -> Json {
        json!({ "type": "string", "pattern": "^\\s*(0?[0-9]{1,2}|100)\\s*%\\s*$" })
    }
}

/// A share from 0 to 1, kept in thousandths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Share(pub u16);

impl Value for Share {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Share> {
        match node.number() {
            Some(number) if (0.0..=1.0).contains(&number) => {
                Some(Share((number * 1000.0).round() as u16))
            }
            Some(_) => {
                let what = format!("{} must be from 0 to 1", node.name());
                reader.refuse(node, Fault::new("out-of-range", what))
            }
            None => reader.wrong_type(node, "a number from 0 to 1"),
        }
    }

    fn schema() -> Json {
        json!({ "type": "number", "minimum": 0, "maximum": 1 })
    }
}

/// So many shares of ink, each from 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shares<const N: usize>(pub [u16; N]);

impl<const N: usize> Value for Shares<N> {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Shares<N>> {
        let kind = format!("{N} numbers from 0 to 1 in square brackets");
        let Some(entries) = node.value().as_array().filter(|list| list.len() == N) else {
            return reader.wrong_type(node, &kind);
        };
        let shares: Vec<_> = entries
            .iter()
            .filter_map(|entry| reader.read::<Share>(node.entry(entry)))
            .map(|share| share.value.0)
            .collect();
        shares.try_into().ok().map(Shares)
    }

    fn schema() -> Json {
        json!({ "type": "array", "items": Share::schema(), "minItems": N, "maxItems": N })
    }
}

/// What a rule's importance may be.
pub type Importance = Whole<0, 100>;

/// Rules and their importance, in the order of their names.
#[derive(Clone, Debug, PartialEq)]
pub struct Importances(pub Vec<(RuleName, At<Importance>)>);

impl Value for Importances {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Importances> {
        let Some(table) = node.value().as_table() else {
            return reader.wrong_type(
                node,
                "a table in curly brackets, such as { text-fullness = 3 }",
            );
        };
        let mut read = Vec::new();
        for (key, value) in table {
            let name = key.get_ref().as_ref();
            let Some(&(rule, ..)) = RuleName::ALL.iter().find(|(_, word, _)| *word == name) else {
                let words = RuleName::ALL.map(|(_, word, _)| word);
                let place = reader.place(key.span());
                let what = format!("`{name}` is no rule");
                let fault = Fault::new("unknown-key", what).at(place).read(name);
                let meant = crate::names::nearest(name, words);
                reader.report(fault.allowed(words.join(", ")).meant(meant));
                continue;
            };
            if let Some(importance) = reader.read(Node::new(name, value)) {
                read.push((rule, importance));
            }
        }
        Some(Importances(read))
    }

    fn schema() -> Json {
        let rules: serde_json::Map<_, _> = RuleName::ALL
            .iter()
            .map(|(_, word, _)| (word.to_string(), Importance::schema()))
            .collect();
        json!({ "type": "object", "properties": rules, "additionalProperties": false })
    }
}
