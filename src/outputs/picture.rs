//! A page with a picture alone on it.

use super::{CannotWrite, WordsAs};
use crate::art::Art;
use crate::names::Length;
use crate::pdf::{self, Claims, Document, Drawing, Page};

/// A PDF with one page of that width and height for each of these pictures, which fills it; turned by half a turn if
/// asked.
///
/// # Errors
/// None that a page without words can have.
pub fn pictures(pages: &[(&Art, (Length, Length), bool)]) -> Result<Vec<u8>, CannotWrite> {
    let pages = pages.iter().map(|&(art, (width, height), turned)| Page {
        size: (width, height),
        boxes: None,
        mirrored: false,
        drawings: vec![Drawing::Picture {
            art,
            at: [Length::ZERO, Length::ZERO, width, height],
            turned,
        }],
    });
    pdf::write(&Document {
        title: "Pictures".to_string(),
        language: "en-GB",
        date: None,
        pages: pages.collect(),
        words_as: WordsAs::Text,
        claims: Claims::Plain,
        printing: None,
    })
}
