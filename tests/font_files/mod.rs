//! Font files that authors bring: what is said of those that cannot be used, and that no damaged one makes
//! the program panic.

mod bounds;
mod damage;

use std::fs;
use std::path::Path;

use damage::{Dice, tables};
use tempfile::TempDir;
use versefold::assets::Assets;
use versefold::names::{Faults, HalfLines, Ink, Length, LinesRun, Vertical};
use versefold::plan::{
    Align, Caesura, CapitalsStyle, Hang, Margins, OfLevels, Opening, TextStyle, Turnover,
    TypefaceChoice, TypefaceNamed,
};
use versefold::setting::ShapedLine;
use versefold::typeface::{Emphasis, FontLibrary, FontStyle, Shaper, Typeface};

const LINE: &str = "“AVA To Tyre,” fi ffl — Łódź е̄ Ж 1798 siglo XVI";

fn font(path: &str) -> Vec<u8> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fonts-open");
    fs::read(folder.join(path)).unwrap()
}

fn alegreya() -> Vec<u8> {
    font("alegreya/Alegreya-Regular.ttf")
}

fn style(file: &str) -> TextStyle {
    let margin = Length::mm(5);
    TextStyle {
        typeface: TypefaceChoice {
            named: TypefaceNamed::File(file.to_string()),
            place: None,
        },
        fallback: Vec::new(),
        lines_run: LinesRun::Across,
        features: Vec::new(),
        size: Length::pt(10),
        leading: Length::pt(14),
        align: Align::Left,
        vertical: Vertical::Head,
        margins: Margins {
            head: margin,
            foot: margin,
            left: margin,
            right: margin,
            by_folds: false,
        },
        stanza_space: HalfLines::LINE,
        paragraph_indent: margin,
        hyphenate: None,
        exceptions: Vec::new(),
        turnover: Turnover::Indent(margin),
        hang: Hang::None,
        caesura: Caesura::AsWritten,
        prose_hang: Hang::None,
        opening: Opening::None,
        capitals: CapitalsStyle::AsWritten,
        headings: OfLevels::default(),
        title_vertical: Vertical::OpticalCentre,
        ink: Ink::Black,
    }
}

/// A book's folder with one font file in it.
fn folder(data: &[u8]) -> TempDir {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("own.ttf"), data).unwrap();
    folder
}

fn read(data: &[u8]) -> Result<Typeface, Faults> {
    FontLibrary::new(Assets::folder(folder(data).path())).typeface(&style("own.ttf"))
}

/// The one fault of a file: its sentence, then what is allowed or helps.
fn told(result: Result<Typeface, Faults>) -> (String, String) {
    let faults = result.expect_err("the file is taken for a good font");
    assert_eq!(faults.len(), 1, "{faults:?}");
    assert_eq!(faults[0].word, "font");
    let more = faults[0].allowed.clone().or(faults[0].help.clone());
    (faults[0].what.clone(), more.unwrap())
}

fn assert_told(result: Result<Typeface, Faults>, what: &str, more: &str) {
    assert_eq!(told(result), (what.to_string(), more.to_string()));
}

/// Shapes a line and draws its glyphs and others; returns how many glyphs and pieces of outlines there were.
fn use_font(typeface: &Typeface) -> (usize, usize) {
    let face = typeface.main.face(Emphasis::Plain);
    let shaper = Shaper::new(typeface, "en");
    let voice = FontStyle::plain(Length::pt(10));
    let line = ShapedLine::added(LINE, voice);
    let mut glyphs = Vec::new();
    for word in line.set(&shaper, 0..LINE.len()).iter() {
        for segment in &word.shaped.segments {
            glyphs.extend(segment.glyphs.iter().map(|glyph| glyph.id));
        }
    }
    let width = line.width(&shaper, 0..LINE.len());
    assert!(width.units().abs() < i64::MAX / 2);
    let some = glyphs.iter().copied().chain((0..4000).step_by(31));
    let pieces = some
        .map(|glyph| face.outline(glyph).len() + usize::from(face.advance(glyph) > 0))
        .sum();
    (glyphs.len(), pieces)
}

#[test]
fn a_good_file_is_used() {
    let (glyphs, pieces) = use_font(&read(&alegreya()).unwrap());
    assert!(glyphs > 30, "{glyphs} glyphs");
    assert!(pieces > 1000, "{pieces} pieces of outlines");
}

#[test]
fn a_missing_file_and_a_folder() {
    let book = TempDir::new().unwrap();
    fs::create_dir(book.path().join("own.ttf")).unwrap();
    let fonts = FontLibrary::new(Assets::folder(book.path()));
    let more = "a .ttf or .otf file; the path counts from the book's folder";
    assert_told(
        fonts.typeface(&style("fonts/none.ttf")),
        "the font file fonts/none.ttf cannot be read: there is no such file",
        more,
    );
    assert_told(
        fonts.typeface(&style("own.ttf")),
        "the font file own.ttf cannot be read: it is a folder",
        more,
    );
}

/// It may never end.
#[cfg(unix)]
#[test]
fn a_device_is_not_read() {
    assert_told(
        FontLibrary::new(Assets::folder(".")).typeface(&style("/dev/zero")),
        "the font file /dev/zero cannot be read: it is not an ordinary file",
        "a .ttf or .otf file; the path counts from the book's folder",
    );
}

#[test]
fn a_file_that_is_no_font() {
    let more = "a TrueType or OpenType font (.ttf, .otf)";
    for data in [
        &b"Of Man's first disobedience, and the fruit\n"[..],
        b"",
        b"\0\x01\0\0",
        b"%PDF-1.7\n",
        &[0; 4096],
    ] {
        assert_told(read(data), "own.ttf is no font file", more);
    }
}

#[test]
fn every_missing_font_of_a_family_is_told_at_once() {
    let book = folder(&alegreya());
    let mut style = style("own.ttf");
    for name in ["one.ttf", "two.ttf"] {
        style.fallback.push(TypefaceChoice {
            named: TypefaceNamed::File(name.to_string()),
            place: None,
        });
    }
    let faults = FontLibrary::new(Assets::folder(book.path()))
        .typeface(&style)
        .unwrap_err();
    let names: Vec<bool> = faults.iter().map(|f| f.what.contains("one.ttf")).collect();
    assert_eq!(names, [true, false]);
}

/// OpenType 1.9, OS/2 `fsType`: bits 0 to 3 are the embedding permission (2 restricted, 4 preview and print,
/// 8 editable), bit 8 forbids subsetting, bit 9 allows bitmaps only.
#[test]
fn embedding_permissions() {
    let forbidden = (
        "the maker of the font own.ttf forbids embedding it",
        "a PDF text layer carries its fonts: choose another, or ask the maker for a licence and a file that allow it",
    );
    let part = (
        "the maker of the font own.ttf forbids embedding a part of it",
        "text layers carry only the letters they use: choose another font",
    );
    for (value, expected) in [
        (0x0000, None),
        (0x0004, None),
        (0x0008, None),
        (0x0002, Some(forbidden)),
        (0x0200, Some(forbidden)),
        (0x0204, Some(forbidden)),
        (0x0100, Some(part)),
        (0x0108, Some(part)),
    ] {
        let mut data = alegreya();
        let os2 = tables(&data)
            .into_iter()
            .find(|table| &table.tag == b"OS/2");
        let at = os2.unwrap().from + 8;
        data[at..at + 2].copy_from_slice(&u16::to_be_bytes(value));
        match expected {
            Some((what, more)) => assert_told(read(&data), what, more),
            None => assert!(use_font(&read(&data).unwrap()).0 > 30, "{value:#06x}"),
        }
    }
}

/// What may be said of a damaged file.
fn is_clear(result: &Result<Typeface, Faults>) -> bool {
    let Err(faults) = result else { return false };
    let what = [
        "own.ttf is no font file",
        "the font file own.ttf is cut short",
        "the font own.ttf has no outlines that a PDF can carry",
        "the maker of the font own.ttf forbids embedding it",
        "the maker of the font own.ttf forbids embedding a part of it",
    ];
    faults.len() == 1 && what.contains(&faults[0].what.as_str())
}

#[test]
fn a_file_that_is_cut_short() {
    let data = alegreya();
    let mut lengths: Vec<usize> = vec![1, 4, 11, 12, 13, data.len() - 1];
    for table in tables(&data) {
        lengths.extend([table.from, table.to, table.to.saturating_sub(1)]);
    }
    let mut dice = Dice(0x5eed_0001);
    lengths.extend((0..60).map(|_| dice.below(data.len())));
    let last = tables(&data).iter().map(|table| table.to).max().unwrap();
    for length in lengths {
        let result = read(&data[..length.min(data.len())]);
        let directory = 12 + 16 * tables(&data).len();
        if length >= last {
            assert!(use_font(&result.unwrap()).0 > 30, "{length} bytes");
        } else if length >= directory {
            let help = "copy it again from where it came from";
            assert_told(result, "the font file own.ttf is cut short", help);
        } else {
            assert!(is_clear(&result), "{length} bytes: {result:?}");
        }
    }
}

/// 300 copies with a few bytes changed, most of them in the tables that steer the shaping: each is refused
/// clearly or works.
#[test]
fn damaged_bytes() {
    let mut dice = Dice(0x5eed_0002);
    let fonts = [
        ("alegreya/Alegreya-Regular.ttf", 200),
        ("noto-serif-thai/NotoSerifThai-Regular.ttf", 100),
    ];
    let (mut refused, mut used, mut panics) = (0, 0, Vec::new());
    for (path, copies) in fonts {
        let whole = font(path);
        for copy in 0..copies {
            let (data, changed) = damage::flipped(&whole, &mut dice);
            let result = std::panic::catch_unwind(|| match read(&data) {
                Ok(typeface) => use_font(&typeface).1 < usize::MAX,
                result => {
                    assert!(is_clear(&result), "{result:?}");
                    false
                }
            });
            match result {
                Ok(true) => used += 1,
                Ok(false) => refused += 1,
                Err(_) => panics.push(format!("{path} copy {copy}: {changed:?}")),
            }
        }
    }
    println!("{refused} refused, {used} used");
    assert_eq!(panics, Vec::<String>::new());
    // Both happen, or the damage is not what it is meant to be.
    assert!(refused >= 10 && used >= 100, "{refused} and {used}");
}
