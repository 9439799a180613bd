//! The JSON Schema (draft 2020-12) of what is written.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::{Map, Value as Json, json};

use super::JsonRecord;

/// The schemas of records by name, each of which stands once.
pub type Defs = Map<String, Json>;

/// What may stand under a key.
pub trait Value: Serialize {
    /// Its schema; the records within it are added to `defs`.
    fn schema(defs: &mut Defs) -> Json;
}

/// The schema of a text that holds what `of` says, titled and described.
pub fn schema(title: &str, about: &str, of: impl FnOnce(&mut Defs) -> Json) -> Json {
    let mut defs = Defs::new();
    let mut schema = of(&mut defs);
    if let Some(object) = schema.as_object_mut() {
        let draft = "https://json-schema.org/draft/2020-12/schema";
        object.insert("$schema".into(), json!(draft));
        object.insert("title".into(), json!(title));
        object.insert("description".into(), json!(about));
        object.insert("$defs".into(), Json::Object(defs));
    }
    schema
}

/// The schema of a record: a reference to what stands under its name.
pub(crate) fn of_record<T: JsonRecord>(defs: &mut Defs) -> Json {
    let name = T::NAME.trim_end_matches("Record");
    if !defs.contains_key(name) {
        let keys = T::keys(defs);
        let required: Vec<&str> = keys.iter().map(|(key, _)| *key).collect();
        let schema = json!({
            "type": "object",
            "description": T::ABOUT,
            "required": required,
            "additionalProperties": false,
            "properties": keys.into_iter().map(|(key, schema)| (key.into(), schema)).collect::<Map<_, _>>(),
        });
        defs.insert(name.into(), schema);
    }
    debug_assert_eq!(
        defs[name]["description"],
        T::ABOUT,
        "two records are called {name}"
    );
    json!({ "$ref": format!("#/$defs/{name}") })
}

macro_rules! plain {
    ($($kind:ty: $name:literal),+) => { $(
        impl Value for $kind {
            fn schema(_: &mut Defs) -> Json {
                json!({ "type": $name })
            }
        }
    )+ };
}
plain!(String: "string", &'static str: "string", bool: "boolean");
plain!(u16: "integer", u32: "integer", u64: "integer", usize: "integer", i64: "integer");

impl<T: Value> Value for Option<T> {
    fn schema(defs: &mut Defs) -> Json {
        json!({ "anyOf": [T::schema(defs), { "type": "null" }] })
    }
}

impl<T: Value> Value for Vec<T> {
    fn schema(defs: &mut Defs) -> Json {
        json!({ "type": "array", "items": T::schema(defs) })
    }
}

/// Two of a kind.
impl<T: Value> Value for [T; 2] {
    fn schema(defs: &mut Defs) -> Json {
        json!({ "type": "array", "items": T::schema(defs), "minItems": 2, "maxItems": 2 })
    }
}

/// Values by name.
impl<T: Value> Value for BTreeMap<&'static str, T> {
    fn schema(defs: &mut Defs) -> Json {
        json!({ "type": "object", "additionalProperties": T::schema(defs) })
    }
}
