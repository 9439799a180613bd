//! Where a verse line that does not fit is turned over: against trying every set of breaks, and phrase by
//! phrase.

use std::ops::Range;

use proptest::prelude::*;
use proptest::sample::select;
use proptest::test_runner::{Config, TestRunner};
use versefold::names::Length;
use versefold::setting::{Break, Divided, Giving, begins_phrase, breaks, divide, may_begin};

/// Most breaks of a line for which every set of them is tried.
const MOST_BREAKS: usize = 12;

/// What lines are made of, a space behind most.
const WORDS: [&str; 24] = [
    "snow ",
    "the ",
    "mail ",
    "bus ",
    "climbs, ",
    "and ",
    "over ",
    "pass ",
    "— ",
    "—",
    "– ",
    "… ",
    "... ",
    "mail-",
    "sack ",
    "“Stop!” ",
    "(late) ",
    "in ",
    "a ",
    "winter; ",
    "-- ",
    "  ",
    "\t",
    "mountain ",
];

/// Words that stand for those that begin a phrase.
fn phrase(_: &str, words: &str) -> bool {
    ["and ", "over ", "in "]
        .iter()
        .any(|word| words.starts_with(word))
}

/// A line with measures, and how wide letters and spaces are.
#[derive(Clone, Debug)]
struct Line {
    text: String,
    from: usize,
    first: i64,
    rest: i64,
    wide: [i64; 4],
}

impl Line {
    /// The width of a stretch: each character has one of four widths.
    fn width(&self, stretch: Range<usize>) -> Length {
        let each = self.text[stretch].chars();
        Length::pt(each.map(|c| self.wide[c as usize % 4]).sum())
    }
}

fn lines() -> impl Strategy<Value = Line> {
    let words = prop::collection::vec(select(&WORDS[..]), 1..11).prop_map(|words| words.concat());
    let text = words.prop_filter("no words", |words| !words.trim().is_empty());
    let measures = (10i64..160, 10i64..160);
    (
        text,
        measures,
        prop::array::uniform4(1i64..6),
        prop::bool::weighted(0.2),
    )
        .prop_map(|(text, (first, rest), wide, initial)| {
            let text = text.trim_matches([' ', '\t']).to_string();
            // A large initial is no part of what is turned over.
            let letter = text.chars().next().filter(|c| initial && c.is_alphabetic());
            let from = letter.filter(|_| text.len() > 4).map_or(0, char::len_utf8);
            Line {
                text,
                from,
                first,
                rest,
                wide,
            }
        })
}

/// The pieces between the breaks of a set, given as the bits of a number.
fn pieces(line: &Line, breaks: &[Break], set: usize) -> Vec<Range<usize>> {
    let mut start = line.from;
    let mut pieces = Vec::new();
    for (index, at) in breaks.iter().enumerate() {
        if set >> index & 1 == 1 {
            pieces.push(start..at.end);
            start = at.next;
        }
    }
    pieces.push(start..line.text.len());
    pieces
}

/// What a set of breaks gives away, each count by its plain meaning; nothing where a piece does not fit.
fn giving(line: &Line, found: &[Break], pieces: &[Range<usize>]) -> Option<Giving> {
    let (first, turned) = pieces.split_first()?;
    let measure = Length::pt(line.first);
    let fits = line.width(first.clone()) <= measure
        && turned
            .iter()
            .all(|piece| line.width(piece.clone()) <= Length::pt(line.rest));
    // Words that no space parts are where the line might be broken.
    let single = |piece: &&Range<usize>| {
        let spaced = line.text[(*piece).clone()].split_whitespace().count() >= 2;
        let inner = |at: &Break| piece.start < at.end && at.end < piece.end;
        !spaced && !found.iter().any(inner)
    };
    let good = |piece: &Range<usize>| found.iter().any(|at| at.next == piece.start && at.good);
    // Two thirds of the measure, or half of it before a good start; worse is less than a third.
    let wide = line.width(first.clone());
    let short = turned.first().is_some_and(|next| match good(next) {
        true => wide * 2 < measure,
        false => wide * 3 < measure * 2,
    });
    fits.then(|| Giving {
        pieces: pieces.len(),
        unspaced: 0,
        single_words: turned.iter().filter(single).count(),
        short_first: usize::from(short) + usize::from(!turned.is_empty() && wide * 3 < measure),
        bad_starts: turned.iter().filter(|piece| !good(piece)).count(),
    })
}

/// The best of all sets of breaks: what gives least; of those, the one whose first piece is fullest, then
/// its second, and so on.
fn best(line: &Line, found: &[Break]) -> Option<Divided> {
    let all = (0..1usize << found.len()).map(|set| pieces(line, found, set));
    let fitting = all.filter_map(|pieces| Some((giving(line, found, &pieces)?, pieces)));
    let ends =
        |pieces: &[Range<usize>]| -> Vec<usize> { pieces.iter().map(|piece| piece.end).collect() };
    fitting
        .min_by(|(a, one), (b, other)| a.cmp(b).then_with(|| ends(other).cmp(&ends(one))))
        .map(|(giving, pieces)| Divided { pieces, giving })
}

#[test]
fn a_line_is_divided_as_trying_every_set_of_breaks_divides_it() {
    let by_pieces = std::cell::RefCell::new([0; 4]);
    let config = Config {
        failure_persistence: None,
        ..Config::with_cases(4_000)
    };
    let result = TestRunner::new(config).run(&lines(), |line| {
        let found = breaks(&line.text, line.from, "en", phrase);
        prop_assume!(found.len() <= MOST_BREAKS);
        let (first, rest) = (Length::pt(line.first), Length::pt(line.rest));
        let width = |stretch| line.width(stretch);
        let divided = divide(&line.text, line.from, &found, first, rest, width);
        by_pieces.borrow_mut()[divided.as_ref().map_or(0, |d| d.pieces.len().min(3))] += 1;
        prop_assert_eq!(divided, best(&line, &found));
        Ok(())
    });
    result.unwrap_or_else(|failure| panic!("{failure}"));
    // Lines that fit nowhere, fit whole, and fall into two pieces or more.
    assert!(
        by_pieces.borrow().iter().all(|count| *count > 100),
        "{by_pieces:?}"
    );
}

#[test]
fn no_piece_begins_with_a_dash_or_an_ellipsis_and_none_ends_in_a_hyphen() {
    let config = Config {
        failure_persistence: None,
        ..Config::with_cases(4_000)
    };
    let result = TestRunner::new(config).run(&lines(), |line| {
        for at in breaks(&line.text, line.from, "en", phrase) {
            let (above, below) = (&line.text[..at.end], &line.text[at.next..]);
            let start = below.trim_start_matches(['“', '(']);
            prop_assert!(!start.starts_with(['–', '—', '-', '…']), "{:?}", below);
            prop_assert!(!start.starts_with(".."), "{:?}", below);
            // Two hyphens, or one between spaces, are a dash.
            let hyphen = above.ends_with('-') && !above.ends_with("--");
            prop_assert!(!hyphen || above.ends_with(" -"), "{:?}", above);
            prop_assert!(
                line.text[at.end..at.next].trim().is_empty(),
                "words are lost"
            );
            prop_assert!(above.trim_end() == above && below.trim_start() == below);
        }
        Ok(())
    });
    result.unwrap_or_else(|failure| panic!("{failure}"));
}

/// A line with `|` at each break and `/` at each that a piece likes to begin behind.
fn shown(language: &str, text: &str) -> String {
    shown_by(language, text, phrase)
}

fn shown_by(language: &str, text: &str, phrase: impl Fn(&str, &str) -> bool) -> String {
    let mut shown = String::new();
    let mut from = 0;
    for at in breaks(text, 0, language, phrase) {
        shown += &text[from..at.end];
        shown.push(if at.good { '/' } else { '|' });
        from = at.next;
    }
    shown + &text[from..]
}

#[test]
fn breaks_of_real_phrases() {
    for expected in [
        "She|drove/over|the|pass,/and|sang",
        "the|bus —/late|again —/climbed",
        "the|bus–/late|again–/climbed",
        "no|chains --/no|road",
        "the|mail-bus|left/in|November",
        "a|mail- and|parcel-bus",
        "snow …/then|sun .../and|ice",
        "«Halt!»/dit|l’homme,/« le|col|est|fermé »",
        "“Stop!”/she|said,/“no,/wait”",
    ] {
        let text = expected.replace(['|', '/'], " ");
        assert_eq!(shown("en", &text), expected);
    }
    // Runs of spaces and tabs are one break, and belong to neither piece.
    assert_eq!(
        shown("en", "a  run of \t spaces,\tand tabs"),
        "a|run|of|spaces,/and|tabs"
    );
}

#[test]
fn no_phrase_begins_behind_a_word_that_begins_one() {
    for (language, expected) in [
        ("en", "he|shone|bright,/and|on|the|right"),
        ("en", "the|roar|bursts/from|that|door"),
        ("en", "she|looked/up/and|saw/and|wept"),
        ("de", "er|ging/und|mit|dem|Wind"),
        ("fr", "il|va/et|sur|la|neige"),
        ("cs", "a nic|na|to"),
    ] {
        let text = expected.replace(['|', '/'], " ");
        let phrase = |before: &str, behind: &str| begins_phrase(language, before, behind);
        assert_eq!(shown_by(language, &text, phrase), expected);
    }
}

/// Verse without spaces is broken between words or ideographs; within a word it is not, hyphen or slash or none.
#[test]
fn breaks_of_verse_without_spaces() {
    for (language, text, expected) in [
        (
            "zh",
            "冬天的邮车，翻过山口。",
            "冬|天|的|邮|车，/翻|过|山|口。",
        ),
        ("ja", "雪が、ちょっと。", "雪|が、/ちょっ|と。"),
        ("th", "รถไปรษณีย์ และหิมะ", "รถ|ไปรษณีย์/และ|หิมะ"),
        ("ko", "겨울 버스", "겨울|버스"),
        (
            "en",
            "driver/conductor and mother-in-law",
            "driver/conductor/and|mother-in-law",
        ),
        ("fr", "dit : « le col »", "dit :/« le|col »"),
    ] {
        assert_eq!(shown(language, text), expected);
    }
}

#[test]
fn a_piece_may_begin_with_words_but_not_with_a_dash_or_an_ellipsis() {
    for words in [
        "snow",
        "“snow”",
        "(late)",
        "’tis",
        "7 sacks",
        ".5",
        "«Halt!»",
        "»Halt!«",
        "’s ist",
        "{late}",
        "「雪」",
        "（冬）",
    ] {
        assert!(may_begin(words), "{words}");
    }
    for words in [
        "– snow",
        "— snow",
        "―",
        "- snow",
        "-- snow",
        "… snow",
        "... snow",
        "“… snow",
        "(— snow",
        "«– Halt",
        "„– Halt",
        "»… Halt",
        "» dit",
        "” and",
        ") late",
        ")late",
        "]",
        "} late",
        "}late",
        "）雪",
        "」と",
        "』と",
        "】と",
        "》と",
        "〉と",
        "）」 と",
    ] {
        assert!(!may_begin(words), "{words}");
    }
}
