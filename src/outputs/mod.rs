//! Outputs: bytes made from a layout, and nothing else. No output computes a layout, and none writes files.

mod contact_sheet;
mod differences;
mod folding_guide;
mod json;
mod layers;
mod pdf;
mod sheet;
mod shown;
mod trials;

pub use contact_sheet::contact_sheet;
pub use differences::{difference, differing};
pub use folding_guide::{Guide, folding_guide};
pub use json::{json, layout_value};
pub use layers::{Layer, layer_name, layers, side_layer_name};
pub use shown::shown;
pub use trials::trials;

/// Whether a file below `out/` is one that the main job writes.
pub fn is_of_layers(name: &str) -> bool {
    name.starts_with("layers/") || ["contact-sheet.pdf", "layout.json"].contains(&name)
}

/// Whether a file below `out/` is one that shows trials.
pub fn is_of_trials(name: &str) -> bool {
    name == "trials.pdf"
}

/// How words are written into text layers.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WordsAs {
    /// As text, with subsets of the fonts.
    #[default]
    Text,
    /// As outlines, for programs that lose fonts; the readable text stands in the structure.
    Paths,
}

impl WordsAs {
    /// `text` or `paths`.
    pub fn word(self) -> &'static str {
        match self {
            WordsAs::Text => "text",
            WordsAs::Paths => "paths",
        }
    }
}

/// A PDF could not be made: a font that cannot be subset.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CannotWrite {
    /// The font's name.
    pub font: String,
    /// What its subsetting reported.
    pub why: String,
}
