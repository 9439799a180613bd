//! What holds of any text in any language.

use proptest::prelude::*;
use proptest::sample::select;
use proptest::test_runner::{Config, TestRunner};
use unicode_segmentation::UnicodeSegmentation;
use versefold::setting::{BreakKind, judgements, opportunities};

const LANGUAGES: [&str; 12] = [
    "en", "fr", "de", "da", "es", "ja", "zh-Hans", "ko", "th", "ru", "", "xx-x-??",
];

/// What texts are made of: what some tailoring looks at.
const PIECES: [&str; 58] = [
    " ",
    " ",
    " ",
    "  ",
    "\t",
    "\u{a0}",
    "\u{202f}",
    "\u{200b}",
    "\u{3000}",
    "\u{ad}",
    "\u{2060}",
    "a",
    "ab",
    "snow",
    "é",
    "e\u{301}",
    "\u{301}",
    "\u{200d}",
    "-",
    "--",
    "‐",
    "–",
    "—",
    "―",
    "…",
    "...",
    ".",
    ",",
    "!",
    "?",
    "«",
    "»",
    "“",
    "”",
    "„",
    "\"",
    "'",
    "(",
    ")",
    "/",
    "://",
    "@",
    "www.",
    "x.org/",
    "%",
    "km",
    "12",
    "000",
    "§",
    "No.",
    "J.",
    "S.",
    "冬",
    "ょ",
    "。",
    "ภาษาไทย",
    "👩\u{200d}🚀",
    "겨",
];

fn texts() -> impl Strategy<Value = String> {
    prop_oneof![
        3 => prop::collection::vec(select(&PIECES[..]), 0..24).prop_map(|pieces| pieces.concat()),
        1 => "\\PC{0,40}",
        1 => any::<String>(),
    ]
}

#[test]
fn breaks_are_in_order_and_part_nothing_that_belongs_together() {
    let seen = std::cell::RefCell::new([0; 3]);
    let config = Config {
        failure_persistence: None,
        ..Config::with_cases(20_000)
    };
    let result =
        TestRunner::new(config).run(&(texts(), select(&LANGUAGES[..])), |(text, language)| {
            let mut known = 0;
            let borders: Vec<usize> = text.grapheme_indices(true).map(|(at, _)| at).collect();
            let found = opportunities(&text, language);
            for place in &found {
                prop_assert!(known < place.end && place.end <= place.next, "{:?}", place);
                prop_assert!(place.next < text.len(), "{:?}", place);
                for at in [place.end, place.next] {
                    prop_assert!(borders.contains(&at), "{:?} {:?}", text, place);
                }
                let between = &text[place.end..place.next];
                prop_assert!(
                    between.chars().all(|c| c == ' ' || c == '\t'),
                    "{:?}",
                    place
                );
                prop_assert_eq!(place.kind == BreakKind::Space, !between.is_empty());
                prop_assert!(!text[..place.end].ends_with([' ', '\t']));
                prop_assert!(!text[place.next..].starts_with([' ', '\t']));
                prop_assert!(!text[..place.end].trim_matches([' ', '\t']).is_empty());
                known = place.next;
                seen.borrow_mut()[place.kind as usize] += 1;
            }
            // What is judged is in order too, and what was decided otherwise has a name.
            let judged = judgements(&text, language);
            prop_assert!(
                judged
                    .is_sorted_by(|a, b| a.place.next < b.place.end || a.place.next < b.place.next)
            );
            for judgement in &judged {
                let differs = judgement.standard != judgement.allowed;
                prop_assert!(!differs || judgement.tailoring.is_some(), "{:?}", judgement);
            }
            let allowed = judged.iter().filter(|judgement| judgement.allowed);
            prop_assert!(allowed.map(|judgement| judgement.place).eq(found));
            Ok(())
        });
    result.unwrap_or_else(|failure| panic!("{failure}"));
    assert!(seen.borrow().iter().all(|count| *count > 1_000), "{seen:?}");
}
