//! What the writer makes of every kind of drawing, read with another parser.

mod drawn;
mod sample;

use drawn::{first_page, numbers, operations, painted};
use lopdf::{Dictionary, Object};
use sample::{WORDS, document, file, page, panel};

use super::*;
use crate::names::Length;
use crate::readback::{self, folded};

fn words_of(pdf: &[u8]) -> String {
    let read = readback::words(pdf).expect("it reads back");
    let lines = read.pages.iter().flat_map(|page| &page.lines);
    let lines: Vec<&str> = lines.map(|line| line.text.as_str()).collect();
    folded(&lines.join("\n"))
}

fn numbers_of(dict: &Dictionary, key: &[u8]) -> Vec<f64> {
    numbers(dict.get(key).and_then(Object::as_array).expect("numbers"))
}

fn near(one: f64, other: f64) -> bool {
    (one - other).abs() < 0.01
}

/// Black words print over what lies below and others knock it out, whatever was drawn before them and whatever they
/// are within; marks on all plates leave nothing of their colour behind.
#[test]
fn every_drawing_has_its_own_colour() {
    let pdf = file(Claims::Plain);
    let painted = painted(&pdf);
    let told: Vec<String> = painted
        .iter()
        .map(|one| {
            let colour = &one.colour;
            let numbers: Vec<String> = colour.operands.iter().map(i64::to_string).collect();
            let parts = [
                one.operator.trim_end_matches('J').to_string(),
                one.within.join("/"),
                if one.clipped { "clipped" } else { "whole" }.to_string(),
                colour.space.clone(),
                format!("{} {}", numbers.join(" "), colour.operator),
                colour.state.clone(),
            ];
            parts.join("|")
        })
        .collect();
    let spot = "1000 scn|Gk";
    let expected = [
        format!("f|Art/Artifact|clipped|S0|{spot}"),
        "S|Art/Artifact|clipped||0 0 0 1000 K|Go".to_string(),
        "T|Words/Span|clipped||0 0 0 1000 k|Go".to_string(),
        "T|Words/Span|clipped||800 100 100 rg|Gk".to_string(),
        "T|Words/Span|clipped||0 0 0 1000 k|Go".to_string(),
        "T|Marks/Artifact|whole||0 0 0 1000 k|Go".to_string(),
        "S|Marks/Artifact|whole|All|1000 SCN|Go".to_string(),
        "s|Marks/Artifact|whole|All|1000 SCN|Go".to_string(),
        "f|Marks/Artifact|whole|All|1000 scn|Go".to_string(),
        "S|Marks/Artifact|whole|S0|1000 SCN|Gk".to_string(),
    ];
    assert_eq!(told, expected);
    assert_eq!(words_of(&pdf), WORDS.join(" "));
}

/// The colour of all plates is a Separation named All (ISO 32000-1, 8.6.6.4), which a reader without plates shows as
/// all four of its own: black, and white where there is none.
#[test]
fn marks_are_on_every_plate() {
    let (document, page) = first_page(&file(Claims::Plain));
    let get = |object: &Object| document.dereference(object).expect("there").1.clone();
    let dict = |object: Object| object.as_dict().expect("a dictionary").clone();
    let resources = dict(get(page.get(b"Resources").expect("resources")));
    let spaces = dict(get(resources.get(b"ColorSpace").expect("spaces")));
    let space = get(spaces.get(b"All").expect("all plates"));
    let parts = space.as_array().expect("an array");
    assert_eq!(parts[0].as_name().ok(), Some(&b"Separation"[..]));
    assert_eq!(parts[1].as_name().ok(), Some(&b"All"[..]));
    assert_eq!(parts[2].as_name().ok(), Some(&b"DeviceCMYK"[..]));
    let tint = dict(get(&parts[3]));
    assert_eq!(
        tint.get(b"FunctionType").and_then(Object::as_i64).ok(),
        Some(2)
    );
    assert_eq!(numbers_of(&tint, b"C0"), [0.0; 4]);
    assert_eq!(numbers_of(&tint, b"C1"), [1.0; 4]);
    assert_eq!(numbers_of(&tint, b"Domain"), [0.0, 1.0]);
}

/// Groups are listed once for the whole file, those of no drawing not at all, and shown unless the reader hides them.
#[test]
fn groups_are_those_that_are_used() {
    let panel = panel();
    let mut first = page(&panel);
    let second = page(&panel);
    // The first page keeps only what is of the art.
    first.drawings.truncate(5);
    let groups_of = |pages: Vec<Page<'_>>| {
        let pdf = write(&document(pages, Claims::Accessible)).expect("written");
        let document = lopdf::Document::load_mem(&pdf).expect("a PDF");
        let catalog = document.catalog().expect("a catalog");
        let properties = catalog.get(b"OCProperties").and_then(Object::as_dict);
        let properties = properties.expect("groups").clone();
        let shown = properties.get(b"D").and_then(Object::as_dict);
        let shown = shown.expect("what is shown").clone();
        let all = properties.get(b"OCGs").expect("groups").clone();
        assert_eq!(shown.get(b"Order").ok(), Some(&all));
        assert_eq!(shown.get(b"ON").ok(), Some(&all));
        assert!(shown.has(b"Name") && !shown.has(b"AS") && !shown.has(b"OFF"));
        let group = |id: &Object| {
            let group = document.dereference(id).expect("there").1.as_dict();
            let group = group.expect("a group");
            assert_eq!(
                group.get(b"Type").and_then(Object::as_name).ok(),
                Some(&b"OCG"[..])
            );
            let name = group.get(b"Name").and_then(Object::as_str).expect("a name");
            String::from_utf8_lossy(name).into_owned()
        };
        let all = all.as_array().expect("groups").iter();
        all.map(group).collect::<Vec<String>>()
    };
    assert_eq!(groups_of(vec![first, second]), ["Art", "Words", "Marks"]);
    let mut marks = page(&panel);
    marks.drawings.drain(..10);
    assert_eq!(groups_of(vec![marks]), ["Marks"]);
}

/// PDF's numbers end at 14,400 units (ISO 32000-1, Annex C): a strip of 6 m needs units of two points, and is drawn
/// where and as large as a short one.
#[test]
fn a_long_strip_is_drawn_in_larger_units() {
    let panel = panel();
    let (mut short, mut long) = (page(&panel), page(&panel));
    short.size.0 = Length::mm(5080);
    long.size.0 = Length::mm(6000);
    let written = |page| write(&document(vec![page], Claims::Plain)).expect("written");
    let (short, long) = (written(short), written(long));
    let (_, page) = first_page(&short);
    assert!(!page.has(b"UserUnit"));
    assert!(near(numbers_of(&page, b"MediaBox")[2], 14_400.0));
    let (_, page) = first_page(&long);
    let unit = page
        .get(b"UserUnit")
        .and_then(Object::as_float)
        .expect("a unit");
    assert_eq!(unit, 2.0);
    assert!(near(
        numbers_of(&page, b"MediaBox")[2] * 2.0,
        6000.0 / 25.4 * 72.0
    ));
    // Every length on the page is half as many units.
    let (short, long) = (operations(&short), operations(&long));
    assert_eq!(short.len(), long.len());
    let mut compared = 0;
    for (short, long) in short.iter().zip(&long) {
        assert_eq!(short.operator, long.operator);
        let whole = matches!(
            short.operator.as_str(),
            "re" | "m" | "l" | "c" | "w" | "Td" | "Tm"
        );
        if !whole {
            continue;
        }
        // A text matrix says how far it stretches in its first four numbers, which are no lengths.
        let from = if short.operator == "Tm" { 4 } else { 0 };
        let (short, long) = (numbers(&short.operands), numbers(&long.operands));
        for (one, other) in short[from..].iter().zip(&long[from..]) {
            assert!(near(*one, *other * 2.0), "{one} {other}");
            compared += 1;
        }
    }
    assert!(compared > 40, "only {compared} numbers");
    let size = |operations: &[lopdf::content::Operation]| {
        let font = operations.iter().find(|one| one.operator == "Tf");
        numbers(&font.expect("a font").operands)[0]
    };
    assert_eq!((size(&short), size(&long)), (11.0, 5.5));
    let dashes = |operations: &[lopdf::content::Operation]| {
        let dashed = operations.iter().filter(|one| one.operator == "d");
        let arrays = dashed.filter_map(|one| one.operands.first()?.as_array().ok());
        arrays
            .flat_map(|array| numbers(array))
            .collect::<Vec<f64>>()
    };
    assert_eq!(
        (dashes(&short), dashes(&long)),
        (vec![2.0, 1.0], vec![1.0, 0.5])
    );
}

/// What stands 13 mm from the left stands 13 mm from the right: drawings, and the boxes with them.
#[test]
fn a_mirrored_page_is_turned_about_whole() {
    let panel = panel();
    let mut page = page(&panel);
    page.size.0 = Length::mm(200);
    page.mirrored = true;
    let pdf = write(&document(vec![page], Claims::Plain)).expect("written");
    let (_, page) = first_page(&pdf);
    let mm = |number: f64| number / 25.4 * 72.0;
    let trim = numbers_of(&page, b"TrimBox");
    let expected = [mm(97.0), mm(13.0), mm(187.0), mm(103.0)];
    assert!(
        trim.iter().zip(expected).all(|(a, b)| near(*a, b)),
        "{trim:?}"
    );
    let operations = operations(&pdf);
    let turned = numbers(&operations[0].operands);
    assert_eq!(operations[0].operator, "cm");
    assert_eq!(turned[..4], [-1.0, 0.0, 0.0, 1.0]);
    assert!(near(turned[4], mm(200.0)));
    assert_eq!(words_of(&pdf), WORDS.join(" "));
}

/// Which edge a printer turns the paper about is a key of PDF 1.7; that it must not scale is one of 1.6.
#[test]
fn the_print_dialogue_is_told() {
    let intent = Intent {
        profile: vec![0; 128],
        channels: 4,
        condition: "none".to_string(),
        info: None,
    };
    for (claims, duplex, edge) in [
        (
            Claims::Accessible,
            Duplex::LongEdge,
            Some("DuplexFlipLongEdge"),
        ),
        (
            Claims::Plain,
            Duplex::ShortEdge,
            Some("DuplexFlipShortEdge"),
        ),
        (Claims::X4(&intent), Duplex::ShortEdge, None),
    ] {
        let panel = panel();
        let mut document = document(vec![page(&panel)], claims);
        document.printing = Some(Printing {
            duplex: Some(duplex),
        });
        let pdf = write(&document).expect("written");
        let document = lopdf::Document::load_mem(&pdf).expect("a PDF");
        let catalog = document.catalog().expect("a catalog");
        let preferences = catalog.get(b"ViewerPreferences").and_then(Object::as_dict);
        let preferences = preferences.expect("preferences");
        let name = |key: &[u8]| {
            let name = preferences.get(key).and_then(Object::as_name).ok()?;
            Some(String::from_utf8_lossy(name).into_owned())
        };
        assert_eq!(name(b"PrintScaling").as_deref(), Some("None"));
        assert_eq!(name(b"Duplex").as_deref(), edge);
    }
}

/// PDF/X-4 asks every page where it is cut: one that is not cut is whole.
#[test]
fn a_page_for_the_press_is_cut_somewhere() {
    let intent = Intent {
        profile: vec![0; 128],
        channels: 4,
        condition: "none".to_string(),
        info: None,
    };
    let panel = panel();
    let uncut = |claims| {
        let mut page = page(&panel);
        page.boxes = None;
        let pdf = write(&document(vec![page], claims)).expect("written");
        first_page(&pdf).1
    };
    assert!(!uncut(Claims::Plain).has(b"TrimBox"));
    let page = uncut(Claims::X4(&intent));
    let media = numbers_of(&page, b"MediaBox");
    assert_eq!(numbers_of(&page, b"TrimBox"), media);
    assert_eq!(numbers_of(&page, b"BleedBox"), media);
}
