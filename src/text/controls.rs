//! Control characters, which are no words and are shown nowhere.

use std::sync::Arc;

use crate::names::{Fault, Location, Source};

/// How many different control characters a message names.
const NAMED: usize = 4;

/// A fault for all control characters of a manuscript, tabs and line ends aside.
pub(super) fn controls(source: &Arc<Source>) -> Option<Fault> {
    let is_stray = |c: &char| c.is_control() && !matches!(c, '\t'..='\r' | '\u{85}');
    let found = source.text.char_indices().filter(|(_, c)| is_stray(c));
    let found: Vec<(usize, char)> = found.collect();
    let (first, c) = *found.first()?;
    let mut kinds: Vec<char> = Vec::new();
    for (_, c) in &found {
        if !kinds.contains(c) {
            kinds.push(*c);
        }
    }
    let named = kinds.iter().take(NAMED);
    let named: Vec<String> = named.map(|c| format!("U+{:04X}", u32::from(*c))).collect();
    let more = if kinds.len() > NAMED {
        " and others"
    } else {
        ""
    };
    let times = match found.len() {
        1 => "a control character".to_string(),
        n => format!("{n} control characters"),
    };
    let place = Location::new(source, first..first + c.len_utf8());
    let what = format!(
        "{times} ({}{more}) stand in the manuscript, which no face can show",
        named.join(", ")
    );
    let what = if found.len() == 1 {
        what.replace("stand in", "stands in")
    } else {
        what
    };
    let fault = Fault::new("control-character", what).at(place);
    Some(
        fault.help(
            "another program left them there: open the file in a text editor and take them out",
        ),
    )
}
