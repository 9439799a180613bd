//! A dummy cut, joined by its tab numbers, turned over, and taken apart again at its folds.

use super::behind::{pasted, printed, seen_from_behind};
use super::grey::Grey;
use super::pieces::{Kind, MM, Piece, Span, pieces, words_in};
use super::words::Word;

/// A panel as it is seen on the joined strip.
pub struct Panel {
    pub picture: Grey,
    /// All words on it.
    pub words: Vec<String>,
    /// The words just above its foot.
    pub label: String,
}

/// The joined strip: panels from left to right as each side is seen.
pub struct Strip {
    pub front: Vec<Panel>,
    /// The folds of the front between them.
    pub kinds: Vec<Kind>,
    pub back: Vec<Panel>,
    pub pieces: usize,
}

/// How the backs come behind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Backs {
    Printed,
    Pasted,
    None,
}

/// A page, drawn and read.
pub struct Sheet {
    pub drawn: Grey,
    pub words: Vec<Word>,
}

/// A piece with the page it is cut from.
pub struct Cut<'a> {
    pub piece: Piece,
    pub sheet: &'a Sheet,
    /// The page behind it, where that is printed.
    pub behind: Option<&'a Sheet>,
}

pub fn panel(sheet: &Sheet, columns: Span, rows: Span) -> Panel {
    let texts = |rows: Span| -> Vec<String> {
        let here = words_in(&sheet.words, columns, rows).into_iter();
        here.map(|word| word.text.clone()).collect()
    };
    Panel {
        picture: sheet.drawn.cut(columns, rows),
        words: texts(rows),
        label: texts((rows.1 - (4.8 * MM) as usize, rows.1)).join(" "),
    }
}

/// Cuts all pieces out: fronts, and backs that are printed apart, each in the order of their numbers.
fn cut_out(sheets: &[Sheet], backs: Backs) -> [Vec<Cut<'_>>; 2] {
    let mut fronts: Vec<Cut<'_>> = Vec::new();
    let mut apart: Vec<Cut<'_>> = Vec::new();
    let step = if backs == Backs::Printed { 2 } else { 1 };
    for pair in sheets.chunks(step) {
        for piece in pieces(&pair[0].drawn, &pair[0].words) {
            let (sheet, behind) = (&pair[0], pair.get(1));
            let list = if piece.is_back {
                &mut apart
            } else {
                &mut fronts
            };
            list.push(Cut {
                piece,
                sheet,
                behind,
            });
        }
        if let Some(behind) = pair.get(1) {
            assert!(
                pieces(&behind.drawn, &behind.words).is_empty(),
                "an outline behind"
            );
        }
    }
    for list in [&mut fronts, &mut apart] {
        list.sort_by_key(|cut| cut.piece.number);
        let numbers = list.iter().map(|cut| cut.piece.number);
        assert!(numbers.eq(1..=list.len()), "every piece once");
    }
    [fronts, apart]
}

/// Follows the printed marks.
pub fn joined(sheets: &[Sheet], backs: Backs, sideways: bool) -> Strip {
    let [mut fronts, mut apart] = cut_out(sheets, backs);
    let leftwards = from_left_to_right(&mut fronts);
    let fronts_of = |cut: &Cut<'_>| {
        let panels = cut.piece.panels().into_iter();
        panels
            .map(|columns| panel(cut.sheet, columns, cut.piece.rows))
            .collect::<Vec<_>>()
    };
    let mut strip = Strip {
        front: fronts.iter().flat_map(fronts_of).collect(),
        kinds: fronts
            .iter()
            .flat_map(|cut| cut.piece.folds.iter().map(|fold| fold.kind))
            .collect(),
        back: Vec::new(),
        pieces: fronts.len(),
    };
    let seen_through = match backs {
        Backs::None => {
            assert!(apart.is_empty());
            return strip;
        }
        Backs::Printed => printed(&fronts, sideways),
        Backs::Pasted => {
            assert_eq!(apart.len(), fronts.len(), "a back for every piece");
            if leftwards {
                apart.reverse();
            }
            pasted(&fronts, &apart, sideways)
        }
    };
    strip.back = seen_from_behind(&seen_through, &fronts, &apart, sideways);
    strip
}

/// Puts pieces in order from left to right: tab n is that of piece n or of the next, and tells on which side of it the
/// other lies. Whether piece 1 lies at the right.
fn from_left_to_right(cuts: &mut [Cut<'_>]) -> bool {
    let mut leftwards = None;
    let tabs = cuts.iter().flat_map(|cut| cut.piece.tabs).flatten().count();
    assert_eq!(tabs, cuts.len() - 1, "a tab for every join");
    for n in 1..cuts.len() {
        let at_right = |cut: &Cut<'_>| cut.piece.tabs.iter().position(|&tab| tab == Some(n));
        let next_is_left = match (at_right(&cuts[n - 1]), at_right(&cuts[n])) {
            (Some(side), None) => side == 0,
            (None, Some(side)) => side == 1,
            other => panic!("tab {n} is on {other:?}"),
        };
        assert!(
            leftwards.is_none_or(|known| known == next_is_left),
            "tab {n} points back"
        );
        leftwards = Some(next_is_left);
    }
    let leftwards = leftwards.unwrap_or(false);
    if leftwards {
        cuts.reverse();
    }
    leftwards
}
