//! Things that are not there, or are not what they should be.

use std::fs;

use super::{faults, refused, told, told_to_people};
use crate::support::{run_in, small_plan, temporary, tree, write_book};

const VERSE: &str = "One long, before a bend:\n  *I am coming. Stay where you are.*\n";

#[test]
fn a_folder_that_is_missing_is_not_made() {
    let temp = temporary();
    let said = run_in(temp.path(), &["layers", "winter-bus"]).at_fault();
    assert_eq!(
        said,
        "Fault: there is no folder winter-bus\n  \
         help: begin a book there with: versefold new winter-bus\n"
    );
    assert!(tree(temp.path()).is_empty());
}

#[test]
fn a_folder_without_a_plan_is_no_book() {
    let temp = temporary();
    fs::write(temp.path().join("winter-bus.txt"), VERSE).expect("written");
    assert_eq!(
        refused(temp.path(), &["flow"]),
        "Fault: there is no plan in the folder .\n  \
         allowed: a book's folder holds a concertina.toml and a manuscript\n  \
         help: begin a book with: versefold new .\n"
    );
}

#[test]
fn a_missing_manuscript_is_told_where_the_plan_names_it() {
    let temp = temporary();
    write_book(temp.path(), &small_plan(2, ""), VERSE);
    fs::remove_file(temp.path().join("winter-bus.txt")).expect("removed");
    let place = fs::canonicalize(temp.path()).expect("a folder");
    let what = format!(
        "`winter-bus.txt` is missing; it was looked for at `{}`",
        place.join("winter-bus.txt").display()
    );
    assert_eq!(told(temp.path()), [format!("concertina.toml:3:14: {what}")]);
}

#[test]
fn a_font_that_is_missing_or_none_or_cut_short_is_told() {
    let temp = temporary();
    let typeface = |name: &str| format!("\n[text]\ntypeface = \"{name}\"\n");
    write_book(
        temp.path(),
        &small_plan(2, &typeface("fonts/Bus.ttf")),
        VERSE,
    );
    assert_eq!(
        told(temp.path()),
        [
            "concertina.toml:12:12: the font file fonts/Bus.ttf cannot be read: there is no such file"
        ]
    );
    write_book(temp.path(), &small_plan(2, &typeface("bus.ttf")), VERSE);
    fs::write(temp.path().join("bus.ttf"), "no font at all").expect("written");
    assert_eq!(
        told(temp.path()),
        ["concertina.toml:12:12: bus.ttf is no font file"]
    );
    let whole =
        env!("CARGO_MANIFEST_DIR").to_string() + "/fonts-open/alegreya/Alegreya-Regular.ttf";
    let whole = fs::read(whole).expect("an open font");
    fs::write(temp.path().join("bus.ttf"), &whole[..20_000]).expect("written");
    assert_eq!(
        told(temp.path()),
        ["concertina.toml:12:12: the font file bus.ttf is cut short"]
    );
}

#[test]
fn every_mistake_in_a_plan_is_told_to_people_and_to_programs() {
    let temp = temporary();
    let plan = "titel = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"winter-bus.txt\"\n\n\
                [paper]\npanel-width = \"105 mn\"\npanel-height = \"148 mm\"\npanels-per-side = 8\n\
                cover = \"bords\"\n\n[text]\nleading = \"3 pt\"\n\n[[panel]]\npanel = \"front 9\"\n";
    write_book(temp.path(), plan, VERSE);
    let sentences = [
        "`titel` is no key of the plan",
        "`mn` is no unit for `panel-width`",
        "`bords` is no word for `cover`",
        "`leading` must be from 7.7 pt to 55 pt for a size of 11 pt",
        "there is no `front 9`: that side has 8 panels",
    ];
    let places = ["1:1", "6:15", "9:9", "12:11", "15:9"];
    let whole = places.iter().zip(sentences);
    let whole: Vec<String> = whole
        .map(|(place, what)| format!("concertina.toml:{place}: {what}"))
        .collect();
    assert_eq!(told(temp.path()), whole);
    assert_eq!(told_to_people(temp.path()), sentences);
    let meant: Vec<_> = faults(temp.path())
        .iter()
        .map(|fault| fault["meant"].as_str().unwrap_or_default().to_string())
        .collect();
    assert_eq!(meant, ["title", "mm", "boards", "", ""]);
}

#[test]
fn margins_larger_than_the_panel_are_told() {
    let temp = temporary();
    let margins = "\n[text]\nmargins = { head = \"50 mm\", foot = \"45 mm\" }\n";
    write_book(temp.path(), &small_plan(2, margins), VERSE);
    assert_eq!(
        told(temp.path()),
        [
            "concertina.toml:12:11: the head and foot margins take 95 mm of a panel that is 90 mm high"
        ]
    );
    let pinned = "\n[[panel]]\npanel = \"front 2\"\nmargins = { left = \"80 mm\" }\n";
    write_book(temp.path(), &small_plan(2, pinned), VERSE);
    assert_eq!(
        told(temp.path()),
        [
            "concertina.toml:13:11: on `front 2`, the left and right margins take 91 mm of a panel that \
          is 90 mm wide"
        ]
    );
}
