//! How the strip lies on office paper: its scale, its pieces, and where each lies.

use super::{Backs, ForDummy, steps};
use crate::names::Length;
use crate::outputs::words::LabelSetter;
use crate::paper::Sheets;

/// What office printers leave white, with a little more for the ticks around a piece.
pub(super) const MARGIN: Length = Length::mm(9);
/// Between two rows of pieces.
pub(super) const BETWEEN: Length = Length::mm(8);
/// How wide a tab is on the paper.
pub(super) const TAB: Length = Length::mm(12);
/// The scales that are tried, in hundredths: full size, then in steps of 5 %.
const SCALES: i64 = 5;

/// A piece of the strip on a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lies {
    /// The page of fronts that it is on, from 0.
    pub page: usize,
    /// Where its paper begins on the page, from the left.
    pub left: Length,
    /// Where its head lies, from the page's foot.
    pub head: Length,
}

/// How the strip lies on the paper.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Fitted {
    /// Width and height of a page.
    pub page: (Length, Length),
    /// In hundredths of the full size.
    pub scale: i64,
    /// The pieces, in the strip's own lengths.
    pub pieces: Sheets,
    /// Where each lies, in their order.
    pub lies: Vec<Lies>,
    /// Whether the five steps have a page of their own before the first piece.
    pub steps_alone: bool,
}

impl Fitted {
    /// The largest scale that a panel fits at, and on the way up or across that takes the fewest pages.
    pub(super) fn new(asked: &ForDummy<'_>, setter: &LabelSetter) -> Option<Fitted> {
        let (long, short) = (asked.paper.long, asked.paper.short);
        let mut scale = 100;
        while scale > 0 {
            let ways = [(long, short), (short, long)].into_iter();
            let ways = ways.filter_map(|page| Fitted::at(asked, setter, page, scale));
            if let Some(best) = ways.min_by_key(Fitted::fronts) {
                return Some(best);
            }
            scale -= SCALES;
        }
        None
    }

    /// How many pages of fronts there are.
    pub fn fronts(&self) -> usize {
        self.lies.last().map_or(0, |last| last.page + 1)
    }

    fn at(
        asked: &ForDummy<'_>,
        setter: &LabelSetter,
        page: (Length, Length),
        scale: i64,
    ) -> Option<Fitted> {
        let strip = &asked.layout.strip;
        let on_paper = |length: Length| length.scaled(scale, 100);
        let of_strip = |length: Length| length.scaled(100, scale);
        let (wide, high) = (page.0 - MARGIN * 2, page.1 - MARGIN * 2);
        let height = on_paper(strip.paper().panel_height);
        if height > high {
            return None;
        }
        let tab = of_strip(TAB);
        if tab >= strip.paper().narrowest() && on_paper(strip.length()) > wide {
            return None;
        }
        let pieces = Sheets::pieces(strip, of_strip(wide), tab)?;
        let mut fitted = Fitted {
            page,
            scale,
            pieces,
            lies: Vec::new(),
            steps_alone: false,
        };
        let steps = steps::height(asked, &fitted, setter);
        if steps > high {
            return None;
        }
        let beside = high - height - BETWEEN >= steps;
        fitted.steps_alone = !beside;
        let top = page.1 - MARGIN;
        let (mut number, mut head) = (usize::from(!beside), top);
        let mut room = high
            - if beside {
                steps + BETWEEN
            } else {
                Length::ZERO
            };
        for piece in &fitted.pieces.sheets {
            if room < height {
                (number, head, room) = (number + 1, top, high);
            }
            // In the middle, so that front and back lie behind each other however the paper is turned.
            let left = (page.0 - on_paper(piece.paper())) / 2;
            fitted.lies.push(Lies {
                page: number,
                left,
                head,
            });
            head -= height + BETWEEN;
            room -= height + BETWEEN;
        }
        Some(fitted)
    }

    /// What the paper carries in all, for the steps.
    pub(super) fn told(&self, backs: Backs) -> String {
        let size = match self.scale {
            100 => "full size".to_string(),
            scale => format!("at {scale} % of its size"),
        };
        let pieces = match self.pieces.sheets.len() {
            1 => "one piece".to_string(),
            n => format!("{n} pieces"),
        };
        let sides = match backs {
            Backs::Printed => ", printed on both sides",
            Backs::Pasted => ", its backs to be pasted behind",
            Backs::None => "",
        };
        format!("{size}, in {pieces}{sides}")
    }
}
