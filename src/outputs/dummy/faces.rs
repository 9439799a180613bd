//! The pages: fronts with pieces to cut out, and backs behind them or beside them.

use super::fit::{Fitted, Lies};
use super::piece::Piece;
use super::{Backs, ForDummy, steps};
use crate::names::{Length, Side, Turned};
use crate::outputs::scans::OnPage;
use crate::outputs::words::LabelSetter;
use crate::paper::Sheet;
use crate::pdf::{Drawing, Page, Paint};

/// Which face of a piece a page shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum PieceFace {
    /// Its front, to be cut out.
    Front,
    /// Its back, printed behind its front.
    Behind,
    /// Its back on a page of its own, to be cut out and pasted behind.
    Apart,
}

impl PieceFace {
    pub fn side(self) -> Side {
        match self {
            PieceFace::Front => Side::Front,
            PieceFace::Behind | PieceFace::Apart => Side::Back,
        }
    }
}

/// All pages in the order of printing.
pub(super) fn pages<'a>(
    asked: &'a ForDummy<'a>,
    fitted: &Fitted,
    setter: &LabelSetter,
) -> Vec<Page<'a>> {
    let mut pages = Vec::new();
    let fronts = 0..fitted.fronts();
    for number in fronts.clone() {
        pages.push(page(asked, fitted, setter, number, PieceFace::Front));
        if asked.backs == Backs::Printed {
            pages.push(page(asked, fitted, setter, number, PieceFace::Behind));
        }
    }
    if asked.backs == Backs::Pasted {
        let with_pieces =
            fronts.filter(|number| fitted.lies.iter().any(|lies| lies.page == *number));
        pages.extend(
            with_pieces.map(|number| page(asked, fitted, setter, number, PieceFace::Apart)),
        );
    }
    pages
}

fn page<'a>(
    asked: &'a ForDummy<'a>,
    fitted: &Fitted,
    setter: &LabelSetter,
    number: usize,
    face: PieceFace,
) -> Page<'a> {
    let mut drawings: Vec<Drawing<'a>> = Vec::new();
    let pieces = fitted.pieces.sheets.iter().zip(&fitted.lies);
    for (sheet, lies) in pieces.filter(|(_, lies)| lies.page == number) {
        let piece = Piece {
            asked,
            fitted,
            setter,
            sheet,
            face,
            on: on_page(asked, fitted, sheet, lies, face),
        };
        piece.draw(&mut drawings);
    }
    if number == 0 && face == PieceFace::Front {
        steps::draw(asked, fitted, setter, &mut drawings);
    }
    Page {
        size: fitted.page,
        boxes: None,
        drawings,
        mirrored: false,
    }
}

/// How the strip would lie on the page for a piece to come where it lies. Pages stand upright on both sides: what turns
/// them is the reader's hand, or the printer.
fn on_page(
    asked: &ForDummy<'_>,
    fitted: &Fitted,
    sheet: &Sheet,
    lies: &Lies,
    face: PieceFace,
) -> OnPage {
    let paper = asked.layout.strip.paper();
    let scaled = |length: Length| length.scaled(fitted.scale, 100);
    let sideways = paper.turned == Turned::HeadToHead;
    let (from, _) = sheet.cut();
    let from_left = lies.left - scaled(from);
    let (zero, leftwards) = match face {
        PieceFace::Front => (from_left, false),
        _ if !sideways => (from_left, false),
        PieceFace::Behind => (fitted.page.0 - from_left, true),
        PieceFace::Apart => (lies.left + scaled(sheet.to), true),
    };
    let head = match face {
        // Turned over the top, what lay above lies below.
        PieceFace::Behind if !sideways => fitted.page.1 - lies.head + scaled(paper.panel_height),
        _ => lies.head,
    };
    OnPage {
        side: face.side(),
        zero,
        leftwards,
        head,
        scale: (fitted.scale, 100),
    }
}

/// Black, for what is cut.
pub(super) const CUT: Paint = Paint::Grey(0.0);
/// For folds and what else is not cut.
pub(super) const FAINT: Paint = Paint::Grey(0.5);
