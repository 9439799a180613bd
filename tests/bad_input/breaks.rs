//! Breaks that were damaged by hand, are of another book, or no longer go with the plan.

use std::fs;
use std::path::Path;

use super::{refused, told, told_to_people};
use crate::support::{copy_of_demo, run_in, small_plan, temporary, tree, write_book};

const POEM: &str = "Chains go on before you need them. There,\nthat’s the whole trade.\n\n[new panel]\nSnow lay on the step,\n\
                    and the step was gone.\n\n[new panel]\nI drove. I stopped.\nI stopped, and drove.\n";

/// A book of four panels with its breaks kept.
fn kept(book: &Path) {
    let rules = "[rules]\neach-panel = \"stanza\"\ntext-in-a-row = 10\n";
    write_book(book, &small_plan(4, rules), POEM);
    run_in(book, &["flow", "--keep"]).done();
}

fn change(book: &Path, file: &str, from: &str, to: &str) {
    let path = book.join(file);
    let text = fs::read_to_string(&path).expect("it is there");
    assert!(text.contains(from), "{text}");
    fs::write(path, text.replacen(from, to, 1)).expect("written");
}

#[test]
fn breaks_damaged_by_hand_are_told_with_their_places() {
    let temp = temporary();
    let book = temp.path();
    kept(book);
    let whole = fs::read_to_string(book.join("breaks.toml")).expect("kept");
    let cases = [
        (
            "role = \"text\"",
            "role = \"txt\"",
            "`txt` is no word for `role`",
        ),
        (
            "\nchosen = true",
            "\nchosen = \"yes\"",
            "`chosen` must be true or false, without quotation marks",
        ),
        (
            "\nchosen = true",
            "\nchose = true",
            "`chose` is no key of [[panel]]",
        ),
        ("panel = \"front 1\"\n", "", "[[panel]] lacks `panel`"),
        (
            "panel = \"front 2\"",
            "panel = \"front 1\"",
            "front 1 is there twice",
        ),
        (
            "panel = \"front 2\"",
            "panel = \"front 9\"",
            "the strip has no panel front 9",
        ),
        (
            "role = \"text\"",
            "role = \"shared\"",
            "front 1 has the role `shared` and no picture",
        ),
        (
            "role = \"text\"",
            "role = \"blank\"",
            "front 1 has the role `blank`, and words",
        ),
        ("words = '''", "words =", "the value after `=` is missing"),
    ];
    for (from, to, what) in cases {
        fs::write(book.join("breaks.toml"), whole.replacen(from, to, 1)).expect("written");
        let told = told(book);
        assert!(
            told[0].starts_with("breaks.toml:") && told[0].ends_with(what),
            "{from} → {to}: {told:#?}"
        );
    }
    // Words that are there only once are claimed by two panels.
    let step = "Snow lay on the step,";
    let twice = whole.replacen(step, &format!("that’s the whole trade.\n{step}"), 1);
    fs::write(book.join("breaks.toml"), twice).expect("written");
    assert_eq!(
        told_to_people(book),
        ["front 1 and front 2 both claim “that’s the whole trade.”"]
    );
}

/// A refrain that the client cut stands on two panels of the file, and nobody is to blame.
#[test]
fn a_refrain_that_was_cut_is_no_damage() {
    let temp = temporary();
    let book = temp.path();
    kept(book);
    change(
        book,
        "winter-bus.txt",
        "I drove. I stopped.\n",
        "that’s the whole trade.\nI drove. I stopped.\n",
    );
    run_in(book, &["flow", "--keep"]).done();
    change(
        book,
        "winter-bus.txt",
        "that’s the whole trade.\nI drove. I stopped.\n",
        "I drove. I stopped.\n",
    );
    run_in(book, &["flow"]).done();
}

#[test]
fn breaks_of_another_book_are_refused_and_can_be_begun_afresh() {
    let (temp, other) = (temporary(), temporary());
    let book = temp.path();
    kept(book);
    let poem = "Two hundred bends\nand nothing else all day long but rain.\n\nThen, quite late in the afternoon,\nhome again.\n";
    write_book(other.path(), &small_plan(4, ""), poem);
    fs::copy(book.join("breaks.toml"), other.path().join("breaks.toml")).expect("copied");
    let told = told_to_people(other.path());
    assert_eq!(
        told,
        [
            "breaks.toml is of another text: of its 30 words 0 are found in the manuscript in their order"
        ]
    );
    run_in(other.path(), &["flow", "--afresh", "--keep"]).done();
    run_in(other.path(), &["flow"]).done();
}

#[test]
fn passed_panels_must_have_a_place_on_the_strip() {
    let temp = temporary();
    let book = temp.path();
    kept(book);
    run_in(book, &["pass", "front 3 to front 4"]).done();
    change(
        book,
        "concertina.toml",
        "panels-per-side = 4",
        "panels-per-side = 3",
    );
    let told = told_to_people(book);
    assert_eq!(
        told[0],
        "front 4 is passed for press, and the strip has no such panel now"
    );
    run_in(book, &["pass", "--release", "front 4"]).done();
    // It was blank: nobody misses it.
    run_in(book, &["flow"]).done();
    run_in(book, &["flow", "--afresh"]).done();
}

#[test]
fn what_cannot_be_passed_or_released_is_told() {
    let temp = temporary();
    let book = temp.path();
    write_book(book, &small_plan(4, ""), POEM);
    let cases = [
        (&["pass", "front 9"][..], "the strip has no panel front 9"),
        (
            &["pass", "--release", "front 1"][..],
            "no panel of this book is passed for press",
        ),
        (&["trials", "--choose", "99"][..], "there is no trial 99"),
    ];
    for (command, what) in cases {
        let said = refused(book, command);
        assert!(
            said.starts_with(&format!("Fault: {what}\n")),
            "{command:?}: {said}"
        );
    }
    run_in(book, &["pass", "front 1"]).done();
    let said = refused(book, &["pass", "--release", "front 1 to front 2"]);
    assert!(
        said.starts_with("Fault: front 2 is not passed for press\n"),
        "{said}"
    );
}

/// A plan that would set printed lines otherwise is refused.
#[test]
fn a_plan_that_changes_printed_lines_is_refused() {
    let temp = temporary();
    let book = temp.path();
    copy_of_demo(book);
    run_in(book, &["pass", "front 3 to front 5"]).done();
    let plan = fs::read_to_string(book.join("concertina.toml")).expect("a plan");
    let plan = plan.replacen("[text]\n", "[text]\nink = { grey = 0.4 }\n", 1);
    fs::write(book.join("concertina.toml"), plan).expect("written");
    let before = tree(book);
    let told = told_to_people(book);
    assert!(
        told.len() == 1
            && told[0].starts_with(
                "front 3, front 4 and front 5 are passed for press, and their words would be set otherwise"
            ),
        "{told:#?}"
    );
    assert!(tree(book) == before);
}

/// Printed lines and the page they are printed on cannot be changed behind the printer's back.
#[test]
fn printed_panels_cannot_be_changed_by_hand() {
    let temp = temporary();
    let book = temp.path();
    kept(book);
    run_in(book, &["pass", "front 1"]).done();
    let whole = fs::read_to_string(book.join("breaks.toml")).expect("kept");
    let no_longer = "front 1 is passed for press, and the words listed for it are no longer those of its printed lines";
    for (from, to) in [
        (
            "words = \"that’s the whole trade.\"",
            "words = \"that’s the whole thing.\"",
        ),
        ("\nthat’s the whole trade.\n", "\n"),
    ] {
        fs::write(book.join("breaks.toml"), whole.replacen(from, to, 1)).expect("written");
        assert_eq!(told_to_people(book), [no_longer], "{from}");
    }
    fs::write(book.join("breaks.toml"), &whole).expect("written");
    change(
        book,
        "concertina.toml",
        "panel-width = \"90 mm\"",
        "panel-width = \"95 mm\"",
    );
    assert_eq!(
        told_to_people(book),
        [
            "front 1 is passed for press at 90 mm × 90 mm with 3 mm of bleed, and the plan now makes it 95 mm × 90 mm \
             with 3 mm of bleed"
        ]
    );
}

/// Blank panels that were chosen blank are not missed on a shorter strip.
#[test]
fn a_shorter_strip_forgets_what_was_blank() {
    let temp = temporary();
    let book = temp.path();
    kept(book);
    change(
        book,
        "concertina.toml",
        "panels-per-side = 4",
        "panels-per-side = 3",
    );
    run_in(book, &["flow"]).done();
}

/// What was chosen and is gone is told.
#[test]
fn a_picture_that_is_gone_is_told() {
    let temp = temporary();
    let book = temp.path();
    kept(book);
    change(
        book,
        "breaks.toml",
        "role = \"text\"",
        "role = \"shared\"\npicture = \"the weding\"",
    );
    let said = run_in(book, &["flow"]).done();
    assert!(
        said.contains("What was chosen for front 1 is no longer there"),
        "{said}"
    );
}

/// Passing what the last layers do not show is told.
#[test]
fn passing_what_is_not_as_in_the_layers_is_told() {
    let temp = temporary();
    let book = temp.path();
    kept(book);
    run_in(book, &["layers"]).done();
    change(book, "winter-bus.txt", "Snow lay", "Snow hung");
    let ran = run_in(book, &["pass", "front 1 to front 2"]);
    assert_eq!(ran.status, Some(0));
    assert!(
        ran.stderr
            .starts_with("Front 2 is not as in the last layers"),
        "{}",
        ran.stderr
    );
}
