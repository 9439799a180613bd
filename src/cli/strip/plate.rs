//! Which ink a plate is made for.

use crate::layout::Layout;
use crate::names::{Fault, Faults, nearest};
use crate::outputs::plate_inks;

/// The ink of a plate, by its name; without one, the only ink there is.
///
/// # Errors
/// An ink that the words do not have, or none where they have several.
pub(super) fn plate_ink(layout: &Layout, asked: Option<&str>) -> Result<String, Faults> {
    let inks = plate_inks(layout);
    let names: Vec<String> = inks.iter().map(|name| format!("\"{name}\"")).collect();
    let fault = match asked {
        Some(asked) => {
            let same = |known: &&String| known.to_lowercase() == asked.trim().to_lowercase();
            if let Some(ink) = inks.iter().find(same) {
                return Ok(ink.clone());
            }
            let names = inks.iter().map(String::as_str);
            let meant = nearest(asked, names);
            Fault::new("no-ink", format!("no words are printed in `{asked}`")).meant(meant)
        }
        None if inks.len() == 1 => return Ok(inks[0].clone()),
        None => {
            let what = match inks.is_empty() {
                true => {
                    "no words are printed in any ink: those that are reversed out are the paper's own"
                }
                false => "the words are printed in several inks, and a plate carries one",
            };
            Fault::new("no-ink", what)
        }
    };
    Err(Faults::from(match names.is_empty() {
        true => fault,
        false => fault.allowed(format!("--plate={}", names.join(", --plate="))),
    }))
}
