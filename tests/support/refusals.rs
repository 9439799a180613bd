//! Where a JSON Schema refuses a value: a plain reading of the keywords that our own schemas have.

use serde_json::{Value, json};

/// Where a schema refuses a value, as the keys down to there and the keyword. It knows the keywords that our schemas
/// have, and no others.
pub fn refusals(schema: &Value, value: &Value) -> Vec<String> {
    refusals_within(schema, schema, value)
}

/// The same of a schema that stands within `root`, to which its references go.
fn refusals_within(root: &Value, schema: &Value, value: &Value) -> Vec<String> {
    let mut refused = Vec::new();
    for (keyword, rule) in schema.as_object().unwrap() {
        match inside(keyword, schema, rule, value) {
            Some(parts) => {
                for (name, rule, value) in parts {
                    let found = refusals_within(root, rule, value).into_iter();
                    refused.extend(found.map(|at| format!("{name}{at}")));
                }
            }
            None if keyword == "$ref" => {
                let at = rule.as_str().unwrap().trim_start_matches('#');
                let referred = root
                    .pointer(at)
                    .unwrap_or_else(|| panic!("there is no {at}"));
                refused.extend(refusals_within(root, referred, value));
            }
            None if keyword == "anyOf" => {
                let mut rules = rule.as_array().unwrap().iter();
                if !rules.any(|one| refusals_within(root, one, value).is_empty()) {
                    refused.push(keyword.clone());
                }
            }
            None if !is_sound(keyword, schema, rule, value) => refused.push(keyword.clone()),
            None => {}
        }
    }
    refused
}

/// What a keyword asks of the values within a value: each with its name and its schema. Nothing for a keyword that asks
/// something of the value itself.
fn inside<'a>(
    keyword: &str,
    schema: &Value,
    rule: &'a Value,
    value: &'a Value,
) -> Option<Vec<(String, &'a Value, &'a Value)>> {
    let entries = value.as_object().into_iter().flatten();
    match keyword {
        "items" => {
            let items = value.as_array().into_iter().flatten();
            Some(items.map(|item| (String::new(), rule, item)).collect())
        }
        "properties" => {
            let known = entries.filter_map(|(key, value)| Some((key, rule.get(key)?, value)));
            let known = known.map(|(key, rule, value)| (format!("{key}."), rule, value));
            Some(known.collect())
        }
        "additionalProperties" if rule.is_object() => {
            let others = entries.filter(|(key, _)| schema["properties"].get(key).is_none());
            let others = others.map(|(key, value)| (format!("{key}."), rule, value));
            Some(others.collect())
        }
        _ => None,
    }
}

/// Whether a value is as a keyword asks that looks at the value alone.
fn is_sound(keyword: &str, schema: &Value, rule: &Value, value: &Value) -> bool {
    let number = |value: &Value| value.as_f64();
    let length = value.as_array().map_or(0, Vec::len) as u64;
    let table = value.as_object();
    match keyword {
        "$schema" | "$defs" | "title" | "description" | "default" => true,
        "type" => is_of_type(rule.as_str().unwrap(), value),
        "enum" => rule.as_array().unwrap().contains(value),
        "const" => rule == value,
        "pattern" => value.as_str().is_none_or(|text| {
            let pattern = regex::Regex::new(rule.as_str().unwrap());
            pattern.unwrap().is_match(text)
        }),
        "minimum" => number(value).is_none_or(|n| Some(n) >= number(rule)),
        "maximum" => number(value).is_none_or(|n| Some(n) <= number(rule)),
        "minItems" => !value.is_array() || Some(length) >= rule.as_u64(),
        "maxItems" => !value.is_array() || Some(length) <= rule.as_u64(),
        "required" => {
            let mut keys = rule.as_array().unwrap().iter();
            keys.all(|key| table.is_none_or(|table| table.contains_key(key.as_str().unwrap())))
        }
        "additionalProperties" => table.is_none_or(|table| {
            let known = |key: &String| schema["properties"].get(key).is_some();
            *rule == json!(false) && table.keys().all(known)
        }),
        other => panic!("the keyword {other} is not known here"),
    }
}

fn is_of_type(name: &str, value: &Value) -> bool {
    match name {
        "string" => value.is_string(),
        "integer" => value.is_i64() || value.is_u64(),
        "number" => value.is_number(),
        "boolean" => value.is_boolean(),
        "array" => value.is_array(),
        "object" => value.is_object(),
        "null" => value.is_null(),
        other => panic!("the type {other} is not known here"),
    }
}
