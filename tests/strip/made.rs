//! What a strip is made of, against published values and things worked out by hand.

use std::path::Path;

use versefold::book::plan_file::check;
use versefold::names::{FoldKind, Length, Side, Source, Stock};
use versefold::paper::{Boards, ClosedBook, Sheets, Strip, StripContents, scored};
use versefold::plan::{BoardsPlan, Paper, Plan, SheetsPlan};

use super::strip_of;

fn tenths(number: i64) -> Length {
    Length::mm(number) / 10
}

/// Paper of 80 g/m² and volume 1.5 is 0.120 mm thick, as a glossary of paper (dcc-kaestl.com, "Papiervolumen") works it
/// out by grammage ÷ 1000 × volume (ISO 534); 50 leaves of it are then 6.0 mm (that page says 4 mm, wrongly).
#[test]
fn thickness_is_grammage_times_bulk() {
    let stock = Stock {
        grammage: Some(80),
        bulk: Some(1500),
        thickness: None,
    };
    let leaf = stock.leaf().expect("it can be worked out");
    assert_eq!(leaf, Length::mm(12) / 100);
    assert_eq!(leaf * 50, Length::mm(6));
    // What was measured goes before what is worked out.
    let measured = Stock {
        thickness: Some(tenths(2)),
        ..stock
    };
    assert_eq!(measured.leaf(), Some(tenths(2)));
}

/// A plan of fifty panels with these keys of the paper.
fn fifty(keys: &str) -> Plan {
    let text = format!(
        "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"winter-bus.txt\"\n[paper]\n\
         panel-width = \"100 mm\"\npanel-height = \"200 mm\"\npanels-per-side = 50\n{keys}"
    );
    check::read(&Source::new("concertina.toml", text)).expect("a sound plan")
}

/// n leaves of thickness t are n × t pressed and half as much again loose; a sheet of 1 m² weighs what its grammage says.
#[test]
fn the_closed_book_is_a_range() {
    let closed = |plan: &Plan| {
        let strip = Strip::new(plan.paper);
        let sheets =
            Sheets::new(&strip, &plan.sheets, &StripContents::nothing()).expect("one sheet");
        (ClosedBook::new(plan, &strip, &sheets), sheets.sheets.len())
    };
    let (plain, sheets) = closed(&fifty("grammage = 80\nbulk = 1.5\n"));
    assert_eq!(sheets, 1);
    assert_eq!(plain.leaves, 50);
    assert_eq!(plain.thickness, Some((Length::mm(6), Length::mm(9))));
    // 5 m × 0.2 m are a square metre.
    assert_eq!(plain.weight_mg, Some(80_000));
    let (boards, _) = closed(&fifty(
        "thickness = \"0.12 mm\"\ncover = \"boards\"\nboards = { thickness = \"2.5 mm\" }\n",
    ));
    assert_eq!(boards.thickness, Some((Length::mm(11), Length::mm(14))));
    assert_eq!(boards.weight_mg, None);
    // Each doubled join adds a leaf.
    let (doubled, sheets) = closed(&fifty(
        "thickness = \"0.1 mm\"\n[sheets]\njoin = \"doubled\"\nlongest-sheet = \"1400 mm\"\n",
    ));
    assert_eq!(doubled.leaves as usize, 50 + sheets - 1);
}

/// Boards of an even strip: panel and square at the free edge, two squares in height; the covering's corners are cut off
/// at 45°, 1.5 t from the board's corner, so that from there to the cut it is 1.5 × 2 mm.
#[test]
fn boards_go_beyond_by_the_square() {
    let even = Boards::new(&strip_of(8, FoldKind::Valley), BoardsPlan::default());
    assert_eq!(even.first.size, (Length::mm(108), Length::mm(154)));
    assert_eq!(even.first.material, (Length::mm(138), Length::mm(184)));
    assert_eq!(even.first, even.last);
    let (turn_in, leg) = (15.0_f64, even.first.mitre.as_mm());
    // The distance of the board's corner (15, 15) from the line between (leg, 0) and (0, leg).
    let passes = (turn_in + turn_in - leg) / 2.0_f64.sqrt();
    assert!((passes - 3.0).abs() < 0.001, "{passes}");
    // The ends of an odd strip lie at opposite edges of the closed book: both edges want a square.
    let odd = Boards::new(&strip_of(7, FoldKind::Valley), BoardsPlan::default());
    assert_eq!(odd.first.size, (Length::mm(111), Length::mm(154)));
    let wide = Paper {
        ends: versefold::plan::Ends {
            first: Length::mm(105),
            last: Length::mm(110),
        },
        ..strip_of(8, FoldKind::Valley)
    };
    let wide = Boards::new(&wide, BoardsPlan::default());
    assert_eq!(wide.last.size.0 - wide.first.size.0, Length::mm(5));
}

/// A fold is scored on its outside: where it points at you. Measured from the edge nearest front 1.
#[test]
fn folds_are_scored_on_their_outside() {
    for first in [FoldKind::Mountain, FoldKind::Valley] {
        let strip = Strip::new(strip_of(5, first));
        let sheets = Sheets::new(&strip, &SheetsPlan::default(), &StripContents::nothing());
        let sheets = sheets.expect("one sheet");
        let folds = scored(&strip, &sheets.sheets[0]);
        let told: Vec<_> = folds.iter().map(|fold| (fold.on, fold.from_edge)).collect();
        let (odd, even) = match first {
            FoldKind::Mountain => (Side::Front, Side::Back),
            FoldKind::Valley => (Side::Back, Side::Front),
        };
        let expected = [(odd, 105), (even, 210), (odd, 315), (even, 420)];
        assert_eq!(told, expected.map(|(side, mm)| (side, Length::mm(mm))));
    }
}

/// A sheet of a named size keeps its size; a page that is cut for the strip has room for marks and for what the press cannot
/// print.
#[test]
fn pages_hold_the_marks_within_what_can_be_printed() {
    let strip = Strip::new(strip_of(4, FoldKind::Mountain));
    let page = |plan: SheetsPlan| {
        let sheets = Sheets::new(&strip, &plan, &StripContents::nothing());
        sheets.expect("it fits").page
    };
    // 420 mm and 5 mm spare; around it 3 mm of bleed, 5 mm of marks, 5 mm that the press cannot print.
    let usual = page(SheetsPlan::default());
    assert_eq!(usual, (Length::mm(451), Length::mm(174)));
    let size = versefold::plan::sizes::named("SRA2");
    let limited = page(SheetsPlan {
        size,
        longest: Some(Length::mm(300)),
        ..SheetsPlan::default()
    });
    assert_eq!(limited, (Length::mm(640), Length::mm(450)));
}

/// The demo's plan is what README says of it.
#[test]
fn the_demo_weighs_what_readme_says() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let read = |name: &str| std::fs::read_to_string(root.join(name)).expect(name);
    let temp = crate::support::temporary();
    crate::support::copy_of(&crate::support::demo(), temp.path());
    let said = crate::support::run_in(temp.path(), &["strip"]).done();
    let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let readme = plain(&read("README.md"));
    for line in said.lines().take(5) {
        assert!(readme.contains(&plain(line)), "README does not say: {line}");
    }
}
