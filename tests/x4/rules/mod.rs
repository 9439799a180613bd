//! What of PDF/X-4 (ISO 15930-7) and of the pages, groups and inks of ISO 32000-1 a program can look at, read with a
//! parser that our writer does not use. Each rule stands by itself and says where it is from.
//!
//! ISO 15930-7 is not free to read: what is only remembered of it says so ("from memory"). "In use" means the
//! page on PDF/X-4 at prepressure.com/pdf/basics/pdfx-4.

mod banned;
mod boxes;
mod colours;
mod file;
mod identity;
pub mod keys;
mod press;
mod shown;

pub use file::File;

/// A rule's name, and what of a file it finds wrong.
pub type Rule = (&'static str, fn(&File<'_>) -> Vec<String>);

/// Every rule.
pub const RULES: [Rule; 29] = [
    ("version", identity::version),
    ("named-x4", identity::named_x4),
    ("edition", identity::edition),
    ("title", identity::title),
    ("dates", identity::dates),
    ("trapped", identity::trapped),
    ("file-id", identity::file_id),
    ("boxes-there", boxes::boxes_there),
    ("boxes-nested", boxes::boxes_nested),
    ("page-size", boxes::page_size),
    ("rotation", boxes::rotation),
    ("intent", press::intent),
    ("condition", press::condition),
    ("profile", press::profile),
    ("overprinting", press::overprinting),
    ("transfer-curves", press::transfer_curves),
    ("halftones", press::halftones),
    ("blending", press::blending),
    ("device-colours", colours::device_colours_fit),
    ("separations", colours::separations),
    ("fonts", shown::fonts),
    ("readable", shown::readable),
    ("groups", shown::groups),
    ("printing", shown::printing),
    ("encryption", banned::encryption),
    ("packing", banned::packing),
    ("actions", banned::actions),
    ("annotations", banned::annotations),
    ("keys", keys::keys),
];

/// What every rule finds: its name and what is wrong.
///
/// Panics where the file is no PDF at all.
pub fn findings(pdf: &[u8]) -> Vec<(&'static str, String)> {
    let file = File::read(pdf);
    let found = RULES.iter().flat_map(|(name, rule)| {
        let wrong = rule(&file).into_iter();
        wrong.map(|what| (*name, what))
    });
    found.collect()
}
