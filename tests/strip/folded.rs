//! Spreads and outside faces against a strip that is folded leaf by leaf and laid in a stack.

use proptest::prelude::*;
use versefold::names::{FoldKind, PanelName, Side};
use versefold::paper::{Sheets, Strip, StripContents, order};
use versefold::plan::{Paper, SheetsPlan};

use super::{any_strip, cases};
use crate::support::share::Share;

/// A leaf of the stack: a front panel, and whether its front faces up.
#[derive(Clone, Copy)]
struct Leaf {
    front: u16,
    front_up: bool,
}

/// Folds a strip, front 1 lying with its front up. A valley brings the fronts of two panels together, a mountain their
/// backs: so the next leaf comes to lie upon or under the one before.
fn folded(kinds: &[FoldKind]) -> Vec<Leaf> {
    let mut stack = vec![Leaf {
        front: 1,
        front_up: true,
    }];
    let mut at = 0;
    for (number, kind) in (2..).zip(kinds) {
        let before = stack[at];
        let upon = before.front_up == (*kind == FoldKind::Valley);
        let leaf = Leaf {
            front: number,
            front_up: !before.front_up,
        };
        // The stack is listed from below.
        at += usize::from(upon);
        stack.insert(at, leaf);
    }
    stack
}

fn face(strip: &Strip, leaf: Leaf, up: bool) -> PanelName {
    let front = PanelName::front(leaf.front);
    match leaf.front_up == up {
        true => front,
        false => strip.behind(front).expect("every panel has another side"),
    }
}

fn pair(one: PanelName, other: PanelName) -> (PanelName, PanelName) {
    (one.min(other), one.max(other))
}

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn spreads_and_outside_faces_are_those_of_the_folded_strip(paper in any_strip(2)) {
        let strip = Strip::new(paper);
        let kinds: Vec<FoldKind> = strip.folds().iter().map(|fold| fold.kind).collect();
        prop_assert_eq!(kinds.len(), usize::from(paper.panels.per_side) - 1);
        let stack = folded(&kinds);
        let mut touching: Vec<_> = stack
            .windows(2)
            .map(|leaves| pair(face(&strip, leaves[0], true), face(&strip, leaves[1], false)))
            .collect();
        touching.sort();
        let mut spreads: Vec<_> = [Side::Front, Side::Back]
            .into_iter()
            .flat_map(|side| strip.spreads(side))
            .map(|(one, other)| pair(one, other))
            .collect();
        spreads.sort();
        prop_assert_eq!(spreads, touching);
        let mut outside = vec![
            face(&strip, stack[0], false),
            face(&strip, stack[stack.len() - 1], true),
        ];
        outside.sort();
        prop_assert_eq!(strip.outside(), outside);
    }

    /// Whatever the order of folding, every fold is folded once.
    #[test]
    fn the_order_of_folding_names_every_fold_once(paper in any_strip(2)) {
        let strip = Strip::new(paper);
        let plan = SheetsPlan { longest: None, ..SheetsPlan::default() };
        static CASES: Share = Share::new();
        let Ok(sheets) = Sheets::new(&strip, &plan, &StripContents::nothing()) else {
            CASES.passed_over(50);
            return Ok(());
        };
        CASES.ran();
        let mut folds: Vec<u16> = order(&strip, &sheets).concat();
        folds.sort_unstable();
        prop_assert_eq!(folds, (1..paper.panels.per_side).collect::<Vec<_>>());
    }
}

/// Halving: each round folds what the rounds before have left, in the middle.
#[test]
fn up_to_sixteen_panels_are_halved() {
    for count in [2u16, 4, 8, 16] {
        let paper = Paper {
            ..super::strip_of(count, FoldKind::Mountain)
        };
        let strip = Strip::new(paper);
        let sheets =
            Sheets::new(&strip, &SheetsPlan::default(), &StripContents::nothing()).unwrap();
        let mut pieces = vec![(0, count)];
        for round in order(&strip, &sheets) {
            let middles: Vec<u16> = pieces.iter().map(|(from, to)| (from + to) / 2).collect();
            assert_eq!(round, middles, "{count}");
            pieces = pieces
                .into_iter()
                .flat_map(|(from, to)| [(from, (from + to) / 2), ((from + to) / 2, to)])
                .collect();
        }
        assert!(pieces.iter().all(|(from, to)| to - from == 1), "{count}");
    }
}
