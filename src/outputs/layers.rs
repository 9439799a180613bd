//! The text layers: a PDF for each panel with words, and one for each side.

use rayon::prelude::*;

use super::{CannotWrite, WordsAs};
use crate::layout::{LaidPanel, Layout};
use crate::names::{PageSpace, PanelName, Side};
use crate::pdf::{Claims, Document, Drawing, Packed, Page, PageBoxes, write_again};

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

/// A layer that is to be made.
struct Asked<'l> {
    name: String,
    title: String,
    panels: Vec<&'l LaidPanel>,
}

/// Every text layer of a book.
///
/// The MediaBox is the trimmed panel with its bleed all round; nothing is painted but words.
///
/// # Errors
/// A font that cannot be subset.
pub fn layers(layout: &Layout, words_as: WordsAs) -> Result<Vec<Layer>, CannotWrite> {
    let again = Again {
        known: &|_, _| None,
        packed: None,
    };
    each_layer(layout, words_as, again, |layer| layer)
        .into_iter()
        .collect()
}

/// What is known of layers that were made before.
pub(crate) struct Again<'a, T> {
    /// What came of a layer of that name on which these panels stand, where it would be made alike.
    pub known: &'a (dyn Fn(&str, &[&LaidPanel]) -> Option<T> + Sync),
    /// Streams that have been packed already: those of layers of whole sides.
    pub packed: Option<&'a Packed>,
}

/// Every text layer of a book, each handed over as soon as it is made; what comes of that is given in their order. Layers
/// are made, and handed over, on as many cores as there are. What is known already is made no more.
pub(crate) fn each_layer<T: Send>(
    layout: &Layout,
    words_as: WordsAs,
    again: Again<'_, T>,
    hand_over: impl Fn(Layer) -> T + Sync,
) -> Vec<Result<T, CannotWrite>> {
    let make_with = |asked: &Asked<'_>, packed| match (again.known)(&asked.name, &asked.panels) {
        Some(known) => Ok(known),
        None => layer(layout, asked, words_as, packed).map(&hand_over),
    };
    let make = |asked: &Asked<'_>| make_with(asked, None);
    let make_side = |asked: &Asked<'_>| make_with(asked, again.packed);
    let of_sides = layout
        .strip
        .sides()
        .iter()
        .map(|side| of_side(layout, *side));
    let (of_panels, of_sides): (Vec<Vec<Asked<'_>>>, Vec<Asked<'_>>) = of_sides.unzip();
    // The layer of a whole side takes longest: it is begun first.
    let (sides, panels) = rayon::join(
        || of_sides.par_iter().map(make_side).collect::<Vec<_>>(),
        || of_panels.par_iter().flatten().map(make).collect::<Vec<_>>(),
    );
    let mut panels = panels.into_iter();
    let mut made = Vec::new();
    for (side, of_panels) in sides.into_iter().zip(&of_panels) {
        made.extend(panels.by_ref().take(of_panels.len()));
        made.push(side);
    }
    made
}

/// The layers of a side: those of its panels with words, and that of all of it.
fn of_side(layout: &Layout, side: Side) -> (Vec<Asked<'_>>, Asked<'_>) {
    let panels = layout.panels.iter();
    let panels: Vec<&LaidPanel> = panels.filter(|panel| panel.panel.side == side).collect();
    let with_words = panels.iter().filter(|panel| !panel.lines.is_empty());
    let of_panels = with_words.map(|panel| Asked {
        name: layer_name(panel.panel, panels.len()),
        title: format!("{} – {}", layout.title, panel.panel),
        panels: vec![panel],
    });
    let of_panels = of_panels.collect();
    let of_side = Asked {
        name: side_layer_name(side),
        title: format!("{} – {}", layout.title, side.word()),
        panels,
    };
    (of_panels, of_side)
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
    asked: &Asked<'_>,
    words_as: WordsAs,
    packed: Option<&Packed>,
) -> Result<Layer, CannotWrite> {
    let paper = layout.strip.paper();
    let bleed = paper.bleed;
    let space = PageSpace::with_bleed(paper.panel_height, bleed);
    let pages = asked.panels.iter().map(|&panel| {
        let size = (panel.size.0 + bleed * 2, panel.size.1 + bleed * 2);
        Page {
            size,
            boxes: Some(PageBoxes::within(size, bleed)),
            drawings: vec![Drawing::Words { panel, space }],
            mirrored: false,
        }
    });
    let document = Document {
        title: asked.title.clone(),
        language: &layout.language,
        date: layout.date,
        pages: pages.collect(),
        words_as,
        claims: Claims::Accessible,
        printing: None,
    };
    Ok(Layer {
        name: asked.name.clone(),
        bytes: write_again(&document, packed)?,
        words: asked
            .panels
            .iter()
            .flat_map(|panel| panel.words())
            .collect(),
    })
}
