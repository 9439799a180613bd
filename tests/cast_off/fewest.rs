//! The fewest panels that words take: on so many they fit, on one fewer they do not.

use versefold::assets::Assets;
use versefold::book::{CastOffRequest, Workbench};
use versefold::names::Source;

use crate::cast_off::{Numbers, tenths};
use crate::support::small_plan;

/// Stanzas of random lengths, or paragraphs, with callouts now and then.
fn text(numbers: &mut Numbers, prose: bool) -> String {
    const WORDS: [&str; 8] = [
        "snow", "the", "bus", "and", "a", "tunnel,", "winter", "driver.",
    ];
    let mut text = String::new();
    for _ in 0..6 + numbers.below(8) {
        if numbers.below(9) == 0 && !text.is_empty() {
            text.push_str("[new panel]\n");
        }
        for _ in 0..1 + numbers.below(8) {
            for _ in 0..2 + numbers.below(9) {
                text.push_str(WORDS[numbers.below(8) as usize]);
                text.push(' ');
            }
            text.push_str(if prose { " " } else { "\n" });
        }
        text.push_str("\n\n");
    }
    text
}

#[test]
fn words_fit_on_the_fewest_panels_and_not_on_one_fewer() {
    let mut numbers = Numbers(7);
    let mut divided = 0;
    for round in 0..40 {
        let prose = round % 3 == 2;
        let kind = if prose { "prose" } else { "verse" };
        let words = Source::new("winter-bus.txt", text(&mut numbers, prose));
        let plan = |panels: usize, must: &str| {
            let more = format!("[text]\nset-as = \"{kind}\"\n[rules]\nmust = [{must}]\n");
            Source::new("concertina.toml", small_plan(panels, &more))
        };
        let asked = CastOffRequest {
            sizes: vec![tenths(110)],
            panels: vec![40],
            any_number: false,
        };
        let cast = Workbench::new(Assets::memory()).cast_off_texts(&plan(40, ""), &words, &asked);
        let row = &cast.expect("a cast-off").rows[0];
        let fits = |panels: usize, must: &str| {
            Workbench::new(Assets::memory())
                .divide_texts(&plan(panels, must), &words)
                .is_ok()
        };
        let fewest = row.fewest.expect("enough panels");
        assert!(fits(fewest, ""), "{fewest}\n{}", words.text);
        assert!(!fits(fewest - 1, ""), "{fewest}\n{}", words.text);
        if let Some(whole) = row.fewest_whole {
            assert!(fits(whole, "\"undivided\""), "{whole}\n{}", words.text);
            assert!(!fits(whole - 1, "\"undivided\""), "{whole}\n{}", words.text);
            divided += usize::from(whole > fewest);
        }
    }
    assert!(divided > 0, "nothing is spared by dividing stanzas");
}
