//! Texts that no client sends on purpose: each is set properly or refused with a message, and soon.

use super::told;
use crate::support::{Ran, run_in, small_plan, temporary, write_book};

const KINDS: [&str; 2] = ["prose", "verse"];

/// The plan of a book that is set as verse or prose.
fn plan(kind: &str, more: &str) -> String {
    small_plan(4, &format!("\n[text]\nset-as = \"{kind}\"\n{more}"))
}

/// `layers` for a manuscript, which must set it.
fn set(kind: &str, more: &str, manuscript: &str) -> String {
    let temp = temporary();
    write_book(temp.path(), &plan(kind, more), manuscript);
    run_in(temp.path(), &["layers"]).done()
}

/// The faults of a manuscript that must be refused.
fn refused(kind: &str, manuscript: impl AsRef<[u8]>) -> Vec<String> {
    let temp = temporary();
    write_book(temp.path(), &plan(kind, ""), manuscript);
    told(temp.path())
}

/// A line that goes on for ever is no verse, and a word that does no word.
#[test]
fn a_word_without_end_is_refused() {
    let mark = format!("a{}", "\u{301}".repeat(50_000));
    let words = ["Postautohaltestelle".repeat(5264), "-".repeat(20_000), mark];
    for word in words {
        let letters = word.chars().count();
        let text = format!("Two short.\n\nLong {word}\n");
        assert_eq!(
            refused("prose", &text),
            [format!(
                "winter-bus.txt:3:6: one word of prose has {letters} letters"
            )]
        );
        let letters = letters + 5;
        assert_eq!(
            refused("verse", &text),
            [format!(
                "winter-bus.txt:3:1: one line of verse has {letters} letters"
            )]
        );
    }
}

/// A paragraph of a million words, to a book of four panels.
#[test]
fn a_paragraph_of_a_million_words_is_refused() {
    let text = "over the pass and back ".repeat(200_000);
    assert_eq!(
        refused("verse", &text),
        ["winter-bus.txt:1:1: one line of verse has 4599999 letters"]
    );
    let said = refused("prose", &text);
    let [said] = &said[..] else {
        panic!("{said:?}")
    };
    let needed = said
        .strip_prefix("the part `body` has 4599999 letters and needs more than ")
        .and_then(|rest| rest.strip_suffix(" panels, and the plan gives it 4"));
    let needed: usize = needed
        .and_then(|n| n.parse().ok())
        .unwrap_or_else(|| panic!("{said}"));
    // The 23 letters of a repetition are 9.288 em wide in Alegreya (hb-shape of HarfBuzz 6.0.0), 11 pt is 3.88 mm,
    // a line 68 mm, a panel ten lines: 10,600 panels. Told is a safe part of that.
    assert!((4_000..10_600).contains(&needed), "{needed}");
}

#[test]
fn control_characters_are_told() {
    for kind in KINDS {
        assert_eq!(
            refused(
                kind,
                "One\u{1} long\u{2}, \u{7}before\u{7f} a \u{1b}[31m bend.\n"
            ),
            [
                "winter-bus.txt:1:4: 5 control characters (U+0001, U+0002, U+0007, U+007F and others) stand in the \
              manuscript, which no face can show"
            ]
        );
        assert_eq!(
            refused(kind, "Two\n\nshort\u{8}\n"),
            [
                "winter-bus.txt:3:6: a control character (U+0008) stands in the manuscript, which no face can show"
            ]
        );
    }
}

/// Half of a surrogate pair, written as if it were a character (Unicode 15.0, D92, table 3-7: no well-formed UTF-8
/// begins with ED A0).
#[test]
fn half_a_surrogate_pair_is_told_with_the_byte() {
    for kind in KINDS {
        let said = refused(kind, b"One long, before\na bend \xed\xa0\x80 x.\n");
        assert_eq!(
            said[0],
            "concertina.toml:3:14: `winter-bus.txt` is not UTF-8 text from byte offset 24 on, on line 2; it is \
             likely CESU-8, which some programs write where UTF-8 is asked for"
        );
    }
}

#[test]
fn marks_without_letters_are_set() {
    for kind in KINDS {
        for marks in ["\u{301}\u{302} ".repeat(40), "\u{301}".repeat(30)] {
            set(kind, "", &marks);
            set(kind, "", &format!("One long {marks} before a bend."));
        }
        let heap = format!("One long, be{}fore a bend.", "\u{301}\u{323}".repeat(100));
        assert_eq!(
            refused(kind, heap),
            ["winter-bus.txt:1:43: a letter has more than 30 marks above and below it"]
        );
    }
}

/// Many noughts are told as control characters, a few as what is left of another encoding.
#[test]
fn noughts_are_told() {
    for kind in KINDS {
        assert_eq!(refused(kind, "\u{0}".repeat(1000)).len(), 1);
        assert_eq!(refused(kind, "One\u{0} long.\n").len(), 1);
    }
}

/// Unicode 15.0, UAX #9, BD2: at most 125 embeddings count; the rest are passed over.
#[test]
fn directions_within_directions_are_set() {
    let turns = |open: [char; 2], close: char| {
        let mut text = String::from("One long ");
        for turn in 0..500 {
            text.push(open[turn % 2]);
            text.push_str(if turn % 50 == 0 { "ab אב " } else { "" });
        }
        text.push_str("אב ab");
        text.extend(std::iter::repeat_n(close, 500));
        text + " before a bend."
    };
    for kind in KINDS {
        let more = "fallback = [\"Noto Serif Hebrew\"]\n";
        for opening in [['\u{202b}', '\u{202a}'], ['\u{202e}', '\u{202d}']] {
            set(kind, more, &turns(opening, '\u{202c}'));
        }
        set(kind, more, &turns(['\u{2067}', '\u{2066}'], '\u{2069}'));
        set(kind, more, &format!("One {}long.", "\u{2067}".repeat(500)));
    }
}

/// Marks of a quotation that begin or end a line in the midst of words that run the other way hang nowhere.
#[test]
fn a_quotation_that_runs_the_other_way_stays_within_its_lines() {
    let quotation = "“Good night,” she said, “and sleep well,” and “drive slowly,” she said,";
    for words in 0..14 {
        let before = "השלג ירד כל הלילה ".repeat(1 + words % 3) + &"אז ".repeat(words);
        let more =
            "typeface = \"Noto Serif Hebrew\"\nfallback = [\"Alegreya\"]\nalign = \"justified\"\n";
        let text = format!("{before}{quotation} והאוטובוס יצא לדרך אל ההר הגבוה בשלג.");
        let temp = temporary();
        let plan = plan("prose", more).replace("en-GB", "he");
        write_book(temp.path(), &plan, &text);
        run_in(temp.path(), &["layers", "--quiet"]).done();
    }
}

#[test]
fn signs_that_are_not_seen_are_set() {
    let joined: Vec<String> = "before a bend"
        .chars()
        .map(|c| format!("{c}\u{200d}"))
        .collect();
    let text = format!(
        "One {} long.\n\n{}",
        joined.concat(),
        "\u{200d}\u{200c}".repeat(200)
    );
    let soft: Vec<String> = "The mail went over the pass at twenty past five. "
        .repeat(4)
        .chars()
        .map(|c| format!("{c}\u{ad}"))
        .collect();
    for kind in KINDS {
        set(kind, "", &text);
        set(kind, "hyphenate = true\n", &soft.concat());
        for nothing in [
            "\u{a0}\u{a0}\n",
            "\u{ad}\u{ad}\n",
            "\u{200b}\n",
            "\u{2060}\n",
        ] {
            set(kind, "", nothing);
            set(
                kind,
                "",
                &format!("One long.\n  {nothing}\t\n\nTwo short.\n"),
            );
        }
    }
}

#[test]
fn spaced_dots_wider_than_the_measure_stay_within_it() {
    let temp = temporary();
    let dots = ". ".repeat(200);
    write_book(
        temp.path(),
        &plan("prose", ""),
        format!("One long {dots}bend."),
    );
    let said = run_in(temp.path(), &["flow", "--json"]).done();
    let layout: serde_json::Value = serde_json::from_str(&said).expect("JSON");
    let panels = layout["panels"].as_array().expect("panels").iter();
    let lines: Vec<_> = panels
        .flat_map(|panel| panel["lines"].as_array().expect("lines"))
        .collect();
    assert!(lines.len() > 5, "{} lines", lines.len());
    for line in lines {
        let mm = |key: &str| line[key].as_f64().expect("a length");
        // A full stop may hang outside, and is no wider than this.
        assert!(mm("width_mm") - mm("measure_mm") < 0.9, "{line}");
    }
}

#[test]
fn a_paragraph_full_of_callouts_is_set() {
    let text = "The mail went over\n[may divide]\n".repeat(3_000);
    let said = refused("prose", &text);
    assert!(said[0].contains(" panels"), "{said:?}");
    let text = "over\n[may divide]\n".repeat(150);
    set("prose", "", &text);
    let kept = "over\n[keep together]\nthe pass\n[end together]\n".repeat(40);
    set("prose", "", &kept);
    set("verse", "", &kept[..kept.len() / 4]);
}

/// A language whose words cannot be divided is told once, and set without hyphens.
#[test]
fn a_language_without_patterns_is_told_once() {
    let temp = temporary();
    let parts = "hyphenate = true\n\n[[part]]\nname = \"body\"\non = [\"front 1\"]\n\n\
                 [[part]]\nname = \"safari\"\non = [\"front 2\"]\nlanguage = \"sw\"\n\n\
                 [[part]]\nname = \"safari ya pili\"\non = [\"front 3\"]\nlanguage = \"sw\"\n\n\
                 [[part]]\nname = \"carta\"\non = [\"front 4\"]\nlanguage = \"it\"\n";
    let swahili = "Basi la posta lilipanda mlimani asubuhi na mapema, na abiria walikuwa wamelala.";
    let text = format!(
        "The mail went over the pass.\n[part: safari]\n{swahili}\n[part: safari ya pili]\n{swahili}\n\
         [part: carta]\nLa corriera postale saliva lentamente.\n"
    );
    write_book(temp.path(), &plan("prose", parts), text);
    let ran: Ran = run_in(temp.path(), &["flow", "--json"]);
    let layout: serde_json::Value = serde_json::from_str(&ran.done()).expect("JSON");
    let notes = layout["remarks"].as_array().expect("remarks").iter();
    let notes: Vec<_> = notes.filter(|note| note["word"] == "no-patterns").collect();
    let [note] = &notes[..] else {
        panic!("{notes:?}")
    };
    assert_eq!(
        note["what"],
        "no rules for dividing words of the language `sw` are known: they are divided at soft hyphens alone"
    );
    let panels = layout["panels"].as_array().expect("panels");
    for line in panels[1]["lines"].as_array().expect("lines") {
        assert_eq!(line["added"], serde_json::Value::Null);
    }
    assert!(
        run_in(temp.path(), &["layers"])
            .done()
            .contains("words of the language `sw`")
    );
}

/// More pictures than can be told apart in any order, and more panels back to back than are remembered.
#[test]
fn more_pictures_in_any_order_than_there_is_room_for_are_refused() {
    let temp = temporary();
    let plan = small_plan(40, "\n[rules]\npicture-order = \"free\"\n");
    let called = |at: usize| format!("Line {at}.\n[picture: number {at}]\n\n");
    let text: String = (1..=33).map(called).collect();
    write_book(temp.path(), &plan, &text);
    assert_eq!(
        told(temp.path()),
        [
            "winter-bus.txt:98:1: with `picture-order = \"free\"` a part has no more than 32 pictures that are not \
             pinned, and `body` has 33"
        ]
    );
    let plan = small_plan(65, "\n[[picture]]\nname = \"number 1\"\nheavy = true\n");
    let plan = plan.replace("sides = \"front\"", "sides = \"both\"");
    write_book(temp.path(), &plan, called(1));
    let told = told(temp.path());
    assert_eq!(told.len(), 1);
    assert!(
        told[0].contains("`number 1` is heavy, and of no more than 64 panels"),
        "{told:?}"
    );
}
