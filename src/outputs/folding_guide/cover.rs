//! The cover: the outside faces themselves, boards, or a wrapper.

use super::page::Pages;
use super::{Guide, boards, wrapper};
use crate::names::and_list;
use crate::paper::CutCover;

/// Tells of the cover.
pub(super) fn tell(pages: &mut Pages<'_>, guide: &Guide<'_>) {
    match guide.cover {
        CutCover::Itself => itself(pages, guide),
        CutCover::Boards(boards) => boards::tell(pages, guide, boards),
        CutCover::Wrapper(wrapper) => wrapper::tell(pages, wrapper),
    }
}

/// The faces on the outside of the closed book.
pub(super) fn outside(guide: &Guide<'_>) -> String {
    let faces = guide.layout.strip.outside();
    let faces: Vec<String> = faces.iter().map(ToString::to_string).collect();
    and_list(&faces)
}

fn itself(pages: &mut Pages<'_>, guide: &Guide<'_>) {
    pages.heading("Cover");
    let strip = &guide.layout.strip;
    let faces = strip.outside();
    let bare = faces.iter().filter(|face| {
        let printed = strip.sides();
        !printed.contains(&face.side)
    });
    let bare: Vec<String> = bare.map(ToString::to_string).collect();
    let unprinted = match bare.is_empty() {
        true => String::new(),
        false => format!(" Not printed: {}.", and_list(&bare)),
    };
    pages.paragraph(&format!(
        "The book covers itself: {} are outside when it is closed.{unprinted} Nothing more is cut.",
        outside(guide)
    ));
}
