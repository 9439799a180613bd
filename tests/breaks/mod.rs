//! Where texts may be broken into lines: each tailoring by its name, and what holds of any text. What UAX #14 itself
//! says is looked at in `tests/outside`.

mod other_segmenter;
mod properties;
mod tailorings;

use versefold::setting::{BreakKind, Tailoring, judgements, opportunities};

/// A text with `|` for the spaces it may be broken at, `÷` where words meet without one, and `¦` within words.
fn shown(language: &str, text: &str) -> String {
    let mut shown = String::new();
    let mut from = 0;
    for place in opportunities(text, language) {
        shown += &text[from..place.end];
        shown.push(match place.kind {
            BreakKind::Space => '|',
            BreakKind::Between => '÷',
            BreakKind::Within => '¦',
        });
        from = place.next;
    }
    shown + &text[from..]
}

/// Checks texts, each as it should be shown.
fn check(language: &str, expected: &[&str]) {
    for expected in expected {
        let text = expected.replace('|', " ").replace(['÷', '¦'], "");
        assert_eq!(shown(language, &text), *expected, "{language}");
    }
}

/// The tailorings that made a difference in a text, in order.
fn tailorings(language: &str, text: &str) -> Vec<Tailoring> {
    let judged = judgements(text, language).into_iter();
    judged.filter_map(|judgement| judgement.tailoring).collect()
}
