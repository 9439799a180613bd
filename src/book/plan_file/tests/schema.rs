//! The schema takes what the reader takes, and refuses what is plainly wrong.

use serde_json::{Value, json};

use super::refusals::refusals;
use super::{PLAN, SHORT, read};
use crate::book::plan_file::schema::schema;
use crate::book::plan_file::written::{
    BoxWritten, LeavesWritten, MarginsWritten, PanelWritten, PaperWritten, PartWritten,
    PictureWritten, RulesWritten, SafetyWritten, TextWritten, Written,
};
use crate::reading::Table;

/// A plan as an editor hands it to a schema: days are text.
pub fn as_json(text: &str) -> Value {
    fn convert(value: toml::Value) -> Value {
        match value {
            toml::Value::String(text) => json!(text),
            toml::Value::Integer(number) => json!(number),
            toml::Value::Float(number) => json!(number),
            toml::Value::Boolean(truth) => json!(truth),
            toml::Value::Datetime(moment) => json!(moment.to_string()),
            toml::Value::Array(list) => list.into_iter().map(convert).collect(),
            toml::Value::Table(table) => {
                let entries = table.into_iter().map(|(key, value)| (key, convert(value)));
                Value::Object(entries.collect())
            }
        }
    }
    convert(toml::Value::Table(text.parse().unwrap()))
}

fn refused(old: &str, new: &str) -> Vec<String> {
    assert!(PLAN.contains(old), "{old}");
    refusals(&schema(), &as_json(&PLAN.replacen(old, new, 1)))
}

#[test]
fn a_sound_plan_passes_and_mistakes_do_not() {
    assert_eq!(refused("Winter", "Summer"), [""; 0]);
    assert_eq!(
        refused("date = 2026-11-25", "date = \"2026-11-25\""),
        [""; 0]
    );
    assert_eq!(refused("title = \"The Winter Bus\"", ""), ["required"]);
    assert_eq!(refused("bleed", "bled"), ["paper.additionalProperties"]);
    assert_eq!(refused("\"105 mm\"", "105"), ["paper.panel-width.type"]);
    assert_eq!(
        refused("\"105 mm\"", "\"9 em\""),
        ["paper.panel-width.pattern"]
    );
    assert_eq!(
        refused("\"usual-longest\"", "\"justify\""),
        ["text.align.enum"]
    );
    assert_eq!(refused("drop = 3", "drop = 7"), ["text.opening.anyOf"]);
    assert_eq!(
        refused("\"55 %\"", "\"101 %\""),
        ["rules.text-fullness.pattern"]
    );
    assert_eq!(refused("spans = 1", "spans = \"side\""), [""; 0]);
    assert_eq!(refused("spans = 1", "spans = 0"), ["picture.spans.anyOf"]);
    assert_eq!(refused("\"back 2\"", "\"back two\""), ["part.on.pattern"]);
    assert_eq!(
        refused("each-panel = 0", "each-page = 0"),
        ["rules.importance.additionalProperties"]
    );
}

/// Every key of every table is described, closed to others, and told in a full sentence.
#[test]
fn every_key_is_in_the_schema() {
    fn check<T: Table>(at: &str) {
        let schema = schema();
        let table = schema.pointer(at).unwrap();
        assert_eq!(table["additionalProperties"], json!(false), "{at}");
        assert_eq!(
            table["properties"].as_object().unwrap().len(),
            T::keys().len(),
            "{at}"
        );
        for key in T::keys() {
            let property = &table["properties"][key.name()];
            assert_eq!(
                property["description"],
                json!(key.about),
                "{at} {}",
                key.field
            );
            assert!(key.about.ends_with('.'), "{}", key.about);
        }
    }
    check::<Written>("");
    check::<PaperWritten>("/properties/paper");
    check::<SafetyWritten>("/properties/paper/properties/safety");
    check::<TextWritten>("/properties/text");
    check::<MarginsWritten>("/properties/text/properties/margins");
    check::<RulesWritten>("/properties/rules");
    check::<PictureWritten>("/properties/picture/items");
    check::<LeavesWritten>("/properties/picture/items/properties/leaves/anyOf/1");
    check::<BoxWritten>(
        "/properties/picture/items/properties/leaves/anyOf/1/properties/boxes/items",
    );
    check::<BoxWritten>("/properties/panel/items/properties/boxes/items");
    check::<PartWritten>("/properties/part/items");
    check::<PanelWritten>("/properties/panel/items");
}

/// A default that the schema tells is the one that holds: writing it out changes nothing.
#[test]
fn told_defaults_hold() {
    let bare = read(SHORT).unwrap();
    fn written_out<T: Table>() -> String {
        let keys = T::keys().into_iter();
        keys.filter_map(|key| Some(format!("{} = {}\n", key.name(), (key.default)()?)))
            .collect()
    }
    let text = format!(
        "{SHORT}{}[text]\n{}[rules]\n{}",
        written_out::<PaperWritten>(),
        written_out::<TextWritten>(),
        written_out::<RulesWritten>(),
    );
    let mut full = read(&text).unwrap();
    assert!(text.contains("size = \"11 pt\"") && text.contains("bleed = \"3 mm\""));
    full.text.typeface.place = None;
    for part in &mut full.parts {
        part.text.typeface.place = None;
    }
    // Places hold the whole text, so they are compared by what they point at.
    full.manuscript_place = bare.manuscript_place.clone();
    full.labels.clone_from(&bare.labels);
    assert_eq!(bare, full);
}
