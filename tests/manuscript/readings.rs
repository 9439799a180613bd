//! `漢字《かんじ》`: which words a reading belongs to, and what is left plain.

use crate::support::share::Share;
use proptest::prelude::*;
use versefold::names::{Faults, SetAs, Source};
use versefold::text::{Manuscript, TileKind, escape};

fn read(text: &str) -> Result<Manuscript, Faults> {
    let source = Source::new("winter-bus.txt", text);
    Manuscript::read_as(&source, SetAs::Verse, |part| part == "body")
}

/// Each base with its reading.
fn rubies(manuscript: &Manuscript) -> Vec<(String, String)> {
    let text = &manuscript.source().text;
    let lines = manuscript.parts().iter().flat_map(|part| &part.lines);
    let rubies = lines.flat_map(|line| &line.rubies);
    let words = |ruby: &versefold::text::Ruby| {
        let words = |bytes: &std::ops::Range<usize>| text[bytes.clone()].to_string();
        (words(&ruby.base), words(&ruby.reading))
    };
    rubies.map(words).collect()
}

#[test]
fn a_reading_belongs_to_the_letters_of_one_script_before_it() {
    for (text, base, reading) in [
        ("冬山《ふゆやま》を", "冬山", "ふゆやま"),
        ("人々《ひとびと》", "人々", "ひとびと"),
        ("このバス《ばす》", "バス", "ばす"),
        ("The bus《バス》", "bus", "バス"),
        ("歌は｜峠の灯《とうげのひ》", "峠の灯", "とうげのひ"),
        ("*雪*の夜《よる》", "夜", "よる"),
    ] {
        let found = read(text).map(|manuscript| rubies(&manuscript));
        let expected = vec![(base.to_string(), reading.to_string())];
        assert_eq!(found.ok(), Some(expected), "{text}");
    }
}

#[test]
fn brackets_are_plain_in_other_languages_and_behind_a_backslash() {
    let other = Source::new("winter-bus.txt", "一首《冬》｜歌");
    let other = Manuscript::read_as(&other, SetAs::Verse, |_| false).expect("plain words");
    assert!(rubies(&other).is_empty());
    assert_eq!(
        other.parts()[0].lines[0].text(other.source()),
        "一首《冬》｜歌"
    );
    let ours = read("歌は\\《冬\\》").expect("plain words");
    assert!(rubies(&ours).is_empty());
    assert_eq!(ours.parts()[0].lines[0].text(ours.source()), "歌は《冬》");
}

#[test]
fn each_bracket_without_a_base_or_an_end_is_told() {
    let faults = read("《ふゆ》の\n雪《ゆき\n夜《》、夜《よ る》、、《か》").expect_err("faults");
    let places: Vec<(usize, usize)> = faults
        .iter()
        .filter_map(|fault| fault.place.as_ref())
        .map(|place| (place.line(), place.column()))
        .collect();
    assert_eq!(places, [(1, 1), (2, 2), (3, 2), (3, 6), (3, 13)]);
    assert!(faults.iter().all(|fault| fault.word == "reading"));
}

/// Text made of what readings are made of, in any order.
fn signs() -> impl Strategy<Value = String> {
    let sign = prop::sample::select(vec![
        "《", "》", "｜", "\\", "冬", "山", "ふ", "ゆ", "バ", "a", " ", "。", "*", "\n",
    ]);
    prop::collection::vec(sign, 1..24).prop_map(|signs| signs.concat())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(4_000) })]

    /// Every byte is of one kind, and base and reading are words with nothing but mark-up between.
    #[test]
    fn bytes_are_accounted_for(text in signs()) {
        static CASES: Share = Share::new();
        let Ok(manuscript) = read(&text) else {
            CASES.passed_over(25);
            return Ok(());
        };
        CASES.ran();
        let mut at = 0;
        for tile in manuscript.tiles() {
            prop_assert_eq!(tile.from, at, "{:?}", &text);
            at = tile.to;
        }
        prop_assert_eq!(at, text.len());
        let kind_of = |byte: usize| {
            manuscript.tiles().iter().find(|tile| tile.range().contains(&byte)).map(|tile| tile.kind)
        };
        for ruby in manuscript.parts()[0].lines.iter().flat_map(|line| &line.rubies) {
            prop_assert!(ruby.reading.clone().all(|byte| kind_of(byte) == Some(TileKind::Word)));
            let between = ruby.base.end..ruby.reading.start;
            prop_assert_eq!(&text[between], "《");
        }
    }

    /// What a client's text is made into for a new book has no fault, and keeps its words but for the signs of
    /// readings.
    #[test]
    fn an_escaped_text_has_no_faults(text in signs()) {
        let escaped = escape(&text, true);
        match read(&escaped) {
            Err(faults) => prop_assert!(faults.iter().all(|fault| fault.word == "empty"), "{:?}: {:?}", &escaped, faults),
            Ok(manuscript) => {
                let words: String = manuscript.word_ranges().map(|word| &escaped[word]).collect();
                let plain: String = text.chars().filter(|c| !c.is_whitespace()).collect();
                let signs = |words: &str| words.chars().filter(|c| matches!(c, '《' | '》' | '｜')).count();
                let readings = rubies(&manuscript).len();
                let letters = |words: &str| words.replace(['《', '》', '｜'], "");
                prop_assert_eq!(letters(&words), letters(&plain), "{:?}", &escaped);
                let marked = signs(&plain) - signs(&words);
                prop_assert!((2 * readings..=3 * readings).contains(&marked), "{:?}", &escaped);
            }
        }
    }
}
