//! Joined sheets as poppler draws them, laid edge to edge, show what the strip shows in one sheet; and words stand on sheets
//! exactly where they stand on their layers.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

use super::says;
use super::support::{copy_of_demo, run_in, temporary};

/// Pixels to a millimetre: 127 to the inch.
const FINE: usize = 5;

/// A grey page, white 255, from the top down.
struct Grey {
    width: usize,
    pixels: Vec<u8>,
}

fn drawn(pdf: &Path, page: usize) -> Grey {
    let temp = temporary();
    let out = temp.path().join("page");
    let page = page.to_string();
    let arguments = [
        "-r",
        "127",
        "-gray",
        "-singlefile",
        "-f",
        &page,
        "-l",
        &page,
    ];
    says("pdftoppm", &arguments, &[pdf.to_path_buf(), out.clone()]).expect("it draws");
    // `P5`, width, height and 255, each before one white space; then the pixels.
    let bytes = fs::read(out.with_extension("pgm")).expect("a picture");
    let mut parts = bytes.splitn(4, u8::is_ascii_whitespace).skip(1);
    let width = String::from_utf8_lossy(parts.next().expect("a width"));
    let width = width.parse().expect("a number");
    parts.next().expect("a height");
    let pixels = parts.next().expect("pixels")[4..].to_vec();
    Grey { width, pixels }
}

/// Where the page is trimmed, as poppler tells it: left, top, right, foot in millimetres from the top-left corner.
fn trim(pdf: &Path, page: usize) -> [f64; 4] {
    let page = page.to_string();
    let arguments = ["-box", "-f", &page, "-l", &page];
    let said = says("pdfinfo", &arguments, &[pdf.to_path_buf()]).expect("it tells");
    // `Page    1 TrimBox:     8.50 …`
    let numbers = |name: &str| -> Vec<f64> {
        let mut lines = said.lines();
        let line = lines
            .find_map(|line| line.split_once(name))
            .expect("a box")
            .1;
        let numbers = line.split_whitespace().filter_map(|word| word.parse().ok());
        numbers.map(|points: f64| points * 25.4 / 72.0).collect()
    };
    let (media, trim) = (numbers("MediaBox:"), numbers("TrimBox:"));
    [trim[0], media[3] - trim[3], trim[2], media[3] - trim[1]]
}

/// Squares of a millimetre, each the mean of its pixels: `wide` of them from a place on the page, `high` rows.
fn squares(grey: &Grey, (left, top): (f64, f64), wide: usize, high: usize) -> Vec<Vec<u8>> {
    let at = |mm: f64| (mm * FINE as f64).round() as usize;
    let (left, top) = (at(left), at(top));
    let square = |x: usize, y: usize| {
        let rows = (0..FINE).map(|row| (top + y * FINE + row) * grey.width + left + x * FINE);
        let sum: usize = rows
            .flat_map(|from| &grey.pixels[from..from + FINE])
            .map(|&light| usize::from(light))
            .sum();
        (sum / (FINE * FINE)) as u8
    };
    (0..wide)
        .map(|x| (0..high).map(|y| square(x, y)).collect())
        .collect()
}

/// The strip as its sheets show it, front and back, column by column of a millimetre from the left as that side is seen.
fn shown(book: &Path) -> [Vec<Vec<u8>>; 2] {
    let said = run_in(book, &["strip", "--json"]).done();
    let said: Value = serde_json::from_str(&said).expect("JSON");
    let sheets = said["sheets"].as_array().expect("sheets");
    let number = |value: &Value| value.as_f64().expect("a number");
    let (mut front, mut back) = (Vec::new(), Vec::new());
    for sheet in sheets {
        let digits = sheets.len().to_string().len();
        let name = format!(
            "out/strip/sheet-{:0digits$}.pdf",
            sheet["sheet"].as_u64().expect("a number")
        );
        let pdf = book.join(name);
        let [left, top, right, foot] = trim(&pdf, 1);
        let high = (foot - top).round() as usize;
        let tabs = [&sheet["tabs_mm"][0], &sheet["tabs_mm"][1]].map(number);
        let covered = [&sheet["covered_mm"][0], &sheet["covered_mm"][1]].map(number);
        // On the front a sheet is seen without its tabs, on the back with them, but for what others cover.
        let wide = (right - left - tabs[0] - tabs[1]).round() as usize;
        front.extend(squares(&drawn(&pdf, 1), (left + tabs[0], top), wide, high));
        let wide = (right - left - covered[0] - covered[1]).round() as usize;
        let page = drawn(&pdf, 2);
        // Seen from the back, the sheet's right end lies at the left.
        let width = page.width as f64 / FINE as f64;
        let from = (width - right) + covered[1];
        back.push(squares(&page, (from, top), wide, high));
    }
    let back = back.into_iter().rev().flatten().collect();
    [front, back]
}

fn book(to: &Path, sheets: &str) -> PathBuf {
    let book = to.join("book");
    copy_of_demo(&book);
    let plan = fs::read_to_string(book.join("concertina.toml")).expect("a plan");
    let from = plan
        .find("longest-sheet")
        .expect("the demo says how long sheets are");
    let end = from + plan[from..].find('\n').expect("a line");
    let plan = format!("{}{sheets}{}", &plan[..from], &plan[end..]);
    fs::write(book.join("concertina.toml"), plan).expect("written");
    book
}

#[test]
#[ignore = "needs poppler"]
fn joined_sheets_show_the_strip() {
    let temp = temporary();
    let whole = shown(&book(&temp.path().join("whole"), "spare = \"0 mm\""));
    assert_eq!(whole[0].len(), 1260);
    // Art and words are there at all.
    let dark = |side: &Vec<Vec<u8>>| side.iter().flatten().filter(|&&light| light < 128).count();
    assert!(whole.iter().all(|side| dark(side) > 4000));
    for sheets in [
        "longest-sheet = \"700 mm\"",
        "size = \"SRA3\"",
        "size = \"SRA2\"\ntab = \"14 mm\"\nunder-run = \"4 mm\"",
        "size = \"SRA3\"\njoin = \"hinge\"",
        "size = \"SRA2\"\njoin = \"doubled\"",
    ] {
        let joined = shown(&book(
            &temp.path().join(sheets.replace(['\n', '"', ' '], "")),
            sheets,
        ));
        for (side, (whole, joined)) in ["front", "back"].iter().zip(whole.iter().zip(&joined)) {
            assert_eq!(whole.len(), joined.len(), "{sheets}: {side}");
            let off = whole.iter().zip(joined).map(|(one, other)| {
                let off = one.iter().zip(other);
                let off = off.map(|(a, b)| usize::from(a.abs_diff(*b)));
                off.sum::<usize>() / one.len()
            });
            let off: Vec<usize> = off.collect();
            // Pages may lie half a pixel aside of each other, and the cuts of a print with them; a wrong
            // piece of it, or none, is off by more than a hundred.
            for (x, near) in off.windows(4).enumerate() {
                let mean = near.iter().sum::<usize>() / near.len();
                assert!(
                    mean <= 48,
                    "{sheets}: {side}, {x} mm from the left: off by {mean} ({near:?})"
                );
            }
        }
    }
}

/// A word, and where it begins: from the left, and from the top.
type Word = (String, f64, f64);

/// Words with their places as poppler reads them, in points from the page's top-left corner.
fn words(pdf: &Path, page: usize) -> Vec<Word> {
    let page = page.to_string();
    let said = says(
        "pdftotext",
        &["-bbox", "-f", &page, "-l", &page],
        &[pdf.to_path_buf(), PathBuf::from("-")],
    );
    let said = said.expect("it reads");
    let value = |line: &str, name: &str| -> f64 {
        let from = line.find(&format!("{name}=\"")).expect("a number") + name.len() + 2;
        let end = from + line[from..].find('"').expect("its end");
        line[from..end].parse().expect("a number")
    };
    let lines = said
        .lines()
        .filter(|line| line.trim_start().starts_with("<word"));
    lines
        .map(|line| {
            let from = line.find('>').expect("a word") + 1;
            let end = line.rfind("</word>").expect("its end");
            (
                line[from..end].to_string(),
                value(line, "xMin"),
                value(line, "yMin"),
            )
        })
        .collect()
}

#[test]
#[ignore = "needs poppler"]
fn words_stand_on_sheets_as_on_their_layers() {
    let temp = temporary();
    let book = book(temp.path(), "size = \"SRA2\"");
    run_in(&book, &["layers", "--quiet"]).done();
    let said = run_in(&book, &["strip", "--words-only", "--json"]).done();
    let said: Value = serde_json::from_str(&said).expect("JSON");
    let number_of = |value: &Value| value.as_f64().expect("a number");
    let mut compared = 0;
    for sheet in said["sheets"].as_array().expect("sheets") {
        let pdf = book.join(format!("out/strip/words-sheet-{}.pdf", sheet["sheet"]));
        let panel = |at: usize| -> usize {
            let name = sheet["ends"][at].as_str().expect("a name");
            name.trim_start_matches("front ").parse().expect("a number")
        };
        let (first, last) = (panel(0), panel(1));
        for (side, page, numbers, tab) in [
            ("front", 1, first..=last, &sheet["tabs_mm"][0]),
            // Turned sideways: the last of twelve panels lies before the first.
            ("back", 2, 13 - last..=13 - first, &sheet["tabs_mm"][1]),
        ] {
            let on_sheet = words(&pdf, page);
            let [left, top, ..] = trim(&pdf, page);
            for (place, number) in numbers.enumerate() {
                let layer = book.join(format!("out/layers/{side}-{number:02}.pdf"));
                if !layer.exists() {
                    continue;
                }
                let [own_left, own_top, ..] = trim(&layer, 1);
                let x = left + number_of(tab) + 105.0 * place as f64 - own_left;
                let (x, y) = (x / 25.4 * 72.0, (top - own_top) / 25.4 * 72.0);
                for word in words(&layer, 1) {
                    let there = on_sheet.iter().any(|other| {
                        let off = ((other.1 - word.1 - x).abs(), (other.2 - word.2 - y).abs());
                        other.0 == word.0 && off.0 < 0.02 && off.1 < 0.02
                    });
                    assert!(there, "{side} {number}: {word:?} is not at its place");
                    compared += 1;
                }
            }
        }
    }
    let all: usize = fs::read_dir(book.join("out/layers"))
        .expect("layers")
        .map(|entry| entry.expect("a layer").path())
        .filter(|path| path.to_string_lossy().contains('-'))
        .map(|path| words(&path, 1).len())
        .sum();
    assert!(all > 1000);
    assert_eq!(compared, all);
}
