//! Dummies cut, joined and turned over by what is printed on them, until every panel lies where it is read.

use std::path::Path;

use super::super::support::temporary;
use super::book::{Book, Carries};
use super::duplex;
use super::grey::{Grey, pages};
use super::pieces::{DPI, Kind, MM};
use super::strip::{Backs, Panel, Sheet, Strip, joined};
use super::words::words;

/// What a panel is held against: its layer, without what lies near the edges.
struct Reference {
    soft: Grey,
    coarse: [Grey; 2],
}

/// Numbers, folds and outlines lie no farther from a panel's edges than this.
fn edge() -> usize {
    (6.0 * MM) as usize
}

const COARSE: usize = 3;

fn references(book: &Book, scale: f64) -> Vec<Option<Reference>> {
    let all = book.all().into_iter();
    let found = all.map(|(side, number)| {
        let fine = book.layer(side, number, DPI * scale)?.within(edge());
        let soft = fine.softened();
        let coarse = fine.coarser(COARSE);
        let turned = coarse.half_turned();
        Some(Reference {
            soft,
            coarse: [coarse, turned],
        })
    });
    found.collect()
}

fn texts(sheet: &Sheet) -> impl Iterator<Item = &str> {
    sheet.words.iter().map(|word| word.text.as_str())
}

/// The scale that the first page tells.
fn scale(sheets: &[Sheet]) -> f64 {
    let words: Vec<&str> = texts(&sheets[0]).collect();
    let told = words.windows(6).find_map(|words| match words {
        ["at", number, "%", "of", "its", "size,"] => number.parse::<f64>().ok(),
        _ => None,
    });
    told.map_or(1.0, |scale| scale / 100.0)
}

fn sheets(file: &Path) -> Vec<Sheet> {
    let drawn = pages(file, DPI);
    let words = words(file);
    assert_eq!(drawn.len(), words.len());
    drawn
        .into_iter()
        .zip(words)
        .map(|(drawn, words)| Sheet { drawn, words })
        .collect()
}

/// That a panel is the one that should lie there, upright, and looks like no other.
fn is_in_place(book: &Book, panel: &Panel, at: usize, references: &[Option<Reference>]) -> f64 {
    let (side, number) = book.all()[at];
    let what = format!("{side} {number} of {}", book.folder.display());
    assert_eq!(panel.label, format!("{side} {number}"), "{what}");
    let inner = panel.picture.within(edge());
    let carries = book.carries(side, number);
    let grey = inner.median();
    let tinted = matches!(carries, Carries::Shared | Carries::Picture);
    assert_eq!(tinted, (200..250).contains(&grey), "{what} is {grey} grey");
    let name = Book::picture(side, number);
    let named: Vec<&String> = panel
        .words
        .iter()
        .filter(|word| word.ends_with('x'))
        .collect();
    match tinted {
        true => assert_eq!(named, [&name], "{what}"),
        false => assert!(named.is_empty(), "{what}: {named:?}"),
    }
    let Some(own) = &references[at] else {
        assert!(
            matches!(carries, Carries::Blank | Carries::Picture),
            "{what} has no layer"
        );
        assert!(
            carries == Carries::Picture || inner.darkest() > 240,
            "{what} is not blank"
        );
        return 1.0;
    };
    let coarse = inner.coarser(COARSE);
    let mut others = Vec::new();
    for (other, reference) in references.iter().enumerate() {
        let Some(reference) = reference else { continue };
        for (turned, picture) in reference.coarse.iter().enumerate() {
            others.push((coarse.correlation(picture, 1), other, turned));
        }
    }
    let best = others.iter().max_by(|one, other| one.0.total_cmp(&other.0));
    let best = best.expect("some panel has words");
    assert_eq!(
        (best.1, best.2),
        (at, 0),
        "{what} looks most like panel {best:?}"
    );
    let alike = inner.softened().correlation(&own.soft, 3);
    assert!(alike > 0.8, "{what} is like its layer by {alike:.2} only");
    alike
}

/// From the first read to the last, whichever way the strip reads.
fn in_order(book: &Book, mut panels: Vec<Panel>) -> Vec<Panel> {
    if book.right_to_left {
        panels.reverse();
    }
    panels
}

/// Cuts, joins and turns over a dummy, and looks at every panel of both sides. The least likeness.
fn every_panel_is_in_place(book: &Book, paper: &str, backs: Backs) -> (Strip, f64) {
    let called = match backs {
        Backs::Printed => "printed",
        Backs::Pasted => "pasted",
        Backs::None => "none",
    };
    let file = book.dummy(paper, called);
    let sheets = sheets(&file);
    let references = references(book, scale(&sheets));
    let backs = if book.both_sides { backs } else { Backs::None };
    if backs == Backs::Printed {
        // What the steps say is what the file asks for, and what turns the paper below.
        let edge = duplex::agrees(&file, book.sideways);
        let told = ["flipped", "on", "the", edge];
        let words: Vec<&str> = texts(&sheets[0]).collect();
        assert!(words.windows(4).any(|words| words == told), "{words:?}");
    }
    let mut strip = joined(&sheets, backs, book.sideways);
    assert_eq!(
        strip.front.len(),
        book.panels,
        "panels of {}",
        book.folder.display()
    );
    // Folds point by turns towards the reader and away; the first one read points at him.
    assert_eq!(strip.kinds.len(), book.panels - 1);
    if book.right_to_left {
        strip.kinds.reverse();
    }
    for (at, kind) in strip.kinds.iter().enumerate() {
        let expected = if at % 2 == 0 {
            Kind::Mountain
        } else {
            Kind::Valley
        };
        assert_eq!(
            *kind,
            expected,
            "fold {} of {}",
            at + 1,
            book.folder.display()
        );
    }
    let mut panels = in_order(book, std::mem::take(&mut strip.front));
    match backs {
        Backs::None => assert!(strip.back.is_empty()),
        _ => assert_eq!(strip.back.len(), book.panels),
    }
    panels.extend(in_order(book, std::mem::take(&mut strip.back)));
    let alike = panels.iter().enumerate();
    let alike = alike.map(|(at, panel)| is_in_place(book, panel, at, &references));
    let least = alike.fold(1.0, f64::min);
    let name = book.folder.file_name().expect("a name").to_string_lossy();
    println!(
        "{name} on {paper}, backs {called}: {} panels in {} pieces, each like its layer by {least:.2} or more",
        panels.len(),
        strip.pieces
    );
    (strip, least)
}

const EVERY_WAY: [Backs; 3] = [Backs::Printed, Backs::Pasted, Backs::None];

#[test]
#[ignore = "needs poppler's pdftoppm, pdftotext and pdfinfo"]
fn dummies_of_every_length_fold_up_into_their_books() {
    let folder = temporary();
    for panels in [4, 7, 8, 17] {
        let book = Book::new(folder.path().join(panels.to_string()), panels);
        book.write();
        for backs in EVERY_WAY {
            let (strip, _) = every_panel_is_in_place(&book, "A4", backs);
            assert!(strip.pieces > 1);
        }
    }
}

#[test]
#[ignore = "needs poppler's pdftoppm, pdftotext and pdfinfo"]
fn dummies_turned_read_and_scaled_otherwise_fold_up_too() {
    let folder = temporary();
    let book = |name: &str, panels| Book::new(folder.path().join(name), panels);
    let small = Book {
        size: (105.0, 148.0),
        ..book("small", 5)
    };
    let foot = Book {
        sideways: false,
        ..book("head-to-foot", 7)
    };
    let rtl = Book {
        right_to_left: true,
        ..book("right-to-left", 8)
    };
    let both = Book {
        sideways: false,
        right_to_left: true,
        ..book("both", 8)
    };
    for (book, paper) in [(foot, "A4"), (rtl, "A4"), (both, "A4"), (small, "A6")] {
        book.write();
        for backs in EVERY_WAY {
            let (strip, _) = every_panel_is_in_place(&book, paper, backs);
            assert!(strip.pieces > 1);
        }
    }
    let one_sided = Book {
        both_sides: false,
        ..book("one-sided", 5)
    };
    one_sided.write();
    every_panel_is_in_place(&one_sided, "A5", Backs::Printed);
}
