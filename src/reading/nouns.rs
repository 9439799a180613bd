//! Panels and roles as files write them.

use serde_json::{Value as Json, json};

use super::{Choice, Node, Reader, Value};
use crate::names::{Fault, PanelName, Role, nearest};

/// A panel's name as a pattern of JSON Schema.
pub const PANEL_PATTERN: &str = " *(front|back) +[1-9][0-9]{0,3} *";

/// Written `"front 3"`.
impl Value for PanelName {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<PanelName> {
        let Some(text) = node.text() else {
            return reader.wrong_type(node, "a panel in quotation marks, such as \"front 3\"");
        };
        text.parse()
            .ok()
            .or_else(|| reader.refuse(node, no_panel(text)))
    }

    fn schema() -> Json {
        json!({ "type": "string", "pattern": format!("^{PANEL_PATTERN}$") })
    }
}

/// The fault of text that names no panel.
pub fn no_panel(text: &str) -> Fault {
    let what = format!("`{text}` is no panel");
    let allowed = "a side and a number from 1, such as \"front 3\" or \"back 1\"";
    let mut words = text.split(' ').filter(|word| !word.is_empty());
    let meant = match (words.next(), words.next(), words.next()) {
        (Some(side), Some(number), None) => nearest(side, ["front", "back"])
            .map(|side| format!("{side} {number}"))
            .filter(|name| name.parse::<PanelName>().is_ok()),
        _ => None,
    };
    Fault::new("wrong-panel", what)
        .allowed(allowed)
        .meant(meant)
}

impl Choice for Role {
    fn words() -> Vec<(&'static str, Role)> {
        Role::PINNABLE.map(|role| (role.word(), role)).to_vec()
    }

    fn special(word: &str) -> Option<Fault> {
        let what = "the cover makes the paste-downs; they cannot be pinned";
        (word == Role::PasteDown.word()).then(|| {
            Fault::new("paste-down", what)
                .allowed(Role::PINNABLE.map(Role::word).join(", "))
                .help("write cover = \"boards\" in [paper], and leave this pin out")
        })
    }
}
