//! Front and back points, and the two ways to turn a sheet over.

use proptest::prelude::*;
use versefold::names::{Length, PanelName, Side, Turned};
use versefold::paper::{Flip, Sheets, Strip, StripContents};
use versefold::plan::Paper;

use super::{any_strip, cases, strip_of};
use crate::support::share::Share;

proptest! {
    #![proptest_config(cases())]

    /// Every point of the front has one behind it, and that one has the first behind it; the panel there is the one that is
    /// said to lie behind.
    #[test]
    fn every_point_has_one_behind_it(paper in any_strip(1), permille in 0i64..1000) {
        let strip = Strip::new(paper);
        let along = strip.length().scaled(permille, 1000);
        let back = strip.across(Side::Back, along);
        prop_assert_eq!(strip.across(Side::Back, back), along);
        let at = |side: Side, along: Length| {
            strip.panels().find(|&panel| {
                let left = strip.left_of(panel);
                panel.side == side && left <= along && along < left + strip.width_of(panel)
            })
        };
        let front = at(Side::Front, along).expect("some panel");
        // At an edge the two sides of it change places when the strip is turned sideways.
        let inside = along > strip.left_of(front);
        if inside || paper.turned == Turned::HeadToFoot {
            prop_assert_eq!(at(Side::Back, back), strip.behind(front));
        }
        prop_assert_eq!(strip.behind(strip.behind(front).unwrap()), Some(front));
    }

    /// Sums are exact to the unit: panels follow each other without gap or overlap, from edge to edge.
    #[test]
    fn panels_follow_each_other_exactly(paper in any_strip(1)) {
        let strip = Strip::new(paper);
        for side in [Side::Front, Side::Back] {
            let mut panels: Vec<PanelName> =
                strip.panels().filter(|panel| panel.side == side).collect();
            panels.sort_by_key(|panel| strip.left_of(*panel));
            let mut at = Length::ZERO;
            for panel in panels {
                prop_assert_eq!(strip.left_of(panel), at);
                at += strip.width_of(panel);
            }
            prop_assert_eq!(at, strip.length());
        }
        let inner = i64::from(paper.panels.per_side) - 2;
        let ends = paper.ends.first.units() + paper.ends.last.units();
        if inner >= 0 {
            prop_assert_eq!(strip.length().units(), ends + inner * paper.panel_width.units());
        }
    }

    /// Panels lie as ISO 32000 and IPP (RFC 8011, `sides`) turn pages: about the upright edge a point (x, y) comes to
    /// (W - x, y), about the level one to (x, H - y); both pages are upright, so y as read stays where the heads are.
    #[test]
    fn pages_lie_behind_each_other(paper in any_strip(2), permille in 0i64..1000) {
        let strip = Strip::new(paper);
        let plan = Default::default();
        static CASES: Share = Share::new();
        let Ok(sheets) = Sheets::new(&strip, &plan, &StripContents::nothing()) else {
            CASES.passed_over(50);
            return Ok(());
        };
        CASES.ran();
        for sheet in &sheets.sheets {
            let along = sheet.from + (sheet.to - sheet.from).scaled(permille, 1000);
            let x = sheets.on_page(&strip, sheet, Side::Front, along);
            let behind = sheets.on_page(&strip, sheet, Side::Back, along);
            match paper.turned {
                Turned::HeadToHead => prop_assert_eq!(behind, sheets.page.0 - x),
                Turned::HeadToFoot => prop_assert_eq!(behind, x),
            }
            // The heads lie as far from the page's head as the feet from its foot.
            let head = sheets.head_on_page(&strip);
            let foot = head - paper.panel_height;
            prop_assert!((sheets.page.1 - head - foot).units().abs() <= 1);
        }
    }
}

#[test]
fn the_back_is_numbered_as_it_is_turned() {
    for count in [1u16, 2, 7, 8, 17, 60, 400] {
        for (turned, numbers) in [
            (Turned::HeadToHead, (1..=count).rev().collect::<Vec<_>>()),
            (Turned::HeadToFoot, (1..=count).collect()),
        ] {
            let paper = Paper {
                turned,
                ..strip_of(count, versefold::names::FoldKind::Mountain)
            };
            let behind = (1..=count).map(|number| paper.behind(PanelName::front(number)).unwrap());
            let expected: Vec<PanelName> = numbers.into_iter().map(PanelName::back).collect();
            assert_eq!(behind.collect::<Vec<_>>(), expected);
        }
    }
}

/// IPP `sides` (RFC 8011): long edge "as if for binding on the long edge", short edge for the other. A landscape strip that
/// its reader turns sideways is bound on its short edge.
#[test]
fn the_duplex_setting_is_the_edge_that_the_reader_turns_about() {
    let (wide, high) = (
        (Length::mm(860), Length::mm(164)),
        (Length::mm(164), Length::mm(860)),
    );
    assert_eq!(Flip::of(wide, Turned::HeadToHead), Flip::ShortEdge);
    assert_eq!(Flip::of(high, Turned::HeadToHead), Flip::LongEdge);
    assert_eq!(Flip::of(wide, Turned::HeadToFoot), Flip::LongEdge);
    assert_eq!(Flip::of(high, Turned::HeadToFoot), Flip::ShortEdge);
}
