//! The closed book: its leaves, its thickness, its weight.

use super::Guide;
use super::page::Pages;
use crate::names::{Cover, Length, decimals};

/// Tells what the closed book is like.
pub(super) fn tell(pages: &mut Pages<'_>, guide: &Guide<'_>) {
    let closed = guide.closed;
    pages.heading("The closed book");
    pages.led("Leaves.", &leaves(guide));
    let with = match guide.layout.strip.paper().cover {
        Cover::Boards => ", boards and all",
        _ => "",
    };
    let thickness = match closed.thickness {
        Some((least, most)) => format!(
            "{} to {} mm{with}, pressed and lying loose: air and the spring of the folds take up to half as much again (common \
             practice). Measure a folded dummy of the real paper before you cut {}.",
            tenths(least),
            tenths(most),
            match guide.layout.strip.paper().cover {
                Cover::Boards => "boards",
                Cover::Wrapper => "the wrapper",
                Cover::SelfCover => "a case or a slip for it",
            }
        ),
        None => "To have it here, give [paper] the key thickness = “0.25 mm” (of one leaf, as measured), or grammage and bulk."
            .to_string(),
    };
    pages.led("Thickness.", &thickness);
    let weight = match closed.weight_mg {
        Some(weight) => {
            let grams = weight as f64 / 1000.0;
            let places = usize::from(grams < 100.0);
            let without = match guide.layout.strip.paper().cover {
                Cover::Boards => ", without the boards and what covers them",
                Cover::Wrapper => ", without the wrapper",
                Cover::SelfCover => "",
            };
            format!("{} g a copy{without}.", decimals(grams, places))
        }
        None => "To have it here, give [paper] the key grammage = 200 (in g/m²).".to_string(),
    };
    pages.led("Weight.", &weight);
}

fn leaves(guide: &Guide<'_>) -> String {
    let closed = guide.closed;
    let leaves = match closed.leaves {
        1 => "1 leaf lies".to_string(),
        many => format!("{many} leaves lie"),
    };
    let panels = u32::from(guide.layout.strip.paper().panels.per_side);
    let doubled = match closed.leaves - panels {
        0 => String::new(),
        1 => ", 1 of them doubled at its join".to_string(),
        many => format!(", {many} of them doubled at their joins"),
    };
    let of = match closed.leaf {
        Some(leaf) => format!(", each {} mm thick", decimals(leaf.as_mm(), 2)),
        None => String::new(),
    };
    format!("{leaves} on each other{of}{doubled}.")
}

fn tenths(length: Length) -> String {
    format!("{:.1}", length.as_mm())
}
