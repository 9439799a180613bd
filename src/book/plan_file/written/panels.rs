//! Panels and stretches of panels as the plan names them, and what a panel is asked to carry.

use serde_json::{Value as Json, json};

use crate::names::{Fault, PanelName};
use crate::reading::{Node, PANEL_PATTERN, Reader, Value, no_panel};

/// As many panels as a side may have.
const MOST_PANELS: u16 = 400;

/// One panel, or all from one to another in reading order: `"front 2"`, `"front 1 to front 7"`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// Its first panel.
    pub first: PanelName,
    /// Its last panel; not before the first.
    pub last: PanelName,
}

impl Value for Stretch {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Stretch> {
        let Some(text) = node.text() else {
            let kind = "text in quotation marks, such as \"front 1 to front 7\"";
            return reader.wrong_type(node, kind);
        };
        let (first, last) = text.split_once(" to ").unwrap_or((text, text));
        let (first, last) = match (first.parse(), last.parse()) {
            (Ok(first), Ok(last)) => (first, last),
            (Err(_), _) => return reader.refuse(node, no_panel(first.trim())),
            (_, Err(_)) => return reader.refuse(node, no_panel(last.trim())),
        };
        if last < first {
            let what = format!("`{first} to {last}` runs backwards");
            let fault = Fault::new("wrong-panel", what)
                .meant(Some(format!("{last} to {first}")))
                .help("list single panels where the words run another way");
            return reader.refuse(node, fault);
        }
        Some(Stretch { first, last })
    }

    fn schema() -> Json {
        let pattern = format!("^{PANEL_PATTERN}( to {PANEL_PATTERN})?$");
        json!({ "type": "string", "pattern": pattern })
    }
}

/// How many panels a picture stands on: a number, or `"side"` for a whole side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spans {
    /// That many, one behind the other; above zero.
    Panels(u16),
    /// All of one side.
    Side,
}

impl Value for Spans {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Spans> {
        let kind = "a number of panels, or \"side\" for a whole side";
        match (node.text(), node.whole()) {
            (Some("side"), _) => Some(Spans::Side),
            (Some(text), _) => {
                let figures = text.trim().parse::<u16>().is_ok();
                let what = match figures {
                    true => format!("`{text}` is written without quotation marks"),
                    false => format!("`{text}` is no number of panels"),
                };
                let meant = crate::names::nearest(text, ["side"]);
                let fault = Fault::new("wrong-word", what).allowed(kind);
                reader.refuse(node, fault.meant(meant))
            }
            (None, Some(number)) => match u16::try_from(number) {
                Ok(panels @ 1..=MOST_PANELS) => Some(Spans::Panels(panels)),
                _ => {
                    let what = format!("`{}` must be from 1 to {MOST_PANELS}", node.key);
                    reader.refuse(node, Fault::new("out-of-range", what))
                }
            },
            (None, None) => reader.wrong_type(node, kind),
        }
    }

    fn schema() -> Json {
        json!({ "anyOf": [
            { "type": "integer", "minimum": 1, "maximum": MOST_PANELS },
            { "enum": ["side"] },
        ] })
    }

    fn written(&self) -> Option<String> {
        Some(match self {
            Spans::Panels(panels) => panels.to_string(),
            Spans::Side => "\"side\"".to_string(),
        })
    }
}
