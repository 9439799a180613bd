//! What to agree upon and how to print: the duplex setting in plain words, and what to take care of.

use super::Guide;
use super::page::Pages;
use crate::names::{Sides, Turned};
use crate::paper::Flip;

/// Tells how the sheets are printed.
pub(super) fn tell(pages: &mut Pages<'_>, guide: &Guide<'_>) {
    pages.heading("Print");
    pages.paragraph(
        "Agree upon folds, marks, bleed and the two sides with your print shop first: its rules come before these.",
    );
    let paper = guide.layout.strip.paper();
    if paper.panels.sides == Sides::Front {
        pages.led(
            "One side.",
            "Print at 100 %, unscaled. The back stays bare.",
        );
        return;
    }
    let flip = Flip::of(guide.sheets.page, paper.turned).words();
    pages.led(
        "On a printer.",
        &format!(
            "Each sheet’s file has its front on page 1 and its back on page 2. Print on both sides, flipped on the {flip}, at \
             100 %, unscaled. The file does not turn the back: the setting does, never both."
        ),
    );
    let (turn, axis, jdf) = match paper.turned {
        Turned::HeadToHead => ("work-and-turn", "upright edge, heads together", "Head"),
        Turned::HeadToFoot => ("work-and-tumble", "level edge, head to foot", "Foot"),
    };
    pages.led(
        "On a press.",
        &format!(
            "Front and back are two forms. The sheet is turned as for {turn}, about its {axis} (XJDF: TwoSidedHeadTo{jdf})."
        ),
    );
    pages.led(
        "Test.",
        "Print one sheet and hold it against the light: the marks of both sides must lie on each other, and behind each panel \
         must be the one that the drawing names.",
    );
}

/// What to take care of.
pub(super) fn care(pages: &mut Pages<'_>) {
    pages.heading("Take care");
    pages.item(
        "Blades.",
        "Cut on a mat along a steel rule, with the other hand behind the blade and the cut leading away from it. Change the \
         blade often: a blunt one slips. Close it when you put it down.",
    );
    pages.item(
        "Glue.",
        "Read the maker’s label and keep to it; open a window.",
    );
    pages.item(
        "Presses and guillotines.",
        "Only those who have been shown how; the shop’s rules and local rules come first.",
    );
}
