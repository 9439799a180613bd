//! What programs that we did not write make of these files. A missing tool is a failure, so that these tests run only
//! when they are asked for.

use std::fs;
use std::path::Path;
use std::process::Command;

use lopdf::Object;
use tempfile::tempdir;

use super::sample::{document, file, page, panel};
use super::x4::intent;
use super::*;
use crate::units::Length;

/// Runs a tool and gives what it says, and whether it is content.
fn run(tool: &str, arguments: &[&str], file: &Path) -> (String, bool) {
    let ran = Command::new(tool).args(arguments).arg(file).output();
    let ran = ran.unwrap_or_else(|error| panic!("{tool}: {error}"));
    let said = [ran.stdout, ran.stderr].concat();
    (
        String::from_utf8_lossy(&said).into_owned(),
        ran.status.success(),
    )
}

#[test]
#[ignore = "needs qpdf"]
fn the_syntax_of_sheets_is_sound() {
    let intent = intent();
    let panel = panel();
    let (mut long, mut mirrored) = (page(&panel), page(&panel));
    long.size.0 = Length::mm(6000);
    mirrored.mirrored = true;
    let written = |page| write(&document(vec![page], Claims::Plain)).expect("written");
    let temp = tempdir().expect("a folder");
    for (what, pdf) in [
        ("groups", file(Claims::Accessible)),
        ("long", written(long)),
        ("mirrored", written(mirrored)),
        ("x4", file(Claims::X4(&intent))),
    ] {
        let path = temp.path().join(format!("{what}.pdf"));
        fs::write(&path, pdf).expect("written");
        let (said, sound) = run("qpdf", &["--check"], &path);
        let clean = "No syntax or stream encoding errors found";
        assert!(sound && said.contains(clean), "{what}: {said}");
    }
}

/// A page as poppler draws it, in greys: its width in pixels, and the pixels from the top down.
struct Grey {
    width: usize,
    pixels: Vec<u8>,
}

/// Pixels to a millimetre.
const FINE: usize = 4;

impl Grey {
    fn of(pdf: &[u8]) -> Grey {
        let temp = tempdir().expect("a folder");
        let path = temp.path().join("page.pdf");
        fs::write(&path, pdf).expect("written");
        let resolution = (FINE as f64 * 25.4).to_string();
        let arguments = ["-r", &resolution, "-gray", "-singlefile"];
        let out = temp.path().join("page");
        let mut call = Command::new("pdftoppm");
        let ran = call.args(arguments).arg(&path).arg(&out).status();
        assert!(ran.expect("pdftoppm runs").success());
        // `P5`, width, height and 255, each before one white space; then the pixels.
        let bytes = fs::read(out.with_extension("pgm")).expect("a picture");
        let mut parts = bytes.splitn(4, u8::is_ascii_whitespace);
        let mut number = || {
            let part = parts.next().expect("a part of the header");
            String::from_utf8_lossy(part).parse::<usize>().unwrap_or(0)
        };
        let (_, width, _height) = (number(), number(), number());
        let rest = parts.next().expect("pixels");
        Grey {
            width,
            pixels: rest[4..].to_vec(),
        }
    }

    /// Whether anything is darker than paper within a rectangle of the page: left, bottom, width, height in mm.
    fn inked(&self, [left, bottom, width, height]: [usize; 4]) -> bool {
        let high = self.pixels.len() / self.width;
        let rows = high - (bottom + height) * FINE..high - bottom * FINE;
        let mut rows = rows.map(|row| row * self.width);
        rows.any(|row| {
            let row = &self.pixels[row + left * FINE..row + (left + width) * FINE];
            row.iter().any(|pixel| *pixel < 235)
        })
    }

    /// The places of dark pixels, from the left and from the top.
    fn dark(&self) -> Vec<(usize, usize)> {
        let places = self.pixels.iter().enumerate();
        let dark = places.filter(|(_, pixel)| **pixel < 128);
        dark.map(|(place, _)| (place % self.width, place / self.width))
            .collect()
    }
}

/// What each group has on the page, where nothing else is: part of the tint, a line of words, a mark.
const OWN: [(&str, [usize; 4]); 3] = [
    ("Art", [90, 52, 10, 16]),
    ("Words", [20, 80, 40, 8]),
    ("Marks", [103, 3, 4, 4]),
];

/// The file with one group hidden at first.
fn without(pdf: &[u8], hidden: &str) -> Vec<u8> {
    let mut document = lopdf::Document::load_mem(pdf).expect("a PDF");
    let named = document.objects.iter().find(|(_, object)| {
        let name = object.as_dict().and_then(|dict| dict.get(b"Name"));
        let name = name.and_then(Object::as_str);
        name.is_ok_and(|name| name == hidden.as_bytes())
    });
    let id = Object::Reference(*named.expect("the group").0);
    let catalog = document.catalog_mut().expect("a catalog");
    let properties = catalog
        .get_mut(b"OCProperties")
        .and_then(Object::as_dict_mut);
    let shown = properties.and_then(|properties| properties.get_mut(b"D"));
    let shown = shown.and_then(Object::as_dict_mut).expect("what is shown");
    let on = shown.get_mut(b"ON").and_then(Object::as_array_mut);
    on.expect("groups").retain(|group| *group != id);
    shown.set("OFF", Object::Array(vec![id]));
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).expect("written");
    bytes
}

/// Each group is seen until it is hidden, and then the others still are. What is clipped is not seen at all.
#[test]
#[ignore = "needs poppler's pdftoppm"]
fn another_reader_shows_and_hides_the_groups() {
    let intent = intent();
    for claims in [Claims::Plain, Claims::X4(&intent)] {
        let pdf = file(claims);
        let all = Grey::of(&pdf);
        assert!(OWN.iter().all(|(_, own)| all.inked(*own)));
        assert!(!all.inked([4, 48, 8, 24]) && !all.inked([104, 48, 10, 24]));
        for (hidden, _) in OWN {
            let some = Grey::of(&without(&pdf, hidden));
            for (group, own) in OWN {
                assert_eq!(some.inked(own), group != hidden, "{group} without {hidden}");
            }
        }
    }
}

/// The same page seen in a mirror: what is dark in one is dark in the other, to within two pixels, for a page's edge
/// falls within one.
#[test]
#[ignore = "needs poppler's pdftoppm"]
fn another_reader_shows_a_mirrored_page_in_a_mirror() {
    let panel = panel();
    let mut mirrored = page(&panel);
    mirrored.mirrored = true;
    let mirrored = write(&document(vec![mirrored], Claims::Plain)).expect("written");
    let (plain, mut mirrored) = (Grey::of(&file(Claims::Plain)), Grey::of(&mirrored));
    assert_eq!(plain.pixels.len(), mirrored.pixels.len());
    let alone = |one: &Grey, other: &Grey| {
        let dark = one.dark();
        let near = |(x, y): &(usize, usize)| {
            let rows = y.saturating_sub(2)..(y + 3).min(other.pixels.len() / other.width);
            let columns = x.saturating_sub(2)..(x + 3).min(other.width);
            let mut places = rows.flat_map(|y| columns.clone().map(move |x| y * other.width + x));
            places.any(|place| other.pixels[place] < 128)
        };
        (dark.iter().filter(|place| !near(place)).count(), dark.len())
    };
    // The words of one are not those of the other.
    assert!(alone(&plain, &mirrored).0 > 500);
    let width = mirrored.width;
    mirrored.pixels.chunks_mut(width).for_each(<[u8]>::reverse);
    let (differ, inked) = alone(&plain, &mirrored);
    assert!(
        differ == 0 && inked > 1000,
        "{differ} of {inked} dark pixels"
    );
    assert_eq!(alone(&mirrored, &plain).0, 0);
}
