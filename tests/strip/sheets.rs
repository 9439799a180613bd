//! Sheets and joins: the strip is covered exactly once, by as few sheets as can be.

use proptest::prelude::*;
use versefold::names::{JoinKind, Length, PanelName, Side};
use versefold::paper::{Sheet, Sheets, Strip, StripContents};
use versefold::plan::{Paper, SheetsPlan};

use super::{any_strip, cases};
use crate::support::share::Share;

/// Few panels with words in odd places, so that every way to cut can be tried.
#[derive(Clone, Debug)]
struct Cut {
    paper: Paper,
    plan: SheetsPlan,
    /// For each back panel whether words come near its left and its right edge, and whether it is blank.
    carries: Vec<(bool, bool, bool)>,
}

prop_compose! {
    fn any_cut(most: u16)(
        paper in any_strip(2),
        panels in 2..=most,
        kind in 0..3,
        tab in 108_000i64..700_000,
        sheets in 1i64..=5,
        spare in 0i64..400_000,
        carries in prop::collection::vec((prop::bool::weighted(0.3), prop::bool::weighted(0.3), any::<bool>()), 400),
    ) -> Cut {
        let mut paper = paper;
        paper.panels.per_side = panels;
        let join = [JoinKind::Tab, JoinKind::Hinge, JoinKind::Doubled][kind as usize];
        let plan = SheetsPlan {
            join,
            tab: Length::from_units(tab),
            spare: Length::from_units(spare),
            // Room for some of the strip, with marks and grippers.
            longest: Some(paper.along(panels) / sheets + paper.widest() + Length::mm(60)),
            ..SheetsPlan::default()
        };
        Cut { paper, plan, carries }
    }
}

/// Words on a side, from and to along the strip.
type Words = (Side, Length, Length);

/// Where words lie at the edges of panels.
fn words_of(strip: &Strip, carries: &[(bool, bool, bool)]) -> Vec<Words> {
    let reach = Length::mm(2);
    let mut found = Vec::new();
    for panel in strip.panels() {
        let at = usize::from(panel.number - 1) + if panel.side == Side::Back { 0 } else { 150 };
        let (near_left, near_right, _) = carries[at % carries.len()];
        let (left, right) = (
            strip.left_of(panel),
            strip.left_of(panel) + strip.width_of(panel),
        );
        let mut add = |from: Length, to: Length| {
            let ends = [strip.across(panel.side, from), strip.across(panel.side, to)];
            found.push((panel.side, ends[0].min(ends[1]), ends[0].max(ends[1])));
        };
        if near_left {
            add(left + reach, left + reach * 2);
        }
        if near_right {
            add(right - reach * 2, right - reach);
        }
    }
    found
}

fn made(cut: &Cut) -> Option<(Strip, Sheets, Vec<Words>)> {
    let strip = Strip::new(cut.paper);
    let words = words_of(&strip, &cut.carries);
    let lie = |side: Side, from: Length, to: Length| {
        words
            .iter()
            .any(|word| word.0 == side && word.1 < to && from < word.2)
    };
    let blank = |panel: PanelName| cut.carries[usize::from(panel.number) % 400].2;
    let carried = StripContents {
        words: &lie,
        blank: &blank,
    };
    let sheets = Sheets::new(&strip, &cut.plan, &carried).ok()?;
    Some((strip, sheets, words))
}

/// How long the paper of a sheet may be, worked out anew: marks are 5 mm beyond the bleed, or beyond 2 mm.
fn room(cut: &Cut) -> Length {
    let marks = cut.paper.bleed.max(Length::mm(2)) + Length::mm(5) + cut.plan.gripper;
    cut.plan.longest.unwrap() - marks * 2
}

/// The fewest joins over words and then the fewest sheets, by trying every set of folds and every way to give tabs: panels
/// of each sheet from the left, tabs and spare paper counted.
fn fewest(cut: &Cut) -> Option<(usize, usize)> {
    let strip = Strip::new(cut.paper);
    let words = words_of(&strip, &cut.carries);
    let count = cut.paper.panels.per_side;
    let mut best = None;
    for folds in 0u32..1 << (count - 1) {
        let joins = folds.count_ones();
        for owners in 0u32..1 << joins {
            let found = over_words(cut, &words, folds, owners);
            let found = found.map(|over| (over, joins as usize + 1));
            best = best.into_iter().chain(found).min();
        }
    }
    best
}

/// How many joins lie over words where the strip is cut at these folds, and these joins have their tabs on the left;
/// nothing where a sheet is too long, or all covered.
fn over_words(cut: &Cut, words: &[Words], folds: u32, owners: u32) -> Option<usize> {
    let count = cut.paper.panels.per_side;
    let widths: Vec<i64> = (1..=count)
        .map(|k| (cut.paper.along(k) - cut.paper.along(k - 1)).units())
        .collect();
    let rtl = cut.paper.reads.is_right_to_left();
    let (mut over, mut along, mut join) = (0, 0, 0);
    // Of this sheet what it has itself, and what tabs cover of it.
    let (mut own, mut covered) = (0, 0);
    let mut length = if rtl { cut.plan.spare.units() } else { 0 };
    for at in 0..usize::from(count) {
        length += widths[at];
        own += widths[at];
        along += widths[at];
        let last = at + 1 == usize::from(count);
        if !last && folds >> at & 1 == 0 {
            continue;
        }
        let (mut next, mut next_covered) = (0, 0);
        if last && !rtl {
            length += cut.plan.spare.units();
        }
        if !last {
            let left = owners >> join & 1 == 0;
            join += 1;
            let tab = match (cut.plan.join, left) {
                (JoinKind::Hinge, _) => 0,
                (JoinKind::Tab, _) => cut.plan.tab.units(),
                (JoinKind::Doubled, true) => widths[at + 1],
                (JoinKind::Doubled, false) => widths[at],
            };
            over += usize::from(lies_over_words(cut, words, along, left));
            *(if left { &mut length } else { &mut next }) += tab;
            *(if left {
                &mut next_covered
            } else {
                &mut covered
            }) += tab;
        }
        if length > room(cut).units() || covered > own {
            return None;
        }
        (length, own, covered) = (next, 0, next_covered);
    }
    Some(over)
}

/// Whether a join so far along the strip lies over words: they keep a millimetre from a tab's free edge, and from both
/// edges of a tissue.
fn lies_over_words(cut: &Cut, words: &[Words], along: i64, left: bool) -> bool {
    let lie = |side: Side, from: i64, to: i64| {
        let (from, to) = (Length::from_units(from), Length::from_units(to));
        words
            .iter()
            .any(|word| word.0 == side && word.1 < to && from < word.2)
    };
    let (tab, clear) = (cut.plan.tab.units(), Length::mm(1).units());
    match (cut.plan.join, left) {
        (JoinKind::Doubled, _) => false,
        (JoinKind::Tab, true) => lie(Side::Back, along, along + tab + clear),
        (JoinKind::Tab, false) => lie(Side::Back, along - tab - clear, along),
        (JoinKind::Hinge, _) => {
            let half = tab / 2 + clear;
            let on = |side| lie(side, along - half, along + half);
            on(Side::Front) && on(Side::Back)
        }
    }
}

/// That these pieces, put in order, lie edge to edge from the strip's left to its right.
fn cover(
    strip: &Strip,
    pieces: impl Iterator<Item = (Length, Length)>,
) -> Result<(), TestCaseError> {
    let mut pieces: Vec<_> = pieces.collect();
    pieces.sort();
    let mut at = Length::ZERO;
    for (from, to) in pieces {
        prop_assert_eq!(from, at);
        prop_assert!(to >= from);
        at = to;
    }
    prop_assert_eq!(at, strip.length());
    Ok(())
}

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn sheets_cover_the_strip_exactly_once(cut in any_cut(400)) {
        static CASES: Share = Share::new();
        let Some((strip, sheets, words)) = made(&cut) else {
            CASES.passed_over(50);
            return Ok(());
        };
        CASES.ran();
        let own = sheets.sheets.iter().map(|sheet| (sheet.from, sheet.to));
        cover(&strip, own)?;
        for side in [Side::Front, Side::Back] {
            cover(&strip, sheets.sheets.iter().map(|sheet| sheets.visible(sheet, side)))?;
            for sheet in &sheets.sheets {
                let (from, to) = sheets.visible(sheet, side);
                let printed = sheets.printed(sheet, side);
                // What is seen is printed, and what is pasted is bare but for the under-run.
                prop_assert!(printed.0 <= from && to <= printed.1);
                prop_assert!(printed.1 - printed.0 - (to - from) <= cut.plan.under_run * 2);
                let (left, right) = sheet.cut();
                prop_assert!(left <= printed.0 && printed.1 <= right);
            }
        }
        prop_assert!(sheets.sheets.iter().all(|sheet| sheet.paper() <= room(&cut)));
        // Numbered in the order of the front's panels, each panel on one of them.
        let numbers: Vec<u16> = sheets.sheets.iter().flat_map(|sheet| sheet.panels.0..=sheet.panels.1).collect();
        prop_assert_eq!(numbers, (1..=cut.paper.panels.per_side).collect::<Vec<_>>());
        let words_lie = |from: Length, to: Length, side: Side| {
            words.iter().any(|word| word.0 == side && word.1 < to && from < word.2)
        };
        for join in &sheets.joins {
            let (from, to) = join.zone();
            let over = match join.kind {
                JoinKind::Tab => words_lie(from, to, Side::Back),
                JoinKind::Hinge => words_lie(from, to, join.tissue_on),
                JoinKind::Doubled => false,
            };
            prop_assert!(!over || sheets.words_in_joins.contains(join));
        }
        // Every panel's words have one sheet, and there they are seen whole where no tab lies over their panel.
        for panel in strip.panels() {
            let homes: Vec<&Sheet> = sheets.home(&strip, panel).into_iter().collect();
            prop_assert_eq!(homes.len(), 1);
        }
    }

    #[test]
    fn joins_lie_over_as_few_words_and_there_are_as_few_sheets_as_can_be(cut in any_cut(8)) {
        let fewest = fewest(&cut);
        match made(&cut) {
            Some((_, sheets, _)) => {
                let found = (sheets.words_in_joins.len(), sheets.sheets.len());
                prop_assert_eq!(Some(found), fewest);
            }
            // Refused: no way at all, or no room for two panels.
            None => prop_assert!(fewest.is_none() || room(&cut) < cut.paper.narrowest() * 2),
        }
    }
}
