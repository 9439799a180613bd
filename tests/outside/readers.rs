//! Other readers of PDF: the same words, fonts that are all there, and no broken syntax.

use std::fs;
use std::path::Path;

use unicode_normalization::char::is_combining_mark;
use versefold::names::Direction;
use versefold::readback::{folded, words};

use super::support::temporary;
use super::{books, says};

fn our_reading(file: &Path) -> String {
    let read = words(&fs::read(file).expect("a layer")).expect("it reads back");
    let lines = read.pages.iter().flat_map(|page| &page.lines);
    let lines: Vec<&str> = lines.map(|line| line.text.as_str()).collect();
    folded(&lines.join("\n"))
}

/// What stands on the lines of a side, as they were laid, and whether a hyphen is added behind it.
fn laid_lines(side: &Path) -> Vec<(String, bool)> {
    let out = side.ancestors().nth(2).expect("out/layers/front.pdf");
    let layout = fs::read(out.join("layout.json")).expect("a layout");
    let layout: serde_json::Value = serde_json::from_slice(&layout).expect("JSON");
    let name = side.file_stem().expect("a name").to_string_lossy();
    let panels = layout["panels"].as_array().expect("panels").iter();
    let panels = panels.filter(|panel| {
        let panel = panel["panel"].as_str().expect("a name");
        panel.starts_with(&*name)
    });
    let lines = panels.flat_map(|panel| panel["lines"].as_array().expect("lines").iter());
    let text = |line: &serde_json::Value| match line["part"].is_null() {
        true => line["added"].as_str().map(|text| (text.to_string(), false)),
        false => {
            let text = line["text"].as_str()?.to_string();
            Some((text, line["added"].is_string()))
        }
    };
    lines.filter_map(text).collect()
}

/// A text as if no line had ended behind a hyphen or dash of its own, or between words that no space parts.
fn joined(text: &str) -> String {
    let unspaced = |c: char| matches!(c, '\u{e00}'..='\u{e7f}' | '\u{2e80}'..='\u{9fff}' | '\u{ff00}'..='\u{ff60}');
    let mut joined = String::with_capacity(text.len());
    for c in text.chars() {
        let parts =
            !joined.ends_with(['-', '‐', '–', '—', '―', '/']) && !joined.ends_with(unspaced);
        if c != ' ' || parts {
            joined.push(c);
        }
    }
    joined
}

/// Right-to-left words are looked at below: in the order of the file they do not stand from left to right, which
/// `-raw` takes for a line's end.
/// Prose is left out: `-raw` goes by where letters stand, and reads a large initial, which stands on a lower line
/// than the rest of its word, apart from it.
#[test]
#[ignore = "needs poppler's pdftotext"]
fn another_reader_finds_the_same_words() {
    let mut count = 0;
    let mut sides = books().sides_in(Direction::LeftToRight);
    sides.retain(|side| !side.to_string_lossy().contains("winter-bus-prose"));
    for file in sides {
        let theirs = says(
            "pdftotext",
            &["-raw", "-enc", "UTF-8"],
            &[file.clone(), "-".into()],
        );
        // A hyphen that was added at a line's end reads as a soft one: the word goes on.
        let theirs = theirs.expect("it reads").replace("\u{ad}\n", "");
        let theirs = folded(&theirs);
        let (ours, theirs) = (joined(&our_reading(&file)), joined(&theirs));
        // Where a mark ends before its letter does, it takes the rest of the letter for a space.
        let marked = ours.chars().any(is_combining_mark);
        let bare = |text: String| if marked { text.replace(' ', "") } else { text };
        let (ours, theirs) = (bare(ours), bare(theirs));
        for (at, (our, their)) in ours.split(' ').zip(theirs.split(' ')).enumerate() {
            assert_eq!(our, their, "word {at} of {}", file.display());
        }
        assert_eq!(ours.len(), theirs.len(), "{}", file.display());
        count += ours.split(' ').count();
    }
    // The demo alone has more than a thousand words.
    assert!(count > 1000, "only {count} words");
}

/// Prints the text of a file as poppler, PDFium and MuPDF read it, a vertical tab between.
pub const READ: &str = "
import subprocess, sys
import pymupdf, pypdfium2
path = sys.argv[1]
poppler = subprocess.run(['pdftotext', '-enc', 'UTF-8', path, '-'], capture_output=True, check=True)
pdfium = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(path)]
mupdf = [page.get_text() for page in pymupdf.open(path)]
print(poppler.stdout.decode(), ''.join(pdfium), ''.join(mupdf), sep='\\v')
";

/// Letters and digits alone: where marks, signs and spaces stand among words of two directions, readers differ.
pub fn letters(text: &str) -> String {
    let letter = |c: &char| c.is_alphanumeric() && !is_combining_mark(*c);
    text.chars().filter(letter).collect()
}

fn is_half_latin(text: &str) -> bool {
    let latin = text.chars().filter(char::is_ascii_alphabetic).count();
    latin * 2 >= letters(text).chars().count()
}

/// The letters of right-to-left words stand in the order of the text for readers that look at where they stand.
///
/// PDFium is not asked of pointed words: it takes the points above and below a letter for lines of their own. Nor is
/// MuPDF of lines with Arabic-Indic digits: it turns them about. Nor anybody of lines that are half Latin: which way
/// those read cannot be seen.
#[test]
#[ignore = "needs pdftotext, and Python with pypdfium2 and pymupdf"]
fn other_readers_find_right_to_left_letters_in_their_order() {
    const READERS: [&str; 3] = ["poppler", "PDFium", "MuPDF"];
    let (mut plain, mut pointed) = (0, 0);
    let (mut plain_lost, mut lost) = (Vec::new(), Vec::new());
    for file in books().sides_in(Direction::RightToLeft) {
        let said = says("python3", &["-c", READ], std::slice::from_ref(&file)).expect("they read");
        let theirs: Vec<String> = said.split('\u{b}').map(letters).collect();
        assert_eq!(theirs.len(), READERS.len());
        let lines = laid_lines(&file).into_iter().map(|(text, _)| text);
        for text in lines.filter(|text| !is_half_latin(text)) {
            let text = &text;
            let has_points = text.chars().any(is_combining_mark);
            let has_digits = text.contains(|c| matches!(c, '\u{660}'..='\u{669}'));
            // Lines that stand far apart, and whose halves do, are columns to poppler and sometimes to PDFium.
            let halves = text.contains("  ");
            let excused = [halves, has_points || halves, has_digits];
            let missing = READERS.iter().zip(&theirs).zip(excused);
            let missing: Vec<&str> = missing
                .filter(|((_, theirs), excused)| !excused && !theirs.contains(&letters(text)))
                .map(|((reader, _), _)| *reader)
                .collect();
            if !has_points {
                plain += 1;
                plain_lost.extend(missing.iter().map(|reader| format!("{reader}: {text}")));
                continue;
            }
            pointed += 1;
            lost.extend(missing.iter().map(|reader| format!("{reader}: {text}")));
        }
    }
    println!("{plain} plain lines, of which were not found: {plain_lost:#?}");
    println!("{pointed} pointed ones, of which were not found: {lost:#?}");
    assert!(
        plain > 15 && pointed > 20,
        "only {plain} and {pointed} lines"
    );
    assert!(plain_lost.len() * 20 < plain, "{plain_lost:#?}");
    assert!(lost.len() * 20 < pointed, "{lost:#?}");
}

/// Words of prose that are divided between lines, whole, as they were laid.
fn divided_words(side: &Path) -> Vec<String> {
    let mut words = Vec::new();
    let mut begun: Option<String> = None;
    for (text, goes_on) in laid_lines(side) {
        let (mut first, mut last) = (text.split(' '), text.rsplit(' '));
        if let Some(head) = begun.take() {
            words.push(head + first.next().unwrap_or_default());
        }
        begun = goes_on.then(|| last.next().unwrap_or_default().to_string());
    }
    words
}

/// No reader finds a divided word twice, or parted by anything but a hyphen and the line's end.
#[test]
#[ignore = "needs pdftotext, and Python with pypdfium2 and pymupdf"]
fn other_readers_find_divided_words_once() {
    const READERS: [&str; 3] = ["poppler", "PDFium", "MuPDF"];
    let mut divided = 0;
    for file in books().sides_in(Direction::LeftToRight) {
        let words = divided_words(&file);
        if words.is_empty() {
            continue;
        }
        divided += words.len();
        let ours = letters(&our_reading(&file));
        let said = says("python3", &["-c", READ], std::slice::from_ref(&file)).expect("they read");
        for (reader, theirs) in READERS.iter().zip(said.split('\u{b}')) {
            let theirs = letters(theirs);
            // A large initial is read before or behind its line, but no letter is read more than once.
            let count = |text: &str| text.chars().count();
            assert_eq!(count(&theirs), count(&ours), "{reader}: {}", file.display());
            for word in &words {
                let word = letters(word);
                assert!(theirs.contains(&word), "{reader}: {word}");
                let times = |text: &str| text.matches(&*word).count();
                assert_eq!(times(&theirs), times(&ours), "{reader}: {word}");
            }
        }
    }
    println!("{divided} divided words");
    assert!(divided > 5, "only {divided}");
}

#[test]
#[ignore = "needs poppler's pdffonts"]
fn every_font_is_embedded_as_a_subset_with_its_characters() {
    for file in books().all() {
        let list = says("pdffonts", &[], std::slice::from_ref(&file)).expect("it reads");
        // Name, type and encoding may hold spaces; the last five columns are emb, sub, uni and an object.
        for font in list.lines().skip(2) {
            let columns: Vec<&str> = font.split_whitespace().rev().take(5).collect();
            assert_eq!(
                columns[2..],
                ["yes", "yes", "yes"],
                "{}: {font}",
                file.display()
            );
        }
    }
    let demo = says("pdffonts", &[], &[books().of_demo("front.pdf")]);
    let fonts = demo.expect("it reads").lines().skip(2).count();
    assert!(
        fonts >= 2,
        "the demo's front has upright and italic: {fonts}"
    );
}

#[test]
#[ignore = "needs qpdf"]
fn the_syntax_is_sound() {
    let files = books().all();
    for file in &files {
        let said = says("qpdf", &["--check"], std::slice::from_ref(file));
        let said = said.unwrap_or_else(|| panic!("{} is not sound", file.display()));
        let clean = "No syntax or stream encoding errors found";
        assert!(said.contains(clean), "{}: {said}", file.display());
    }
    // The check itself must be able to fail.
    let temp = temporary();
    let broken = temp.path().join("broken.pdf");
    let bytes = fs::read(&files[0]).expect("a PDF");
    fs::write(&broken, &bytes[..bytes.len() / 2]).expect("written");
    assert_eq!(says("qpdf", &["--check"], &[broken]), None);
}
