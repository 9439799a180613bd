//! The plan's keys as they are written.

use toml::{Table, Value};

use super::{VERSION, digits};
use crate::layout::Encoder;
use crate::names::Source;

/// What no division and no line hangs on: how the strip is cut and made, and the scans. What is not on this list counts.
const OF_PRESS: [(&str, &[&str]); 4] = [
    (
        "paper",
        &[
            "thickness",
            "grammage",
            "bulk",
            "score",
            "boards",
            "wrapper",
        ],
    ),
    ("picture", &["art", "runs-over"]),
    ("sheets", &[]),
    ("crossover", &[]),
];

/// The keys that have a say in how words are set and divided, with their values; remarks and the order of keys are no
/// matter.
pub(super) fn of_words(plan: &Source) -> String {
    let mut table: Table = toml::from_str(&plan.text).unwrap_or_default();
    for (name, keys) in OF_PRESS {
        match table.get_mut(name) {
            _ if keys.is_empty() => drop(table.remove(name)),
            Some(Value::Table(table)) => without(table, keys),
            Some(Value::Array(list)) => {
                let tables = list.iter_mut().filter_map(Value::as_table_mut);
                tables.for_each(|table| without(table, keys));
            }
            _ => {}
        }
    }
    let mut encoder = Encoder::new(VERSION, "keys");
    encode_table(&mut encoder, &table);
    digits(encoder)
}

fn without(table: &mut Table, keys: &[&str]) {
    table.retain(|key, _| !keys.contains(&key));
}

fn encode_table(encoder: &mut Encoder, table: &Table) {
    let mut entries: Vec<(&String, &Value)> = table.iter().collect();
    entries.sort_unstable_by_key(|entry| entry.0);
    encoder.count(entries.len());
    for (key, value) in entries {
        encoder.text(key);
        encode(encoder, value);
    }
}

fn encode(encoder: &mut Encoder, value: &Value) {
    encoder.text(value.type_str());
    match value {
        Value::String(text) => encoder.text(text),
        Value::Integer(number) => encoder.number(*number),
        Value::Float(number) => encoder.text(&number.to_string()),
        Value::Boolean(on) => encoder.number(i64::from(*on)),
        Value::Datetime(date) => encoder.text(&date.to_string()),
        Value::Array(list) => {
            encoder.count(list.len());
            list.iter().for_each(|value| encode(encoder, value));
        }
        Value::Table(table) => encode_table(encoder, table),
    }
}
