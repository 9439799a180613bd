//! `breaks.toml` as it is written: every key with its place.

use serde_json::{Value as Json, json};

use crate::names::{Fault, Length, Measure, PanelName, Role};
use crate::reading::{At, Node, Reader, Switch, Value, Whole, Words, tables};

tables! {
    homes home_of;

    /// Where the words of a book are divided between its panels.
    BreaksWritten "`breaks.toml`" {
        /// How many words the panels hold in all.
        optional words: Whole<0, 100_000_000>;
        /// What stands on each panel, each under its own `[[panel]]`.
        optional panel: Vec<At<KeptWritten>>;
    }

    /// What stands on one panel.
    KeptWritten "[[panel]]" {
        /// The panel, such as "front 1".
        required panel: PanelName;
        /// What it carries.
        required role: Role;
        /// Its picture.
        optional picture: Words;
        /// Whether it was chosen to stand so.
        optional chosen: Switch = Switch(false);
        /// Whether its first line goes on a paragraph of the panel before.
        optional goes_on: Switch = Switch(false);
        /// Its words.
        optional words: Lines;
        /// The width of the panel as it is printed.
        optional width: Along;
        /// Its height.
        optional height: Along;
        /// How far its art goes beyond the trim.
        optional bleed: Along;
        /// The lines as they are printed, of a panel that is passed for press.
        optional passed: Vec<At<LineWritten>>;
    }

    /// A printed line.
    LineWritten "a line of `passed`" {
        /// Where it begins, from the panel's left edge.
        required left: Along;
        /// Its baseline, from the panel's top edge.
        required baseline: Along;
        /// Whether it goes on the line above.
        optional goes_on: Switch = Switch(false);
        /// Whether the program adds it below the panel's words.
        optional added: Switch = Switch(false);
        /// Its words.
        required words: Lines;
        /// What tells its glyphs from all others.
        required seal: Words;
    }
}

/// No key of `breaks.toml` stands in two tables for different things, so none is told to belong elsewhere.
fn home_of(_: &str) -> Option<&'static str> {
    None
}

/// Words, line by line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lines(pub String);

impl Value for Lines {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Lines> {
        match node.text() {
            Some(text) => {
                let text = text.replace("\r\n", "\n");
                Some(Lines(text.trim_end_matches(['\n', ' ', '\t']).to_string()))
            }
            None => reader.wrong_type(node, "text in quotation marks"),
        }
    }

    fn schema() -> Json {
        json!({ "type": "string" })
    }
}

/// A place along an edge; what hangs out may lie before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Along(pub Length);

impl Value for Along {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Along> {
        let read = node.text().and_then(|text| Measure::read(text).ok());
        match read.and_then(Measure::absolute) {
            Some(length) => Some(Along(length)),
            None => {
                let what = format!("{} must be a length, such as \"11 mm\"", node.name());
                reader.refuse(node, Fault::new("wrong-type", what))
            }
        }
    }

    fn schema() -> Json {
        json!({ "type": "string" })
    }
}
