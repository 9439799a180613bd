//! Manuscripts that cannot be set as they stand, and one that only seems so.

use super::{faults, refused, told, told_to_people};
use crate::support::{run_in, small_plan, temporary, write_book};

#[test]
fn a_manuscript_in_another_encoding_is_told_with_the_byte() {
    let temp = temporary();
    let latin =
        b"One long from Ladle and the caf\xe9 lit\nthe gas for soup. A na\xefve cr\xe8me.\n";
    write_book(temp.path(), &small_plan(2, ""), latin);
    assert_eq!(
        told(temp.path()),
        [
            "concertina.toml:3:14: `winter-bus.txt` is not UTF-8 text from byte offset 31 on, on line 1; \
          it is likely Windows-1252 or ISO 8859-1 (Latin-1)"
        ]
    );
    // So that the guess can be judged, the words about that byte stand as they would read.
    let read = faults(temp.path())[0]["read"].to_string();
    assert!(read.contains("Ladle and the café lit"), "{read}");
}

#[test]
fn an_unknown_callout_is_told_with_what_was_meant_and_how_to_set_it_as_words() {
    let temp = temporary();
    let verse = "One long, before a bend.\n  [pictur: the hut]\n\n[He coughed.]\n";
    write_book(temp.path(), &small_plan(2, ""), verse);
    assert_eq!(
        told(temp.path()),
        [
            "winter-bus.txt:2:3: there is no callout `[pictur: the hut]`",
            "winter-bus.txt:4:1: there is no callout `[He coughed.]`",
        ]
    );
    let faults = faults(temp.path());
    assert_eq!(faults[0]["meant"], "[picture: the hut]");
    assert_eq!(
        faults[1]["help"],
        "if these are the client's words, write \\[He coughed.]"
    );
    assert_eq!(faults[1]["meant"], serde_json::Value::Null);
}

#[test]
fn lines_kept_together_without_an_end_are_told_where_they_begin() {
    let temp = temporary();
    let verse = "One long.\n[keep together]\nTwo short.\n\nLong, short, long.\n";
    write_book(temp.path(), &small_plan(2, ""), verse);
    assert_eq!(
        told(temp.path()),
        ["winter-bus.txt:2:1: `[keep together]` has no end"]
    );
}

#[test]
fn a_picture_called_twice_or_never_is_told() {
    let temp = temporary();
    let picture = "\n[[picture]]\nname = \"the hut\"\n";
    let verse = "One long.\n[picture: the hut]\nTwo short.\n[picture: the hut]\n";
    write_book(temp.path(), &small_plan(4, picture), verse);
    assert_eq!(
        told(temp.path()),
        ["winter-bus.txt:4:1: two callouts name the picture `the hut`"]
    );
    assert_eq!(faults(temp.path())[0]["also"][0]["line"], 2);
    write_book(temp.path(), &small_plan(4, picture), "One long.\n");
    assert_eq!(
        told(temp.path()),
        ["concertina.toml:11:1: nothing places the picture `the hut`"]
    );
}

#[test]
fn a_manuscript_without_a_word_is_refused() {
    let temp = temporary();
    for nothing in [
        "",
        "\n \n\t\n",
        "\u{feff}\r\n",
        "[new panel]\n[picture: the hut]\n",
    ] {
        write_book(temp.path(), &small_plan(2, ""), nothing);
        assert_eq!(
            refused(temp.path(), &["layers"]),
            "Fault: there is not a word in winter-bus.txt\n  \
             help: the manuscript is a text file with the client's words\n",
            "{nothing:?}"
        );
    }
}

/// Signs that are no letters are told together, each by its name and every place.
#[test]
fn signs_that_no_face_has_are_told_by_name_and_place() {
    let temp = temporary();
    let verse = "The bus ☃ went up\nand ☃ came down ☃.\n\nIn the pocket was a 🎫, not torn.\n";
    write_book(temp.path(), &small_plan(2, ""), verse);
    assert_eq!(
        told(temp.path()),
        ["winter-bus.txt:1:9: no face has 2 signs: U+2603 SNOWMAN (3 times) and U+1F3AB TICKET"]
    );
    let fault = &faults(temp.path())[0];
    let also = &fault["also"].as_array().expect("places")[..];
    let places: Vec<[u64; 2]> = also
        .iter()
        .map(|also| ["line", "column"].map(|key| also[key].as_u64().expect("a number")))
        .collect();
    assert_eq!(places, [[2, 5], [2, 17], [4, 21]]);
    assert_eq!(
        fault["help"],
        "no typeface that comes with the program has them: name a font file that has them by its path from \
         the book's folder: fallback = [\"fonts/NAME.ttf\"]"
    );
}

/// A text in a script that no face has is one fault, however many of its characters there are, and tells what to
/// write in the plan. So it is where the plan names a face for it that has not got it.
#[test]
fn a_script_that_no_face_has_is_one_fault() {
    let temp = temporary();
    let cases = [
        (
            "اَلْحَافِلَةُ قَادِمَةٌ، ابْقَ حَيْثُ أَنْتَ",
            "no face has 20 Arabic characters: U+0627 ARABIC LETTER ALEF (4 times), ",
            "Amiri has them: write in the plan, under [text]: fallback = [\"Noto Serif Thai\", \"Amiri\"]",
        ),
        (
            "הָאוֹטוֹבּוּס בָּא.",
            "no face has 9 Hebrew characters: U+05D4 HEBREW LETTER HE, U+05B8 HEBREW POINT QAMATS (twice), ",
            "Noto Serif Hebrew has them: write in the plan, under [text]: fallback = [\"Noto Serif Thai\", \"Noto Serif Hebrew\"]",
        ),
        (
            "バスが来る。「そこにいて」",
            "no face has 13 Japanese characters: U+30D0 KATAKANA LETTER BA, ",
            "no typeface that comes with the program has Chinese or Japanese characters: name a font file that \
             has them by its path from the book's folder: fallback = [\"Noto Serif Thai\", \"fonts/NAME.ttf\"]",
        ),
        (
            "버스가 온다",
            "no face has 5 Hangul characters: U+BC84 HANGUL SYLLABLE BEO, ",
            "no typeface that comes with the program has Korean characters: name a font file that has them by \
             its path from the book's folder: fallback = [\"Noto Serif Thai\", \"fonts/NAME.ttf\"]",
        ),
        (
            "बस आ रही है ꣼।",
            "no face has 9 Devanagari characters: U+092C DEVANAGARI LETTER BA, ",
            "Noto Serif Devanagari has them: write in the plan, under [text]: \
             fallback = [\"Noto Serif Thai\", \"Noto Serif Devanagari\"]",
        ),
    ];
    for (words, what, help) in cases {
        let plan = small_plan(2, "\n[text]\nfallback = [\"Noto Serif Thai\"]\n");
        write_book(
            temp.path(),
            &plan,
            format!("Two short, รถเมล์.\n\nLong: {words}\n"),
        );
        let faults = faults(temp.path());
        let [fault] = &faults[..] else {
            panic!("{faults:?}")
        };
        assert_eq!(fault["word"], "no-face");
        let told = fault["what"].as_str().expect("a sentence");
        assert!(told.starts_with(what), "{told}");
        assert_eq!(fault["help"], help);
        let place = &fault["place"];
        assert_eq!((&place["line"], &place["column"]), (&3.into(), &7.into()));
        assert_eq!(fault["also"][0]["file"], "concertina.toml");
    }
}

/// A word too wide is no fault: it is broken, and that is told.
#[test]
fn a_word_wider_than_the_measure_is_broken_and_told() {
    let temp = temporary();
    let word = "Postautohaltestellenwinterfahrplanaushangkastenschlüssel";
    write_book(
        temp.path(),
        &small_plan(2, ""),
        format!("Two short.\n{word}.\nOne long.\n"),
    );
    let said = run_in(temp.path(), &["layers"]).done();
    let note =
        "– A word is wider than the measure of 68 mm and is broken (winter-bus.txt, line 2).\n";
    assert!(said.contains(note), "{said}");
    let layer = std::fs::read(temp.path().join("out/layers/front-01.pdf")).expect("a layer");
    let read = versefold::readback::words(&layer).expect("it reads back");
    let lines: Vec<&str> = read.pages[0]
        .lines
        .iter()
        .map(|line| line.text.as_str())
        .collect();
    assert_eq!(lines.concat(), format!("Two short.{word}.One long."));
    assert!(lines.len() > 3, "{lines:?}");
}

#[test]
fn far_too_much_verse_is_told_with_the_panels_it_needs() {
    let temp = temporary();
    let stanza = "They set the poles with cows still on the grass,\nfour metres, larch, three bands of \
                  black,\none every twenty paces on the drop side.\n\n";
    let verse = stanza.repeat(300_000 / stanza.len());
    write_book(temp.path(), &small_plan(4, ""), &verse);
    let said = told_to_people(temp.path());
    let [said] = &said[..] else {
        panic!("{said:?}")
    };
    let room = "the part `body` does not fit on its 4 panels at 11 pt: its words take at least ";
    let needed: usize = said
        .strip_prefix(room)
        .and_then(|rest| rest.strip_suffix(", whatever gives way"))
        .and_then(|n| n.parse().ok())
        .unwrap_or_else(|| panic!("{said}"));
    // Two stanzas of three lines with a space between them fit a panel that is at most 95 % full, and not a line more.
    let stanzas = verse.matches("\n\n").count();
    assert_eq!(needed, stanzas.div_ceil(2));
}
