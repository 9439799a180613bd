//! Sheets for the press as other programs see them: sound syntax, groups that can be shown and hidden, plates in a
//! mirror.

use std::fs;
use std::path::{Path, PathBuf};

use lopdf::{Document, Object};

use super::press::{for_press, sheets};
use super::says;
use super::support::{demo, small_plan, temporary, write_book};

/// Pixels to an inch.
const FINE: f64 = 72.0;

/// The demo's sheets, or its plates, in a folder of their own.
fn of_demo(to: &Path, more: &[&str]) -> Vec<PathBuf> {
    for_press(&demo(), to, |plan| plan);
    sheets(to, more)
}

#[test]
#[ignore = "needs qpdf"]
fn the_syntax_of_sheets_is_sound() {
    let temp = temporary();
    let (short, long) = (temp.path().join("short"), temp.path().join("long"));
    let plan = small_plan(70, "\n[rules]\neach-panel = \"stanza\"\n");
    write_book(&short, &plan, "One long, before a bend.\nTwo short.\n");
    for_press(&short, &long, |plan| {
        plan.replace("[sheets]", "[sheets]\nlongest-sheet = \"7000 mm\"")
    });
    let mut files = sheets(&long, &["--x4"]);
    for (folder, more) in [
        ("plain", &[][..]),
        ("x4", &["--x4"]),
        ("plates", &["--plate", "--mirrored"]),
    ] {
        files.extend(of_demo(&temp.path().join(folder), more));
    }
    assert!(files.len() >= 5, "{files:?}");
    for file in files {
        let said = says("qpdf", &["--check"], std::slice::from_ref(&file));
        let said = said.unwrap_or_else(|| panic!("{} is not sound", file.display()));
        let clean = "No syntax or stream encoding errors found";
        assert!(said.contains(clean), "{}: {said}", file.display());
    }
}

/// The first page as poppler draws it, in greys: its size in pixels, and the pixels from the top down.
struct Grey {
    width: usize,
    height: usize,
    pixels: Vec<u8>,
}

impl Grey {
    fn of(pdf: &Path) -> Grey {
        let temp = temporary();
        let out = temp.path().join("page");
        let fine = FINE.to_string();
        let arguments = ["-r", &fine, "-gray", "-singlefile"];
        says("pdftoppm", &arguments, &[pdf.to_path_buf(), out.clone()]).expect("it draws");
        // `P5`, width, height and 255, each before one white space; then the pixels.
        let bytes = fs::read(out.with_extension("pgm")).expect("a picture");
        let mut parts = bytes.splitn(4, u8::is_ascii_whitespace).skip(1);
        let mut number = || {
            let part = String::from_utf8_lossy(parts.next().expect("a number"));
            part.parse().expect("a number")
        };
        let (width, height) = (number(), number());
        let pixels = parts.next().expect("pixels")[4..].to_vec();
        assert_eq!(pixels.len(), width * height);
        Grey {
            width,
            height,
            pixels,
        }
    }

    /// The places of pixels darker than this, from the left and from the top.
    fn darker(&self, than: u8) -> Vec<(usize, usize)> {
        let places = self.pixels.iter().enumerate();
        let dark = places.filter(|(_, pixel)| **pixel < than);
        dark.map(|(place, _)| (place % self.width, place / self.width))
            .collect()
    }

    /// Whether a place lies in a box of the page, or no more than two pixels from it.
    fn in_box(&self, [left, bottom, right, top]: [f64; 4], (x, y): (usize, usize)) -> bool {
        let unit = FINE / 72.0;
        let (x, y) = (x as f64, (self.height - y) as f64);
        let across = left * unit - 2.0..right * unit + 2.0;
        let up = bottom * unit - 2.0..top * unit + 3.0;
        across.contains(&x) && up.contains(&y)
    }
}

/// A box of the first page.
fn box_of(pdf: &Path, key: &str) -> [f64; 4] {
    let document = Document::load(pdf).expect("a PDF");
    let page = document.page_iter().next().expect("a page");
    let page = document.get_dictionary(page).expect("a page");
    let sides = page.get(key.as_bytes()).and_then(Object::as_array);
    let sides = sides.expect("a box").iter();
    let sides: Vec<f64> = sides
        .filter_map(|side| side.as_float().ok().map(f64::from))
        .collect();
    sides.try_into().expect("four numbers")
}

/// Writes the file anew with these groups shown at first and no others.
fn showing(pdf: &Path, names: &[&str]) -> PathBuf {
    let mut document = Document::load(pdf).expect("a PDF");
    let is_shown = |id: &Object| {
        let id = id.as_reference().expect("a group");
        let group = document.get_dictionary(id).expect("a group");
        let name = group.get(b"Name").and_then(Object::as_str).expect("a name");
        names.iter().any(|shown| shown.as_bytes() == name)
    };
    let properties = document
        .catalog()
        .and_then(|catalog| catalog.get(b"OCProperties"));
    let properties = properties.and_then(Object::as_dict).expect("groups");
    let groups = properties.get(b"OCGs").and_then(Object::as_array);
    let (on, off): (Vec<Object>, Vec<Object>) =
        groups.expect("groups").iter().cloned().partition(is_shown);
    assert_eq!((on.len(), off.len()), (names.len(), 3 - names.len()));
    let catalog = document.catalog_mut().expect("a catalog");
    let properties = catalog
        .get_mut(b"OCProperties")
        .and_then(Object::as_dict_mut);
    let shown = properties.and_then(|properties| properties.get_mut(b"D"));
    let shown = shown.and_then(Object::as_dict_mut).expect("what is shown");
    shown.set("ON", Object::Array(on));
    shown.set("OFF", Object::Array(off));
    let path = pdf.with_extension("some.pdf");
    document.save(&path).expect("written");
    path
}

/// Art is seen within the bleed, words within the trim, marks outside it, each without the others; and nothing at all
/// where all are hidden.
#[test]
#[ignore = "needs poppler's pdftoppm"]
fn another_reader_shows_and_hides_the_groups() {
    for more in [&[][..], &["--x4"]] {
        let temp = temporary();
        let sheet = &of_demo(temp.path(), more)[0];
        let (bleed, trim) = (box_of(sheet, "BleedBox"), box_of(sheet, "TrimBox"));
        assert_eq!(Grey::of(&showing(sheet, &[])).darker(250), []);
        let all = Grey::of(&showing(sheet, &["Art", "Words", "Marks"]));
        assert_eq!(all.pixels, Grey::of(sheet).pixels, "all are shown at first");
        for group in ["Art", "Words", "Marks"] {
            let alone = Grey::of(&showing(sheet, &[group]));
            let dark = alone.darker(200);
            assert!(dark.len() > 100, "{group}: {} dark pixels", dark.len());
            let astray = dark.iter().filter(|place| match group {
                "Art" => !alone.in_box(bleed, **place),
                "Words" => !alone.in_box(trim, **place),
                // A line at the trim's corner begins outside it.
                _ => {
                    let [left, bottom, right, top] = trim;
                    alone.in_box([left + 6.0, bottom + 6.0, right - 6.0, top - 6.0], **place)
                }
            });
            assert_eq!(astray.count(), 0, "{group} {more:?}");
        }
    }
}

/// A mirrored plate is the plate seen in a mirror: within the trim, what is dark in one is dark in the other, to within
/// two pixels, for a page's edge falls within one.
#[test]
#[ignore = "needs poppler's pdftoppm"]
fn another_reader_shows_mirrored_plates_in_a_mirror() {
    let temp = temporary();
    let plain = of_demo(&temp.path().join("plain"), &["--plate"]);
    let mirrored = of_demo(&temp.path().join("mirrored"), &["--plate", "--mirrored"]);
    assert_eq!(plain.len(), mirrored.len());
    for (plain, mirrored) in plain.iter().zip(&mirrored) {
        let trims = (box_of(plain, "TrimBox"), box_of(mirrored, "TrimBox"));
        let words = |pdf: &Path, trim| {
            let page = Grey::of(pdf);
            let dark = page.darker(128).into_iter();
            let within: Vec<_> = dark.filter(|place| page.in_box(trim, *place)).collect();
            (page, within)
        };
        let (one, words_of_one) = words(plain, trims.0);
        let (other, words_of_other) = words(mirrored, trims.1);
        assert_eq!((one.width, one.height), (other.width, other.height));
        assert!(
            words_of_one.len() > 1000,
            "{} dark pixels",
            words_of_one.len()
        );
        let missing = |words: &[(usize, usize)], on: &Grey, turned: bool| {
            let is_missing = |(x, y): &&(usize, usize)| {
                let x = if turned { on.width - 1 - x } else { *x };
                let rows = y.saturating_sub(2)..(y + 3).min(on.height);
                let across = x.saturating_sub(2)..(x + 3).min(on.width);
                let mut near = rows.flat_map(|y| across.clone().map(move |x| y * on.width + x));
                !near.any(|place| on.pixels[place] < 170)
            };
            words.iter().filter(is_missing).count()
        };
        // Thin strokes may fall between pixels on one of the two.
        for (words, on) in [(&words_of_one, &other), (&words_of_other, &one)] {
            let missing = missing(words, on, true);
            assert!(missing * 200 < words.len(), "{missing} of {}", words.len());
        }
        // Unturned, they are not the same.
        assert!(missing(&words_of_one, &other, false) > 100);
    }
}
