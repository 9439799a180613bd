//! The text layers: a PDF for each panel with words, and one for each side.

use rayon::prelude::*;

use super::{CannotWrite, WordsAs};
use crate::layout::{LaidPanel, Layout};
use crate::names::{PageSpace, PanelName, Side};
use crate::pdf::{Claims, Document, Drawing, Page, PageBoxes, write};

/// A text layer.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Layer {
    /// Its file name: `front-02.pdf`, `front.pdf`.
    pub name: String,
    /// The file.
    pub bytes: Vec<u8>,
    /// The words that it shows, line by line in reading order.
    pub words: Vec<String>,
}

/// Every text layer of a book.
///
/// The MediaBox is the trimmed panel with its bleed all round; nothing is painted but words.
///
/// # Errors
/// A font that cannot be subset.
pub fn layers(layout: &Layout, words_as: WordsAs) -> Result<Vec<Layer>, CannotWrite> {
    let mut asked: Vec<(String, String, Vec<&LaidPanel>)> = Vec::new();
    for side in layout.strip.sides() {
        let panels: Vec<&LaidPanel> = layout
            .panels
            .iter()
            .filter(|panel| panel.panel.side == *side)
            .collect();
        for panel in panels.iter().filter(|panel| !panel.lines.is_empty()) {
            let name = layer_name(panel.panel, panels.len());
            let title = format!("{} – {}", layout.title, panel.panel);
            asked.push((name, title, vec![panel]));
        }
        let title = format!("{} – {}", layout.title, side.word());
        asked.push((side_layer_name(*side), title, panels));
    }
    // Each by itself, on as many cores as there are; they come back in their order.
    let made: Vec<Result<Layer, CannotWrite>> = asked
        .into_par_iter()
        .map(|(name, title, panels)| layer(layout, name, title, &panels, words_as))
        .collect();
    made.into_iter().collect()
}

/// The file name of a panel's layer, on a side of so many panels: numbers are padded so that files stand in
/// reading order in any folder.
pub fn layer_name(panel: PanelName, of_side: usize) -> String {
    let digits = of_side.to_string().len().max(2);
    format!("{}-{:0digits$}.pdf", panel.side.word(), panel.number)
}

/// The file name of the layer that holds a whole side.
pub fn side_layer_name(side: Side) -> String {
    format!("{}.pdf", side.word())
}

fn layer(
    layout: &Layout,
    name: String,
    title: String,
    panels: &[&LaidPanel],
    words_as: WordsAs,
) -> Result<Layer, CannotWrite> {
    let paper = layout.strip.paper();
    let bleed = paper.bleed;
    let space = PageSpace::with_bleed(paper.panel_height, bleed);
    let pages = panels.iter().map(|&panel| {
        let size = (panel.size.0 + bleed * 2, panel.size.1 + bleed * 2);
        Page {
            size,
            boxes: Some(PageBoxes::within(size, bleed)),
            drawings: vec![Drawing::Words { panel, space }],
            mirrored: false,
        }
    });
    let document = Document {
        title,
        language: &layout.language,
        date: layout.date,
        pages: pages.collect(),
        words_as,
        claims: Claims::Accessible,
        printing: None,
    };
    Ok(Layer {
        name,
        bytes: write(&document)?,
        words: panels.iter().flat_map(|panel| panel.words()).collect(),
    })
}
