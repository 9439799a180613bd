//! The back of a joined dummy.

use super::grey::Grey;
use super::pieces::{Fold, MM, Piece, Span, folds, frames, number_in};
use super::strip::{Cut, Panel, panel};

/// Where each piece begins on the joined strip, and where the last ends.
fn begins(cuts: &[Cut<'_>]) -> Vec<usize> {
    let mut begins = vec![0];
    for cut in cuts {
        let (from, to) = cut.piece.own();
        begins.push(begins[begins.len() - 1] + to - from);
    }
    begins
}

fn canvas(cuts: &[Cut<'_>]) -> (Grey, Vec<usize>) {
    let begins = begins(cuts);
    let high = cuts[0].piece.rows.1 - cuts[0].piece.rows.0;
    (Grey::bare(begins[cuts.len()], high), begins)
}

/// That a face behind has the folds of the front, each the other way.
fn folds_agree(front: &[Fold], behind: &[Fold]) {
    assert_eq!(
        front.len(),
        behind.len(),
        "{front:?} and behind them {behind:?}"
    );
    for (front, behind) in front.iter().zip(behind) {
        assert!(front.x.abs_diff(behind.x) <= 2, "{front:?} and {behind:?}");
        assert_ne!(front.kind, behind.kind, "{front:?} and {behind:?}");
    }
}

/// The backs as they would be seen through the front, cut out with the fronts, the tabs pasted over their zones.
pub(super) fn printed(cuts: &[Cut<'_>], sideways: bool) -> Grey {
    let (mut canvas, begins) = canvas(cuts);
    let through: Vec<Grey> = cuts
        .iter()
        .map(|cut| cut.behind.expect("a page behind").drawn.turned(sideways))
        .collect();
    for ((cut, page), begin) in cuts.iter().zip(&through).zip(&begins) {
        let Piece { columns, rows, .. } = cut.piece;
        folds_agree(&cut.piece.folds, &folds(page, columns, rows));
        canvas.paste(&page.cut(cut.piece.own(), rows), (*begin, 0));
    }
    for (at, cut) in cuts.iter().enumerate() {
        let Piece {
            columns,
            rows,
            tabs,
            ..
        } = cut.piece;
        let own = cut.piece.own();
        for (tab, side) in [((columns.0, own.0), 0), ((own.1, columns.1), 1)] {
            let Some(number) = tabs[side] else { continue };
            let wide = tab.1 - tab.0;
            let (neighbour, left) = match side {
                0 => (at - 1, begins[at] - wide),
                _ => (at + 1, begins[at + 1]),
            };
            let edges = cuts[neighbour].piece.own();
            let zone = match side {
                0 => (edges.1 - wide, edges.1),
                _ => (edges.0, edges.0 + wide),
            };
            is_framed(
                &cuts[neighbour],
                &through[neighbour],
                zone,
                number,
                sideways,
            );
            canvas.paste(&through[at].cut(tab, rows), (left, 0));
        }
    }
    canvas
}

/// That the zone of a tab is framed on its neighbour's back, and has the tab's number.
fn is_framed(cut: &Cut<'_>, through: &Grey, zone: Span, number: usize, sideways: bool) {
    let Piece { columns, rows, .. } = cut.piece;
    let inner = if zone.0 == columns.0 { zone.1 } else { zone.0 };
    let frames = frames(through, columns, rows);
    assert!(
        frames.iter().any(|x| x.abs_diff(inner) <= 2),
        "{zone:?} is not framed: {frames:?}"
    );
    let behind = cut.behind.expect("a page behind");
    let (columns, rows) = turned(&behind.drawn, zone, rows, sideways);
    let middle = (rows.0 + rows.1) / 2;
    let about = (middle - (4.0 * MM) as usize, middle + (4.0 * MM) as usize);
    assert_eq!(number_in(&behind.words, columns, about), Some(number));
}

/// A place of a page as it lies when the page is turned.
fn turned(page: &Grey, columns: Span, rows: Span, sideways: bool) -> (Span, Span) {
    let about = |span: Span, size: usize| (size - span.1, size - span.0);
    match sideways {
        true => (about(columns, page.wide), rows),
        false => (columns, about(rows, page.high)),
    }
}

/// The backs as they would be seen through the front, each laid on the piece of its number.
pub(super) fn pasted(cuts: &[Cut<'_>], apart: &[Cut<'_>], sideways: bool) -> Grey {
    let (mut canvas, begins) = canvas(cuts);
    for ((cut, back), begin) in cuts.iter().zip(apart).zip(begins) {
        let own = cut.piece.own();
        let picture = back
            .sheet
            .drawn
            .cut(back.piece.columns, back.piece.rows)
            .turned(sideways);
        assert!(
            picture.wide.abs_diff(own.1 - own.0) <= 2,
            "a back is as long as its piece"
        );
        assert!(picture.high.abs_diff(canvas.high) <= 2, "and as high");
        assert_eq!(back.piece.tabs, [None, None]);
        // The front's folds within its panels, and the back's as they lie behind them.
        let within = cut
            .piece
            .folds
            .iter()
            .filter(|fold| own.0 < fold.x && fold.x < own.1);
        let front: Vec<Fold> = within
            .map(|fold| Fold {
                x: fold.x - own.0,
                ..*fold
            })
            .collect();
        let (from, to) = back.piece.columns;
        let mut behind = back.piece.folds.clone();
        for fold in &mut behind {
            fold.x = if sideways { to - fold.x } else { fold.x - from };
        }
        behind.sort_by_key(|fold| fold.x);
        folds_agree(&front, &behind);
        canvas.paste(&picture, (begin, 0));
    }
    canvas
}

/// Turns the strip over and takes it apart at its folds.
pub(super) fn seen_from_behind(
    through: &Grey,
    cuts: &[Cut<'_>],
    apart: &[Cut<'_>],
    sideways: bool,
) -> Vec<Panel> {
    let seen = through.turned(sideways);
    let mut found = Vec::new();
    for (at, (cut, begin)) in cuts.iter().zip(begins(cuts)).enumerate() {
        let own = cut.piece.own();
        for columns in cut.piece.panels() {
            let on_strip = (columns.0 - own.0 + begin, columns.1 - own.0 + begin);
            let (on_seen, rows) = turned(through, on_strip, (0, through.high), sideways);
            // Its words are read on the page that it is printed on.
            let mut face = match (apart.get(at), cut.behind) {
                (Some(back), _) => {
                    let piece = &back.piece;
                    let on_piece = (columns.0 - own.0, columns.1 - own.0);
                    let wide = piece.columns.1 - piece.columns.0;
                    let (from, to) = match sideways {
                        true => (wide.saturating_sub(on_piece.1), wide - on_piece.0),
                        false => on_piece,
                    };
                    let left = piece.columns.0;
                    panel(
                        back.sheet,
                        (left + from, (left + to).min(piece.columns.1)),
                        piece.rows,
                    )
                }
                (None, behind) => {
                    let behind = behind.expect("a page behind");
                    let (columns, rows) = turned(&behind.drawn, columns, cut.piece.rows, sideways);
                    panel(behind, columns, rows)
                }
            };
            face.picture = seen.cut(on_seen, rows);
            found.push(face);
        }
    }
    if sideways {
        found.reverse();
    }
    found
}
