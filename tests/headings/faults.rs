//! What is wrong with titles and headings, told with its place.

use super::{POEM, lay_out, plan};

/// The only fault of a book: its word, the line and column of its place, what it says, and what is allowed or helps.
fn told(style: &str, words: &str) -> (&'static str, String, String) {
    let plan = plan(style).replace("language = \"en-GB\"", "language = \"ar\"");
    let plan = match style.contains("Arabic") {
        true => plan,
        false => super::plan(style),
    };
    let faults = lay_out(&plan, words).expect_err("a fault");
    assert_eq!(faults.len(), 1, "{faults:#?}");
    let fault = &faults[0];
    let place = fault.place.as_ref().expect("a place");
    let line = place.source.text.lines().nth(place.line() - 1);
    let more = fault
        .allowed
        .clone()
        .or(fault.help.clone())
        .expect("what would be right");
    let what = format!("{}: {}", line.unwrap_or_default(), fault.what);
    (fault.word, what, more)
}

fn assert_told(style: &str, words: &str, (word, what, more): (&str, &str, &str)) {
    let told = told(style, words);
    assert_eq!(
        (told.0, told.1.as_str(), told.2.as_str()),
        (word, what, more)
    );
}

#[test]
fn tables_about_headings_that_are_not_there() {
    let verse = "The cap came in one size.\n";
    assert_told(
        "[text.heading]\nalign = \"left\"",
        verse,
        (
            "no-heading",
            "[text.heading]: nothing is a heading for [text.heading] to speak of",
            "begin a heading in the manuscript with ##",
        ),
    );
    let title =
        plan("[text.title]\nsize = \"20 pt\"").replace("role = \"title\"", "role = \"text\"");
    let faults = lay_out(&title, verse).expect_err("nothing is a title");
    assert_eq!(faults[0].word, "no-heading");
    let vertical = title.replace("size = \"20 pt\"", "vertical = \"head\"");
    let faults = lay_out(&vertical, POEM).expect_err("no panel is a title panel");
    assert!(faults[0].what.starts_with("`vertical` says"), "{faults:?}");
}

#[test]
fn sizes_that_no_panel_has_room_for() {
    assert_told(
        "[text.title]\nsize = \"90 pt\"",
        POEM,
        (
            "heading-size",
            "size = \"90 pt\": at 90 pt the word “Winter” is 91.54 mm wide, and its lines have 83 mm",
            "a size of 81.6 pt or less here",
        ),
    );
    let small = plan("[text.title]\nsize = \"81.6 pt\"").replace("148 mm", "300 mm");
    assert!(
        lay_out(&small, POEM).is_ok(),
        "what is told as right is right"
    );
    let (word, what, _) = told(
        "[text.heading]\nsize = \"72 pt\"",
        &POEM.replace("## II", "## A b c d e f g h i j k l m n o p q r s t u v"),
    );
    assert_eq!(word, "heading-size");
    assert!(what.contains("lines of the grid"), "{what}");
}

#[test]
fn letterspacing_does_not_part_joined_letters() {
    let words = POEM.replace("## II", "## باص الشتاء");
    let style = "fallback = [\"Amiri\"]\n[text.heading]\nletterspacing = \"0.1 em\"";
    assert_told(
        style,
        &words,
        (
            "letterspacing",
            "letterspacing = \"0.1 em\": `letterspacing` would part the letters of Arabic, which are joined to each \
             other, in “باص الشتاء”",
            "leave `letterspacing` out of [text.heading]",
        ),
    );
    assert!(
        lay_out(
            &plan("fallback = [\"Amiri\"]\n[text.heading]\nstyle = \"capitals\""),
            &words
        )
        .is_ok()
    );
}

#[test]
fn the_author_needs_room_below_the_title() {
    let style = "size = \"11 pt\"\nleading = \"15 pt\"\n[text.title]\nsize = \"60 pt\"";
    let words = POEM.replace("# The Winter Bus", "# The Winter Bus over the Pass");
    let words = words.replace("\n[subtitle]\nNine years over the pass\n", "");
    let (word, what, _) = told(style, &words);
    assert_eq!(word, "author");
    assert_eq!(
        what,
        "author = \"Her Mother\": front 1 has no room for the author below its title"
    );
    // The plan's own title would have no room for it either: that panel is the part's, and it is told once.
    let both = plan(style).replace("\"The Winter Bus\"", "\"The Winter Bus over the Pass\"");
    let faults = lay_out(&both, &words).expect_err("no room");
    assert_eq!(faults.len(), 1, "{faults:#?}");
}
