//! Print sheets: whatever marks one side has, the other has behind them when the sheet is turned as paper turns.

use std::fs;
use std::path::{Path, PathBuf};

use super::super::support::{copy_of, copy_of_demo, run_in, temporary, write_book};
use super::duplex;
use super::grey::pages;
use super::marks::{DPI, Kind, MM, PT, Seen, folds, places, seen};
use super::said::{Edges, trims};

/// That two lists of places are the same to a pixel.
fn same(what: &str, one: impl Iterator<Item = f64>, other: impl Iterator<Item = f64>) {
    let (one, other): (Vec<f64>, Vec<f64>) = (one.collect(), other.collect());
    let near = one.len() == other.len();
    let near = near && one.iter().zip(&other).all(|(a, b)| (a - b).abs() <= 1.0);
    assert!(near, "{what}: {one:?} and behind them {other:?}");
}

/// What a book must have, counted by hand.
struct Expected {
    panels: usize,
    sheets: usize,
    /// The folds that are marked: one for each pair of neighbours, and none at a hinge, where sheets are only cut.
    folds: usize,
    /// How far apart neighbouring marks may be, in millimetres: panels, tabs, spare paper.
    apart: &'static [f64],
    sideways: bool,
}

/// Edges in pixels.
fn pixels(edges: Edges) -> Edges {
    Edges {
        left: edges.left * PT,
        head: edges.head * PT,
        right: edges.right * PT,
        foot: edges.foot * PT,
    }
}

/// The trim of a back when its page of that size is turned sideways, or over its head.
fn as_turned(back: Edges, (wide, high): (f64, f64), sideways: bool) -> Edges {
    match sideways {
        true => Edges {
            left: wide - back.right,
            right: wide - back.left,
            ..back
        },
        false => Edges {
            head: high - back.foot,
            foot: high - back.head,
            ..back
        },
    }
}

/// That folds are marked to be scored where they are mountains, and nowhere else.
fn mountains_are_scored(name: &str, sides: [&Seen; 2]) {
    for side in sides {
        for mark in folds(&side.head).chain(folds(&side.foot)) {
            let mountain = mark.kind == Kind::Mountain;
            assert_eq!(mark.scored, mountain, "{name}: {mark:?}");
        }
    }
}

/// A sheet: both sides agree, and the number of folds and of cuts.
fn sheet(file: &Path, expected: &Expected) -> (usize, usize) {
    let sideways = expected.sideways;
    let name = file.display();
    let (drawn, trims) = (pages(file, DPI), trims(file));
    assert_eq!((drawn.len(), trims.len()), (2, 2), "{name}");
    let turned = drawn[1].turned(sideways);
    let size = (turned.wide as f64, turned.high as f64);
    let back = as_turned(pixels(trims[1].0), size, sideways);
    let front = seen(&drawn[0], pixels(trims[0].0), trims[0].1 * PT);
    let back_as_it_stands = seen(&drawn[1], pixels(trims[1].0), trims[1].1 * PT);
    let back = seen(&turned, back, trims[1].1 * PT);
    let edges = |trim: Edges| [trim.left, trim.head, trim.right, trim.foot].into_iter();
    same(
        &format!("trim of {name}"),
        edges(front.trim),
        edges(back.trim),
    );
    same(
        &format!("marks of {name}"),
        places(&front.head),
        places(&back.head),
    );
    same(
        &format!("marks of {name}"),
        places(&front.foot),
        places(&back.foot),
    );
    for side in 0..2 {
        let level = [&front, &back].map(|seen| seen.level[side].iter().copied());
        let [one, other] = level;
        assert_eq!(one.len(), 3, "two cuts and a cross beside {name}");
        same(&format!("level lines of {name}"), one, other);
        let [one, other] = [&front, &back].map(|seen| seen.upright[side].iter().copied());
        assert_eq!(one.len(), 1, "a cross beside {name}");
        same(&format!("crosses of {name}"), one, other);
    }
    // A valley in front is a mountain behind.
    for (front, back) in [(&front.head, &back.head), (&front.foot, &back.foot)] {
        for (front, back) in folds(front).zip(folds(back)) {
            assert_ne!(front.kind, back.kind, "{name} at {}", front.x);
        }
    }
    mountains_are_scored(&name.to_string(), [&front, &back_as_it_stands]);
    for pair in front.foot.windows(2) {
        let apart = pair[1].x - pair[0].x;
        let known = expected.apart.iter();
        let mut off = known.map(|length| (apart - length * MM).abs());
        assert!(
            off.any(|off| off <= 1.5),
            "{} mm apart on {name}",
            apart / MM
        );
    }
    let cuts = front.foot.len() - folds(&front.foot).count();
    let crosses = front.head.len() - front.foot.len();
    assert!((1..=2).contains(&crosses), "{crosses} crosses on {name}");
    (folds(&front.head).count(), cuts)
}

fn every_mark_has_its_partner(book: &Path, expected: &Expected) {
    run_in(book, &["strip", "--quiet"]).done();
    let folder = book.join("out/strip");
    let sheets: Vec<PathBuf> = (1..=expected.sheets)
        .map(|number| folder.join(format!("sheet-{number}.pdf")))
        .collect();
    assert!(
        !folder
            .join(format!("sheet-{}.pdf", expected.sheets + 1))
            .exists()
    );
    let (mut folds, mut cuts) = (0, 0);
    for file in &sheets {
        let found = sheet(file, expected);
        duplex::agrees(file, expected.sideways);
        (folds, cuts) = (folds + found.0, cuts + found.1);
    }
    let name = book.display();
    assert_eq!(folds, expected.folds, "folds of {name}");
    // Both ends of every sheet, and the spare paper beyond the last panel.
    assert_eq!(cuts, expected.sheets * 2 + 1, "cuts of {name}");
    println!(
        "{name}: {} panels on {} sheets: {folds} folds and {cuts} cuts, each with its partner",
        expected.panels, expected.sheets
    );
}

/// A book of `tests/books`, or the demo, cut from other sheets.
fn from_sheets(name: Option<&str>, to: &Path, sheets: &str) {
    match name {
        None => copy_of_demo(to),
        Some(name) => {
            let books = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/books");
            copy_of(&books.join(name), to);
        }
    }
    let at = to.join("concertina.toml");
    let plan = fs::read_to_string(&at).expect("a plan");
    let lines = plan.lines().filter(|line| {
        // The demo's own sheets are left out.
        !line.starts_with("[sheets]") && !line.starts_with("longest-sheet")
    });
    let plan: Vec<&str> = lines.collect();
    let plan = format!("{}\n[sheets]\n{sheets}\n", plan.join("\n"));
    fs::write(at, plan).expect("the plan is written");
}

/// A strip of its own: 9 panels of 60 mm, the ends wider.
fn wide_ends(to: &Path, paper: &str, sheets: &str) {
    let plan = format!(
        "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"winter-bus.txt\"\n\n[paper]\n\
         panel-width = \"60 mm\"\npanel-height = \"90 mm\"\npanels-per-side = 9\nsides = \"both\"\n\
         ends = {{ first = \"71 mm\", last = \"64 mm\" }}\n{paper}\n\n[sheets]\n{sheets}\n"
    );
    write_book(to, &plan, "The horn has three meanings.\n");
}

#[test]
#[ignore = "needs poppler's pdftoppm and pdfinfo"]
fn every_mark_has_its_partner_on_the_other_side() {
    let folder = temporary();
    let at = |name: &str| folder.path().join(name);
    let sra3 = "size = \"SRA3\"";
    let expected = |panels, sheets, folds, sideways, apart| Expected {
        panels,
        sheets,
        folds,
        apart,
        sideways,
    };
    for (join, folds) in [("tab", 11), ("hinge", 8), ("doubled", 11)] {
        let sheets = format!("{sra3}\njoin = \"{join}\"");
        from_sheets(None, &at(join), &sheets);
        every_mark_has_its_partner(
            &at(join),
            &expected(12, 4, folds, true, &[105.0, 12.0, 5.0]),
        );
    }
    // Narrow sheets, so that small books need several, and pages are taller than wide.
    let narrow = "size = \"A3\"\nlongest-sheet = \"250 mm\"";
    for (name, panels, sheets, sideways) in [
        ("boards", 4, 2, true),
        ("boards-odd", 3, 2, true),
        ("right-to-left-strip", 3, 2, true),
        ("head-to-foot", 3, 2, false),
    ] {
        from_sheets(Some(name), &at(name), narrow);
        every_mark_has_its_partner(
            &at(name),
            &expected(panels, sheets, panels - 1, sideways, &[90.0, 12.0, 5.0]),
        );
    }
    for (name, paper, sideways) in [
        ("wide", "", true),
        ("wide-rtl", "reads = \"right-to-left\"", true),
        (
            "wide-foot",
            "turned = \"head-to-foot\"\nfirst-fold = \"valley\"",
            false,
        ),
        (
            "wide-foot-rtl",
            "turned = \"head-to-foot\"\nreads = \"right-to-left\"",
            false,
        ),
    ] {
        wide_ends(&at(name), paper, "size = \"A3\"");
        every_mark_has_its_partner(
            &at(name),
            &expected(9, 2, 8, sideways, &[60.0, 71.0, 64.0, 12.0, 5.0]),
        );
    }
}
