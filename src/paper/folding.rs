//! Where folds are scored, and in which order they are folded.

use super::{Sheet, Sheets, Strip};
use crate::names::{Direction, FoldKind, Length, PanelName, Side};

/// A fold as it is scored on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ScoredFold {
    /// The front panel before it in the order of reading.
    pub after: PanelName,
    /// The fold as seen from the front.
    pub kind: FoldKind,
    /// The side it is scored on: the outside of the fold, where it is a mountain. A crease is pressed there, so that its
    /// bead rises on the inside; board is cut there.
    pub on: Side,
    /// How far it lies from the sheet's first edge, the one nearest front 1, wherever that edge is seen. All folds are
    /// measured from this one edge, so that errors do not add up.
    pub from_edge: Length,
    /// How far it lies from the strip's left edge, seen from the front.
    pub along: Length,
    /// Whether two sheets are joined at it, and this one has the tab.
    pub has_tab: bool,
}

/// The folds of a sheet in the order of reading, the fold of a tab among them.
pub fn scored(strip: &Strip, sheet: &Sheet) -> Vec<ScoredFold> {
    let (left, right) = sheet.cut();
    let rtl = strip.paper().reads == Direction::RightToLeft;
    let folds = strip.folds().iter().filter_map(|fold| {
        let along = fold.from_left;
        let inside = left < along && along < right;
        let has_tab = along == sheet.from || along == sheet.to;
        inside.then_some(ScoredFold {
            after: fold.after,
            kind: fold.kind,
            on: match fold.kind {
                FoldKind::Mountain => Side::Front,
                FoldKind::Valley => Side::Back,
            },
            from_edge: if rtl { right - along } else { along - left },
            along,
            has_tab,
        })
    });
    folds.collect()
}

/// The folds of the strip by rounds of folding, each fold by the front panel before it: by halves where there are 4, 8 or
/// 16 panels, all alike and on one sheet, otherwise one after the other. (More halves would bend the long strip too often.)
pub fn order(strip: &Strip, sheets: &Sheets) -> Vec<Vec<u16>> {
    let paper = strip.paper();
    let count = paper.panels.per_side;
    let equal = paper.ends.first == paper.panel_width && paper.ends.last == paper.panel_width;
    if !matches!(count, 4 | 8 | 16) || !equal || sheets.sheets.len() > 1 {
        return vec![(1..count).collect()];
    }
    let mut rounds = Vec::new();
    let mut step = count / 2;
    while step > 0 {
        let folds = (1..count / step).filter(|odd| !odd.is_multiple_of(2));
        rounds.push(folds.map(|odd| odd * step).collect());
        step /= 2;
    }
    rounds
}
