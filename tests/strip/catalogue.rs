//! Page maps against the open fold catalogue of CIP4 (JDFLibJ, `PaginationCatalog.java`: accordion entries F6-1, F6-2,
//! F10-1, F14-1, F16-5, F18-1; F6-4 is a letter fold, F8-2 a parallel fold).

use versefold::names::{Direction, FoldKind, PanelName, Side};
use versefold::paper::Strip;
use versefold::plan::Paper;

use super::strip_of;

/// The pages that a strip's faces carry when it is leafed through like a book that is never turned over: from an outside
/// face to the face behind it, from there to the face beside it, and so on. By side, from left to right as seen.
fn pages(paper: Paper) -> [Vec<u16>; 2] {
    let strip = Strip::new(paper);
    let mut page_of = std::collections::HashMap::new();
    // Of the first leaf the face that is seen when the book is closed.
    let first = PanelName::front(1);
    let outside = strip.outside();
    let mut face = match outside.contains(&first) {
        true => first,
        false => strip.behind(first).expect("every panel has another side"),
    };
    let mut page = 0;
    loop {
        let behind = strip.behind(face).expect("every panel has another side");
        for panel in [face, behind] {
            page += 1;
            page_of.insert(panel, page);
        }
        match strip.spread_of(behind) {
            Some((one, other)) => face = if one == behind { other } else { one },
            None => break,
        }
    }
    [Side::Front, Side::Back].map(|side| {
        let mut panels: Vec<PanelName> =
            strip.panels().filter(|panel| panel.side == side).collect();
        panels.sort_by_key(|panel| strip.left_of(*panel));
        panels.iter().map(|panel| page_of[panel]).collect()
    })
}

fn map(per_side: u16, reads: Direction) -> [Vec<u16>; 2] {
    // The first page is an outside face of the front: the fold after it points at the reader.
    pages(Paper {
        reads,
        ..strip_of(per_side, FoldKind::Mountain)
    })
}

#[test]
fn page_maps_are_those_of_the_catalogue() {
    let accordions: [(&str, Direction, &[u16], &[u16]); 6] = [
        ("F6-1", Direction::RightToLeft, &[5, 4, 1], &[2, 3, 6]),
        ("F6-2", Direction::LeftToRight, &[1, 4, 5], &[6, 3, 2]),
        (
            "F10-1",
            Direction::RightToLeft,
            &[9, 8, 5, 4, 1],
            &[2, 3, 6, 7, 10],
        ),
        (
            "F14-1",
            Direction::RightToLeft,
            &[13, 12, 9, 8, 5, 4, 1],
            &[2, 3, 6, 7, 10, 11, 14],
        ),
        (
            "F16-5",
            Direction::RightToLeft,
            &[16, 13, 12, 9, 8, 5, 4, 1],
            &[2, 3, 6, 7, 10, 11, 14, 15],
        ),
        (
            "F18-1",
            Direction::RightToLeft,
            &[17, 16, 13, 12, 9, 8, 5, 4, 1],
            &[2, 3, 6, 7, 10, 11, 14, 15, 18],
        ),
    ];
    for (code, reads, front, back) in accordions {
        let panels = u16::try_from(front.len()).unwrap();
        assert_eq!(
            map(panels, reads),
            [front.to_vec(), back.to_vec()],
            "{code}"
        );
    }
}

#[test]
fn other_folds_have_other_maps() {
    for (code, front) in [("F6-4", vec![3, 2, 5]), ("F8-2", vec![2, 7, 6, 3])] {
        let panels = u16::try_from(front.len()).unwrap();
        for reads in [Direction::LeftToRight, Direction::RightToLeft] {
            for first_fold in [FoldKind::Mountain, FoldKind::Valley] {
                let strip = Paper {
                    reads,
                    ..strip_of(panels, first_fold)
                };
                let sides = pages(strip);
                assert!(!sides.contains(&front), "{code}");
            }
        }
    }
}
