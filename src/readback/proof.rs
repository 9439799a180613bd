//! Proof F5: a written PDF reads back as the very words it shows.

use crate::layout::{BrokenPromise, Promise};
use crate::readback;

/// Reads the words of a PDF in structure order and compares them with what it should show, code point for
/// code point, default-ignorable characters dropped and white space folded.
///
/// # Errors
/// The promise that is broken: words that differ, or a font that is not embedded as a subset.
pub fn read_back(pdf: &[u8], words: &[String], name: &str) -> Result<(), BrokenPromise> {
    let lost = |what: String| BrokenPromise {
        promise: Promise::F5,
        at: Some(name.to_string()),
        what,
    };
    let read = readback::words(pdf).map_err(|error| lost(error.to_string()))?;
    let lines = read.pages.iter().flat_map(|page| &page.lines);
    let found: Vec<&str> = lines.map(|line| line.text.as_str()).collect();
    let found = readback::folded(&found.join("\n"));
    let shown = readback::folded(&words.join("\n"));
    if found != shown {
        let same = found
            .chars()
            .zip(shown.chars())
            .take_while(|(a, b)| a == b)
            .count();
        let around = |text: &str| -> String {
            text.chars()
                .skip(same.saturating_sub(12))
                .take(30)
                .collect()
        };
        let what = format!("“{}” reads back as “{}”", around(&shown), around(&found));
        return Err(lost(what));
    }
    match read
        .fonts
        .iter()
        .find(|font| !font.embedded || !font.subset)
    {
        Some(font) => Err(lost(format!(
            "the font {} is not embedded as a subset",
            font.name
        ))),
        None => Ok(()),
    }
}
