//! The setting that turns the paper in the printer (ISO 32000-1, viewer preferences: `Duplex`).

use std::path::Path;

use super::grey::pages;

/// The edge that the file asks the printer to turn about: for a page turned sideways it is an upright one. Whether
/// that is the short or the long one.
pub fn agrees(file: &Path, sideways: bool) -> &'static str {
    let document = lopdf::Document::load(file).expect("it loads");
    let catalog = document.catalog().expect("a catalogue");
    let preferences = catalog.get(b"ViewerPreferences").expect("preferences");
    let (_, preferences) = document.dereference(preferences).expect("preferences");
    let preferences = preferences.as_dict().expect("a dictionary");
    let duplex = preferences.get(b"Duplex").expect("a way to turn");
    let duplex = duplex.as_name().expect("a name");
    let page = &pages(file, 10.0)[0];
    let upright_is_short = page.wide > page.high;
    let (expected, words): (&[u8], _) = match sideways == upright_is_short {
        true => (b"DuplexFlipShortEdge", "short"),
        false => (b"DuplexFlipLongEdge", "long"),
    };
    assert_eq!(duplex, expected, "{}", file.display());
    words
}
