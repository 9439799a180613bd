//! Where words may be divided: published divisions, the author's exceptions, and the guards around the patterns.

use hyphenation::score::Score;
use hyphenation::{Hyphenator as _, Language, Load, Standard};
use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use unicode_normalization::UnicodeNormalization;
use unicode_segmentation::UnicodeSegmentation;
use versefold::typeface::Hyphenator;

fn hyphenator(language: &str) -> Hyphenator {
    with(language, &[])
}

fn with(language: &str, exceptions: &[&str]) -> Hyphenator {
    let exceptions: Vec<String> = exceptions.iter().map(|word| word.to_string()).collect();
    let made = Hyphenator::new(language, &exceptions);
    made.unwrap_or_else(|| panic!("no patterns for {language}"))
}

/// A word with a middle dot at each point.
fn shown(hyphenator: &Hyphenator, word: &str) -> String {
    let mut shown = String::new();
    let mut from = 0;
    for at in hyphenator.points(word) {
        shown += &word[from..at];
        shown.push('·');
        from = at;
    }
    shown + &word[from..]
}

fn check(hyphenator: &Hyphenator, expected: &[&str]) {
    for expected in expected {
        let word = expected.replace('·', "");
        assert_eq!(shown(hyphenator, &word), *expected);
    }
}

/// The worked example of Liang's thesis (*Word Hy-phen-a-tion by Com-put-er*, Stanford 1983): the patterns
/// `hy3ph he2n hena4 hen5at 1na n2at 1tio 2io o2n` give these levels, and odd ones are points. A longer list of
/// exceptions, which the patterns come with, goes on to divide the a.
#[test]
fn the_levels_of_the_worked_example() {
    let patterns = Standard::from_embedded(Language::EnglishUS).expect("the patterns are there");
    assert_eq!(
        patterns.score("hyphenation"),
        [0, 3, 0, 0, 2, 5, 4, 2, 0, 2]
    );
    assert_eq!(patterns.opportunities_within("hyphenation", (2, 8)), [2, 6]);
    check(&hyphenator("en-US"), &["hy·phen·a·tion"]);
}

/// Words that two other programs divide alike with the same patterns (left 2, right 3), and the fourteen
/// exceptions published with them. Without those, `project` would be divided as the verb alone is.
#[test]
fn published_divisions_of_american_english() {
    check(
        &hyphenator("en"),
        &[
            "con·cate·na·tion",
            "al·go·rithm",
            "su·per·cal·ifrag·ilis·tic·ex·pi·ali·do·cious",
            "as·so·ciate",
            "as·so·ciates",
            "dec·li·na·tion",
            "oblig·a·tory",
            "phil·an·thropic",
            "present",
            "presents",
            "project",
            "projects",
            "reci·procity",
            "re·cog·ni·zance",
            "ref·or·ma·tion",
            "ret·ri·bu·tion",
            "ta·ble",
        ],
    );
}

/// Rules of each language's own orthography (common practice, as dictionaries show them).
#[test]
fn divisions_of_other_languages() {
    for (language, words) in [
        ("en-GB", &["re·ci·pro·city", "moun·tain"][..]),
        ("de", &["Fens·ter", "Zu·cker", "Stra·ße", "Berg·stra·ße"]),
        (
            "de-CH",
            &["Fens·ter", "Zu·cker", "Stras·se", "Schnee·pflug"],
        ),
        ("de-1901", &["Fen·ster", "Zucker", "Stra·ße"]),
        ("de-CH-1901", &["Fen·ster", "Stras·se"]),
        ("fr", &["mon·tagne", "au·jour·d’hui", "l’au·to·bus"]),
        ("it", &["mon·ta·gna", "del·l’in·ver·no"]),
        ("es", &["mon·ta·ña", "ca·rre·te·ra"]),
        ("ru", &["до·ро·га", "зи·ма"]),
        ("uk", &["до·ро·га"]),
        ("el", &["χει·μώ·νας"]),
        ("hi", &["नम·स्कार"]),
    ] {
        check(&hyphenator(language), words);
    }
}

#[test]
fn a_tag_finds_its_patterns_or_none() {
    // These words tell two sets of patterns apart.
    for (tag, expected) in [
        ("en-GB", "re·ci·pro·city"),
        ("en-AU", "re·ci·pro·city"),
        ("en-US", "reci·procity"),
        ("EN-us-oxendict", "reci·procity"),
        ("sr", "пу·то·ва·ње"),
        ("sr-Cyrl-RS", "пу·то·ва·ње"),
        ("sr-Latn", "pu·to·va·nje"),
        ("bs", "pu·to·va·nje"),
        ("mn", "за·мын"),
        ("la-x-classic", "mag·nus"),
        ("la", "ma·gnus"),
        ("nb", "vei·en"),
        ("no", "vei·en"),
        ("pt-BR", "mon·ta·nha"),
        ("el-polyton", "χει·μῶ·νας"),
        ("am", "መን·ገድ"),
    ] {
        check(&hyphenator(tag), &[expected]);
    }
    for tag in [
        "", "xx", "vi", "ja", "zh", "zh-Hans", "cs", "ro", "ar", "he", "sr-Arab", "pa-Arab",
        "en-Shaw", "ko",
    ] {
        assert!(Hyphenator::new(tag, &[]).is_none(), "{tag}");
    }
    let languages = Hyphenator::languages();
    assert!(
        languages.is_sorted() && languages.len() > 60,
        "{languages:?}"
    );
    for tag in languages {
        assert!(Hyphenator::new(tag, &[]).is_some(), "{tag}");
    }
}

#[test]
fn the_authors_exceptions_go_before_patterns_and_minima() {
    let plain = hyphenator("de");
    check(&plain, &["Win·ter·berg", "Post·au·to", "Abend"]);
    let asked = with(
        "de",
        &[
            "winter-berg",
            "Postauto",
            "a-bend",
            "ober\u{2010}alp",
            "Me\u{308}r-li",
        ],
    );
    check(
        &asked,
        &[
            "Winter·berg",
            "WINTER·BERG",
            "Postauto",
            "A·bend",
            "Ober·alp",
        ],
    );
    // Also in another spelling of Unicode, in punctuation, and as a part of a compound.
    check(
        &asked,
        &[
            "Mër·li",
            "Me\u{308}r·li",
            "„Winter·berg!“",
            "Winter·berg-Pass·stra·ße",
            "Winter·berg’s",
        ],
    );
    // What is no such word is divided as ever.
    check(&asked, &["Win·ter·ber·ge"]);
    let english = with("en", &["winter-berg", "don’t", "pro-ject"]);
    check(&english, &["Winter·berg’s", "don't", "pro·ject"]);
    // Nothing to divide, or nothing but hyphens.
    with("en", &["", "-", "--", "-a-", "mail--bus"]);
    check(&with("en", &[" -mail--bus- "]), &["mail·bus"]);
}

#[test]
fn letters_whose_case_changes_their_length() {
    let german = hyphenator("de");
    check(&german, &["MAẞ·STÄB·LICH·KEI·TEN", "maß·stäb·lich·kei·ten"]);
    // The Kelvin sign has three bytes, its small letter one; İ has two, its own small letters three.
    check(&german, &["\u{212a}ÄL·TE", "käl·te"]);
    check(&hyphenator("tr"), &["İS·TAN·BUL", "is·tan·bul", "KIZ·LAR"]);
    // A sigma that ends a word has a small letter of its own.
    let greek = hyphenator("el");
    assert_eq!(greek.points("δρόμος"), greek.points("δρόμοσ"));
}

#[test]
fn decomposed_words_are_divided_where_composed_ones_are() {
    let mut seen = 0;
    for (language, words) in [
        ("de", "Maßstäblichkeiten Fußgängerübergänge Zähringerstraße"),
        ("fr", "déneigement hélicoptère théâtre"),
        ("pl", "przełęczy śnieżyca"),
        ("tr", "öğretmenler üçüncü"),
        ("el-polyton", "χειμῶνας ἄνθρωπος"),
    ] {
        let hyphenator = hyphenator(language);
        for word in words.split(' ') {
            let decomposed: String = word.nfd().collect();
            let clusters = |word: &str| -> Vec<usize> {
                let before = |at: &usize| word[..*at].graphemes(true).count();
                hyphenator.points(word).iter().map(before).collect()
            };
            assert_eq!(clusters(word), clusters(&decomposed), "{word}");
            seen += clusters(word).len();
        }
    }
    assert!(seen > 20, "{seen}");
}

#[test]
fn compounds_soft_hyphens_apostrophes_capitals_and_addresses() {
    let english = hyphenator("en");
    check(
        &english,
        &[
            // A hyphen of its own parts a word into words; none comes within two letters of it.
            "well--known",
            "moun·tain-driv·ers",
            "moun·tain—driv·ers",
            "a-moun·tain",
            "“moun·tain,”",
            "(moun·tain).",
            // Apostrophes belong to the word and have no point beside them.
            "couldn’t",
            "moun·tain’s",
            "o’clock",
            // Short words in capitals are abbreviations.
            "UNICEF’s",
            "MOUN·TAIN",
            "ABLE",
            "Moun·tain",
            // Addresses and figures are not divided.
            "https://winter.example/mountain",
            "driver@mountain.example",
            "mountain/driver",
            "mountain.example",
            "mountain1974",
            "mountain_driver",
            // Too short for two before and three behind.
            "able",
            "a",
            "—",
        ],
    );
    // Where an author put soft hyphens, they are the points: those behind them, strictly inside.
    for (word, expected) in [
        ("moun\u{ad}tain", vec![6]),
        ("mountain\u{ad}drivers", vec![10]),
        ("\u{ad}mountain\u{ad}", vec![]),
        ("mo\u{ad}\u{ad}untain", vec![6]),
        ("\u{ad}", vec![]),
        ("m\u{ad}ountain-drivers", vec![3]),
    ] {
        assert_eq!(english.points(word), expected, "{word:?}");
    }
}

/// Letters of many scripts, marks, signs and case troubles, in any order.
fn words() -> impl Strategy<Value = String> {
    let near = "[a-zA-ZäöüßẞİıſKÅΣσςάё'’ʼ\u{ad}\u{2010}–—“”.,/@0-9\u{301}\u{308}\u{323}\u{200d}\u{200c}ไกािक्षम्🚌👩-]{0,24}";
    prop_oneof![near, "\\PC{0,24}", any::<String>()]
}

#[test]
fn every_point_is_a_border_of_clusters_strictly_inside() {
    let languages: Vec<Hyphenator> = Hyphenator::languages()
        .into_iter()
        .map(|tag| with(tag, &["a-b", "ä-ß", "x"]))
        .collect();
    let points = std::cell::Cell::new(0);
    let config = Config {
        failure_persistence: None,
        ..Config::with_cases(1_000)
    };
    let result = TestRunner::new(config).run(&words(), |word| {
        for hyphenator in &languages {
            let found = hyphenator.points(&word);
            let borders: Vec<usize> = word.grapheme_indices(true).map(|(at, _)| at).collect();
            prop_assert!(found.is_sorted_by(|a, b| a < b), "{:?}", word);
            for at in &found {
                prop_assert!(
                    *at > 0 && *at < word.len() && borders.contains(at),
                    "{:?} at {}",
                    word,
                    at
                );
            }
            points.set(points.get() + found.len());
        }
        Ok(())
    });
    result.unwrap_or_else(|failure| panic!("{failure}"));
    assert!(points.get() > 1_000, "only {} points", points.get());
}
