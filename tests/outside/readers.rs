//! Other readers of PDF: the same words, fonts that are all there, and no broken syntax.

use std::fs;
use std::path::Path;

use versefold::readback::{folded, words};

use super::support::temporary;
use super::{books, says};

fn our_reading(file: &Path) -> String {
    let read = words(&fs::read(file).expect("a layer")).expect("it reads back");
    let lines = read.pages.iter().flat_map(|page| &page.lines);
    let lines: Vec<&str> = lines.map(|line| line.text.as_str()).collect();
    folded(&lines.join("\n"))
}

#[test]
#[ignore = "needs poppler's pdftotext"]
fn another_reader_finds_the_same_words() {
    let mut count = 0;
    for file in books().sides() {
        let theirs = says(
            "pdftotext",
            &["-raw", "-enc", "UTF-8"],
            &[file.clone(), "-".into()],
        );
        let (ours, theirs) = (our_reading(&file), folded(&theirs.expect("it reads")));
        for (at, (our, their)) in ours.split(' ').zip(theirs.split(' ')).enumerate() {
            assert_eq!(our, their, "word {at} of {}", file.display());
        }
        assert_eq!(ours.len(), theirs.len(), "{}", file.display());
        count += ours.split(' ').count();
    }
    // The demo alone has more than a thousand words.
    assert!(count > 1000, "only {count} words");
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
