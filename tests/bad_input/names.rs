//! Titles and names that no face can show, or that hold what no line of words holds.

use std::fs;

use super::{refused, told};
use crate::support::{run_in, small_plan, temporary, write_book};

const VERSE: &str = "Chains go on before you need them.\n[picture: the hairpins]\nTwo short.\n";

/// A plan with this title and with more below `[paper]`.
fn titled(title: &str, more: &str) -> String {
    small_plan(4, more).replacen("\"The Winter Bus\"", title, 1)
}

const TITLE_PANEL: &str = "\n[[panel]]\npanel = \"front 1\"\nrole = \"title\"\n";

/// A title is the plan's: what no face has is told there, whether a panel shows it or only the sheets that go with it.
#[test]
fn a_title_that_no_face_has_is_told_at_its_key() {
    for more in ["", TITLE_PANEL] {
        let temp = temporary();
        write_book(temp.path(), &titled("\"雪 The Winter Bus\"", more), VERSE);
        let what = "concertina.toml:1:9: no face has U+96EA CJK UNIFIED IDEOGRAPH-96EA";
        assert_eq!(told(temp.path()), [what], "{more}");
        let said = refused(temp.path(), &["layers"]);
        assert!(said.contains("fallback = [\"fonts/NAME.ttf\"]"), "{said}");
    }
}

/// On a panel a title is set in the faces of the words, which may lack what those of labels have.
#[test]
fn a_title_that_only_labels_have_faces_for_is_told_where_a_panel_shows_it() {
    let temp = temporary();
    let title = "\"האוטובוס\"";
    write_book(temp.path(), &titled(title, ""), VERSE);
    run_in(temp.path(), &["layers"]).done();
    fs::remove_dir_all(temp.path().join("out")).expect("removed");
    write_book(temp.path(), &titled(title, TITLE_PANEL), VERSE);
    let told = told(temp.path());
    assert_eq!(told.len(), 1, "{told:?}");
    let begins = "concertina.toml:1:9: no face has ";
    assert!(
        told[0].starts_with(begins) && told[0].contains("Hebrew"),
        "{told:?}"
    );
    let help = "fallback = [\"Noto Serif Hebrew\"]";
    assert!(refused(temp.path(), &["layers"]).contains(help));
}

/// Names stand on the contact sheet: one that no face has is told where it stands, in the plan or in the manuscript.
#[test]
fn a_name_that_no_face_has_is_told_where_it_stands() {
    let temp = temporary();
    let named = "\n[[picture]]\nname = \"the 雪 poles\"\n\n[[panel]]\npanel = \"front 4\"\npicture = \"the 雪 poles\"\n";
    let ink = "\n[text]\nink = { spot = \"橙\", cmyk = [0, 0.3, 1, 0] }\n";
    let called = VERSE.replace("the hairpins", "the ☃");
    write_book(
        temp.path(),
        &small_plan(4, &format!("{named}{ink}")),
        called,
    );
    assert_eq!(
        told(temp.path()),
        [
            "concertina.toml:12:8: no face has U+96EA CJK UNIFIED IDEOGRAPH-96EA",
            "concertina.toml:19:7: no face has U+6A59 CJK UNIFIED IDEOGRAPH-6A59",
            "winter-bus.txt:2:1: no face has U+2603 SNOWMAN",
        ]
    );
}

/// Names in scripts that only some faces of the program have are set in those.
#[test]
fn names_in_every_script_of_the_program_are_shown() {
    for (name, face) in [
        ("सुरंग", "NotoSerifDevanagari"),
        ("อุโมงค์", "NotoSerifThai"),
        ("המנהרה", "NotoSerifHebrew"),
        ("النفق", "Amiri"),
        ("тоннель", "AlegreyaSans-Italic"),
    ] {
        let temp = temporary();
        let called = VERSE.replace("the hairpins", name);
        write_book(temp.path(), &small_plan(4, ""), called);
        run_in(temp.path(), &["layers"]).done();
        let sheet = fs::read(temp.path().join("out/contact-sheet.pdf")).expect("a contact sheet");
        let read = versefold::readback::words(&sheet).expect("it reads back");
        let found = read.fonts.iter().any(|font| font.name.contains(face));
        assert!(found, "{name}: {:?}", read.fonts);
    }
}

#[test]
fn lines_and_signs_that_are_not_seen_are_refused_in_titles_and_names() {
    for (title, what) in [
        (
            "\"\"\"\nThe Winter\nBus\"\"\"",
            "`title` goes over more than one line (U+000A)",
        ),
        (
            "\"The Winter\\u2028Bus\"",
            "`title` goes over more than one line (U+2028)",
        ),
        (
            "\"The\\u0007 Winter Bus\"",
            "`title` holds a character that is not seen (U+0007)",
        ),
        (
            "\"The \\u202esuB\"",
            "`title` holds a character that is not seen (U+202E)",
        ),
    ] {
        let temp = temporary();
        write_book(temp.path(), &titled(title, ""), VERSE);
        assert_eq!(told(temp.path()), [format!("concertina.toml:1:9: {what}")]);
    }
    // Between words that run both ways a mark may be needed; in a name it would only hide.
    let temp = temporary();
    write_book(
        temp.path(),
        &titled("\"The Winter Bus\\u200e!\"", ""),
        VERSE,
    );
    run_in(temp.path(), &["flow"]).done();
    for sign in [
        "\\u001b]0;snow\\u0007",
        "\\u009b5m",
        "\\u202e",
        "\\u200f",
        "\\u2066",
    ] {
        let named = format!("\n[[picture]]\nname = \"the {sign}hairpins\"\n");
        write_book(temp.path(), &small_plan(4, &named), VERSE);
        let told = told(temp.path());
        let begins = "concertina.toml:12:8: `name` holds a character that is not seen (U+";
        assert!(told.iter().any(|told| told.starts_with(begins)), "{told:?}");
        assert_nothing_acts(&refused(temp.path(), &["flow"]));
    }
    for sign in ['\u{202e}', '\u{200f}'] {
        write_book(
            temp.path(),
            &small_plan(4, ""),
            VERSE.replace("the h", &format!("the {sign}h")),
        );
        let begins =
            "winter-bus.txt:2:1: the name in this callout holds a character that is not seen";
        let told = told(temp.path());
        assert!(told[0].starts_with(begins), "{told:?}");
    }
}

/// No message holds what would act on a terminal.
fn assert_nothing_acts(said: &str) {
    let acts = |c: char| {
        c.is_control() && c != '\n'
            || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    assert_eq!(said.chars().find(|&c| acts(c)), None, "{said:?}");
}

/// Faults show what they are about, wherever control characters stand: in a key, in a word of the plan, in the lines of the
/// plan that are drawn, in the manuscript.
#[test]
fn what_is_shown_of_a_fault_never_acts_on_the_terminal() {
    for (plan, words) in [
        (small_plan(4, "\"wi\\u001b[31mdth\" = 1\n"), VERSE),
        (small_plan(4, "cover = \"\\u001b[31mself\"\n"), VERSE),
        (small_plan(4, "covre = \"\u{9b}31m\u{202e}\"\n"), VERSE),
        (small_plan(4, ""), "Chains\u{1b}[31m go on.\n"),
        (small_plan(4, ""), "Chains \u{9b}31m go on.\n"),
        (small_plan(4, ""), "[pictre: \u{202e}hairpins]\n"),
    ] {
        let temp = temporary();
        write_book(temp.path(), &plan, words);
        assert_nothing_acts(&refused(temp.path(), &["flow"]));
    }
}
