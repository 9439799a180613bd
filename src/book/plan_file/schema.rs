//! The JSON Schema of the plan, for editors that check and complete `concertina.toml`.

use serde_json::{Value, json};

use super::written::Written;
use crate::reading::Value as _;

/// The plan as a JSON Schema (draft 2020-12), made from the same declarations that read it.
pub fn schema() -> Value {
    let mut schema = Written::schema();
    if let Some(object) = schema.as_object_mut() {
        object.insert(
            "$schema".into(),
            json!("https://json-schema.org/draft/2020-12/schema"),
        );
        object.insert("title".into(), json!("concertina.toml"));
    }
    schema
}
