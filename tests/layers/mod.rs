//! The text layers of the demo and of real texts: what files there are, what they say when they are read
//! back, and that they never change of themselves.

mod again;
mod alone;
mod book;
mod codes;
mod inks;
mod narrow;
mod spoilt;
mod steps;

use crate::support::texts::texts;
use crate::support::{
    Ran, copy_of, copy_of_demo, examples, run_in, small_plan, temporary, versefold, write_book,
};
use book::WrittenBook;

#[test]
fn every_example_reads_back_word_for_word() {
    let examples = examples();
    assert!(examples.len() >= 3, "only {examples:?}");
    for example in examples {
        let temp = temporary();
        copy_of(&example, temp.path());
        run_in(temp.path(), &["layers"]).done();
        let made = WrittenBook::read(temp.path(), "out");
        made.check_all();
        let words = book::words_without_mark_up(temp.path());
        assert_eq!(made.words(), words, "{}", example.display());
    }
}

/// What stands with a picture is told as its caption to those who hear the page.
#[test]
fn captions_are_tagged_as_captions() {
    let temp = temporary();
    let book = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/books/captions");
    copy_of(book.as_ref(), temp.path());
    run_in(temp.path(), &["layers"]).done();
    let made = WrittenBook::read(temp.path(), "out");
    made.check_all();
    assert_eq!(made.words(), book::words_without_mark_up(temp.path()));
    let lines = &made.layers["front-01.pdf"].pages[0].lines;
    let roles = lines.iter().map(|line| line.structure.join("/"));
    let stanza = "Document/Div/P";
    let caption = "Document/Div/Caption";
    let expected = [stanza, caption, caption, stanza, stanza];
    assert_eq!(roles.collect::<Vec<_>>(), expected);
}

/// An epigraph is somebody else's words: a block quotation (ISO 32000-1, table 333), be it verse or prose.
#[test]
fn epigraphs_are_tagged_as_quotations() {
    for set_as in ["verse", "prose"] {
        let temp = temporary();
        let words =
            "[epigraph]\nSnow is a letter.\n[attribution]\nRoad warden\n\nThe bus climbs.\n";
        let manuscript = format!("[set as {set_as}]\n{words}");
        write_book(temp.path(), &small_plan(2, ""), manuscript);
        run_in(temp.path(), &["layers", "--quiet"]).done();
        let made = WrittenBook::read(temp.path(), "out");
        let lines = &made.layers["front-01.pdf"].pages[0].lines;
        let roles = lines.iter().map(|line| line.structure.join("/"));
        let (quoted, plain) = ("Document/BlockQuote/P", "Document/Div/P");
        let expected = [quoted, plain, plain];
        assert_eq!(roles.collect::<Vec<_>>(), expected, "{set_as}");
    }
}

/// A text that a client brings is set whole, down to signs that would be mark-up.
#[test]
fn real_texts_read_back_word_for_word() {
    let texts = texts();
    if texts.is_empty() {
        println!("skipped: no texts in tests/texts, and VERSEFOLD_TEXTS is not set");
    }
    for text in texts {
        println!("{}", text.path.display());
        let temp = temporary();
        let made = WrittenBook::read(&text.make_book(temp.path()), "out");
        made.check_all();
        let brought = std::fs::read_to_string(&text.path).expect("the text is UTF-8");
        assert_eq!(made.words(), book::words(&brought), "{}", text.name());
    }
}

/// One side only, another bleed, and panels of another size.
#[test]
fn the_boxes_follow_the_plan() {
    let temp = temporary();
    let verse =
        "# The Winter Bus\n\n## Passengers\n\nTen to seven.\n\n[new panel]\nSeven of them.\n";
    write_book(temp.path(), &small_plan(3, "bleed = \"4.5 mm\"\n"), verse);
    run_in(temp.path(), &["layers", "--quiet"]).done();
    let made = WrittenBook::read(temp.path(), "out");
    made.check_all();
    let names: Vec<&str> = made.layers.keys().map(String::as_str).collect();
    assert_eq!(names, ["front-01.pdf", "front-02.pdf", "front.pdf"]);
}

#[test]
fn words_as_paths_need_no_fonts_and_say_the_same() {
    let temp = temporary();
    copy_of_demo(temp.path());
    run_in(temp.path(), &["layers", "--quiet"]).done();
    let paths = Ran::of(
        versefold()
            .args(["layers", "--as-paths", "--quiet", "--out"])
            .arg(temp.path().join("paths"))
            .arg(temp.path()),
    );
    assert_eq!(paths.done(), "");
    let (text, paths) = (
        WrittenBook::read(temp.path(), "out"),
        WrittenBook::read(temp.path(), "paths"),
    );
    paths.check_all();
    assert_eq!(text.words(), paths.words());
    for (name, layer) in &paths.layers {
        assert_eq!(layer.fonts, [], "{name}");
        let structure = |layer: &versefold::readback::ReadBack| -> Vec<Vec<String>> {
            let lines = layer.pages.iter().flat_map(|page| &page.lines);
            lines.map(|line| line.structure.clone()).collect()
        };
        assert_eq!(structure(layer), structure(&text.layers[name]), "{name}");
    }
    let with_fonts = text.layers.values().filter(|layer| !layer.fonts.is_empty());
    assert_eq!(with_fonts.count(), text.layers.len());
}
