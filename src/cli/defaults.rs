//! What is told where other things hold now than when the last layers were written.

use crate::book::NewDefaults;
use crate::json::records;
use crate::names::{PanelName, and_list};

records! {
    /// What has moved though nothing was written.
    pub(super) struct DefaultsRecord {
        /// What has moved because something else holds now where the plan does not say. Null where nothing has.
        new_defaults: Option<NewDefaultsRecord>,
    }

    /// What has moved because something else holds now where the plan does not say.
    pub(super) struct NewDefaultsRecord {
        /// The panels whose layers look otherwise for that alone.
        panels: Vec<String>,
        /// What keeps them as they were, each as it is written into the plan.
        keys: Vec<String>,
    }
}

pub(super) fn record(moved: Option<&NewDefaults>) -> DefaultsRecord {
    DefaultsRecord {
        new_defaults: moved.map(|moved| NewDefaultsRecord {
            panels: moved.panels.iter().map(PanelName::to_string).collect(),
            keys: moved.keys.clone(),
        }),
    }
}

pub(super) fn told(moved: &NewDefaults) -> String {
    let look = match moved.panels.len() {
        1 => "looks",
        _ => "look",
    };
    let panels: Vec<String> = moved.panels.iter().map(PanelName::to_string).collect();
    let keys = moved.keys.iter().map(|key| format!("  {key}"));
    format!(
        "Some defaults have changed since the last layers were written. For that reason alone {} {look} different.\n\
         To keep all as it was, write into concertina.toml:\n{}",
        and_list(&panels),
        keys.collect::<Vec<_>>().join("\n"),
    )
}
