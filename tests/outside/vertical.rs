//! How signs are shaped in lines that run down, against C HarfBuzz as it is installed here.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::names::{Length, Source};
use versefold::readback::words;
use versefold::typeface::{
    BELOW, Face, Family, FontStyle, Posture, Script, Shaper, ShapingContext, Typeface,
};

use super::readers::{READ, letters};
use super::says;
use super::support::{run_in, temporary};

/// Where Debian's package `fonts-noto-cjk` puts its faces.
const FACES: &str = "/usr/share/fonts/opentype/noto";

/// A sign as it is shaped: glyph, advance down the line, and from the pen down and to the right of the line's middle.
type Stood = (u32, i32, i32, i32);

/// Source: `hb-shape` of HarfBuzz (Debian's libharfbuzz-bin, 6.0.0 in Debian 12) with the direction `ttb`: glyphs,
/// advances and offsets of every sign of the texts that stands upright, by itself, and of all signs of the blocks that
/// hold the punctuation and kana of Japanese and Chinese.
#[test]
#[ignore = "needs hb-shape and Noto CJK"]
fn signs_that_stand_upright_are_those_of_harfbuzz() {
    let mut compared = 0;
    for (file, language) in [
        ("NotoSerifCJK-Regular.ttc", "ja"),
        ("NotoSansCJK-Regular.ttc", "zh-hant"),
    ] {
        let face = face(file);
        let signs: Vec<char> = signs()
            .into_iter()
            .filter(|c| Posture::of(*c) != Posture::AlongLine)
            .filter(|c| face.glyph(*c).is_some())
            .collect();
        assert!(signs.len() > 600, "only {} signs", signs.len());
        let family = Family {
            regular: Arc::clone(&face),
            italic: None,
            bold: None,
        };
        let typeface = Typeface::new(family, Vec::new());
        let shaper = Shaper::new(&typeface, language);
        for script in ["Hani", "Hira", "Kana"] {
            let of_script = signs.iter().filter(|c| code(**c) == script);
            let signs: Vec<String> = of_script.map(char::to_string).collect();
            let theirs = harfbuzz(file, language, script, &signs);
            assert_eq!(theirs.len(), signs.len(), "{file} {script}");
            for (sign, theirs) in signs.iter().zip(theirs) {
                let ours = ours(&shaper, &face, sign);
                assert!(
                    ours == theirs || ours.is_none(),
                    "{file} {sign}: {ours:?}, not {theirs:?}"
                );
                compared += usize::from(ours.is_some());
            }
        }
    }
    println!("{compared} signs are those of HarfBuzz");
    assert!(compared > 1200, "only {compared} signs");
}

/// The script that a sign is shaped in here; what is common to all, as kana are.
fn code(c: char) -> &'static str {
    let own = Script::of(c).map(|script| script.code());
    match own.as_ref().map(<[u8; 4]>::as_slice) {
        Some(b"Hani") => "Hani",
        Some(b"Kana") => "Kana",
        _ => "Hira",
    }
}

/// A sign as we shape it; nothing for one that is turned for want of an upright form.
fn ours(shaper: &Shaper<'_>, face: &Face, sign: &str) -> Option<Vec<Stood>> {
    let c = sign.chars().next().expect("a sign");
    let script = code(c).chars().next();
    let letter = match script {
        Some('K') => 'ア',
        _ if code(c) == "Hani" => '雪',
        _ => 'あ',
    };
    let context = ShapingContext {
        script: Script::of(letter).expect("a script"),
        posture: Posture::of(c),
        ..ShapingContext::default()
    };
    let units = face.metrics().units_per_em;
    let voice = FontStyle::plain(Length::from_units(i64::from(units)));
    let word = shaper.word_of(sign, 0..sign.len(), voice, context);
    let [segment] = &word.segments[..] else {
        panic!("{sign} is of several faces");
    };
    let middle = units / 2 - units * BELOW as i32 / 100;
    let glyphs = segment.glyphs.iter();
    let glyphs = glyphs.map(|g| (u32::from(g.id), g.advance, g.dx, g.dy - middle));
    segment.upright.then(|| glyphs.collect())
}

/// What `hb-shape` says of signs, each on a line of its own: `[glyph@right,up+0,-down]`.
fn harfbuzz(file: &str, language: &str, script: &str, signs: &[String]) -> Vec<Option<Vec<Stood>>> {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let text = folder.path().join("signs");
    fs::write(&text, signs.join("\n")).expect("the signs are written");
    let arguments = [
        "--no-glyph-names",
        "--no-clusters",
        "--direction=ttb",
        &format!("--language={language}"),
        &format!("--script={script}"),
        &format!("--text-file={}", text.display()),
    ];
    let font: PathBuf = Path::new(FACES).join(file);
    let told = says("hb-shape", &arguments, &[font]).expect("it shapes the signs");
    let number = |digits: &str| -> i32 { digits.parse().expect("a number") };
    // What does not move the pen is told by one nought.
    let pair = |pair: &str| match pair.split_once(',') {
        Some((one, other)) => (number(one), number(other)),
        None => (number(pair), 0),
    };
    let glyph = |glyph: &str| -> Stood {
        let (glyph, advance) = glyph.split_once('+').expect("an advance");
        let (id, offset) = glyph.split_once('@').unwrap_or((glyph, "0,0"));
        let ((right, up), (_, on)) = (pair(offset), pair(advance));
        (id.parse().expect("a glyph"), -on, -up, right)
    };
    told.lines()
        .map(|line| {
            let bare = line.trim_matches(['[', ']']);
            Some(bare.split('|').map(glyph).collect())
        })
        .collect()
}

/// The signs that are compared: of the texts, where a folder of them is named, and of four blocks.
fn signs() -> BTreeSet<char> {
    let mut signs: BTreeSet<char> = BTreeSet::new();
    // CJK Symbols and Punctuation, Hiragana, Katakana, Halfwidth and Fullwidth Forms (Blocks.txt of Unicode).
    for block in [
        0x3001..=0x303F,
        0x3041..=0x309F,
        0x30A0..=0x30FF,
        0xFF01..=0xFF5E,
    ] {
        signs.extend(block.filter_map(char::from_u32));
    }
    // Some thousand of the CJK Unified Ideographs, evenly picked.
    signs.extend((0x4E00..0x9FA5).step_by(37).filter_map(char::from_u32));
    let Some(folder) = std::env::var_os("VERSEFOLD_TEXTS") else {
        return signs;
    };
    for entry in fs::read_dir(folder).expect("the folder of texts").flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        if name.starts_with("ja_") || name.starts_with("zh_") {
            let text = fs::read_to_string(entry.path()).expect("the text is UTF-8");
            signs.extend(text.chars().filter(|c| !c.is_ascii()));
        }
    }
    signs
}

/// Poppler, PDFium and MuPDF find every letter of lines that run down once, and those of a line together, but where a bracket
/// leaves white; MuPDF finds the lines in the order of the text as well. Readings are taken for lines of their own.
#[test]
#[ignore = "needs pdftotext, and Python with pypdfium2 and pymupdf"]
fn other_readers_find_lines_that_run_down_in_their_order() {
    let below = temporary();
    for name in ["chinese-down", "japanese-down"] {
        let book = below.path().join(name);
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
        fs::create_dir_all(&book).expect("a folder");
        let own = |file: &str| fs::read(from.join(file)).expect("a file of the tests");
        let text = own(&format!("books/{name}/winter-bus.txt"));
        let plan = own(&format!("books/{name}/concertina.toml"));
        let plan = String::from_utf8(plan).expect("a plan");
        let face = "NotoSerifCJKjp-for-tests.otf";
        let plan = plan.replace(&format!("../../fonts/{face}"), face);
        fs::write(book.join("winter-bus.txt"), text).expect("written");
        fs::write(book.join("concertina.toml"), plan).expect("written");
        fs::write(book.join(face), own(&format!("fonts/{face}"))).expect("written");
        run_in(&book, &["layers", "--quiet"]).done();
        let file = book.join("out/layers/front.pdf");
        let ours = words(&fs::read(&file).expect("a layer")).expect("it reads back");
        let lines = ours.pages.iter().flat_map(|page| &page.lines);
        let whole = lines.clone().filter(|line| !line.text.contains('「'));
        let whole: Vec<String> = whole.map(|line| letters(&line.text)).collect();
        let ours: String = lines.map(|line| letters(&line.text)).collect();
        let said = says("python3", &["-c", READ], &[file]).expect("they read");
        for (reader, theirs) in ["poppler", "PDFium", "MuPDF"]
            .iter()
            .zip(said.split('\u{b}'))
        {
            let theirs = letters(theirs);
            let count = |text: &str| text.chars().count();
            assert_eq!(count(&theirs), count(&ours), "{reader}: {name}");
            if name == "japanese-down" {
                continue;
            }
            for line in &whole {
                assert!(theirs.contains(line), "{reader}: {line} in {theirs}");
            }
            assert!(*reader != "MuPDF" || theirs == ours, "{theirs}");
        }
    }
}

/// Source: CLREQ (W3C) 3.1.6: quotation marks of simplified Chinese take half a square where they meet brackets, commas and
/// each other. Their forms are those of Noto Serif CJK (Debian's `fonts-noto-cjk`).
#[test]
#[ignore = "needs Noto CJK"]
fn quotation_marks_of_simplified_chinese_are_as_wide_as_brackets() {
    let plan = "title = \"w\"\nlanguage = \"zh-Hans\"\nmanuscript = \"w.txt\"\n\
                [paper]\npanel-width = \"90 mm\"\npanel-height = \"120 mm\"\npanels-per-side = 2\nsides = \"front\"\n\
                [text]\ntypeface = \"NotoSerifCJK-Regular.ttc\"\nlines-run = \"down\"\nleading = \"20 pt\"\n";
    let words = "雪“雪”雪\n雪『雪』雪\n雪，“雪”。雪\n雪，『雪』。雪\n“雪”‘雪’\n『雪』『雪』\n";
    let plan = Source::new("concertina.toml", plan);
    let mut bench = Workbench::new(Assets::folder(FACES));
    let layout = bench.lay_out_texts(&plan, &Source::new("w.txt", words));
    let layout = layout.expect("a book");
    let lines: Vec<Length> = layout
        .panels
        .iter()
        .flat_map(|panel| panel.lines.iter().map(|line| line.width))
        .collect();
    assert_eq!(lines.len(), 6);
    for pair in lines.chunks(2) {
        assert_eq!(pair[0], pair[1], "{lines:?}");
    }
}

/// The first face of a font file, as a book is set in it.
fn face(file: &str) -> Arc<Face> {
    let plan = format!(
        "title = \"w\"\nlanguage = \"ja\"\nmanuscript = \"w.txt\"\n\
         [paper]\npanel-width = \"90 mm\"\npanel-height = \"120 mm\"\npanels-per-side = 2\nsides = \"front\"\n\
         [text]\ntypeface = \"{file}\"\n"
    );
    let mut bench = Workbench::new(Assets::folder(FACES));
    let plan = Source::new("concertina.toml", plan.as_str());
    let words = Source::new("w.txt", "雪");
    let layout = bench.lay_out_texts(&plan, &words).expect("a book");
    let mut lines = layout.panels.iter().flat_map(|panel| &panel.lines);
    let line = lines.next().expect("a line");
    Arc::clone(&line.runs[0].face)
}
