//! What is said of pictures that stand away from their words: each by its name, its panel and that of its words.

use crate::layout::{LaidPicture, Layout};
use crate::plan::{PictureWith, RuleName};

/// The pictures that stand farther from their words than a rule asks, each in a sentence.
pub(super) fn away(layout: &Layout, rule: RuleName) -> Vec<String> {
    let paid = layout.panels.iter().flat_map(|panel| &panel.costs);
    if !paid.into_iter().any(|(paid, _)| *paid == rule) {
        return Vec::new();
    }
    let told = layout.pictures.iter().filter_map(|picture| {
        let how = match rule {
            RuleName::Nearness => far(picture),
            RuleName::PictureComes => off_distance(picture),
            RuleName::PictureWith => off_spread(picture),
            RuleName::Reveal => unrevealed(picture),
            _ => None,
        }?;
        let LaidPicture {
            name, on, words, ..
        } = picture;
        Some(format!("`{name}` stands on {on}, {how} on {words}."))
    });
    told.collect()
}

/// How far it stands from its words, where that is before them, more than a spread after them, or with something between.
fn far(picture: &LaidPicture) -> Option<String> {
    let mut between: Vec<String> = Vec::new();
    match picture.headings {
        0 => {}
        1 => between.push("a heading".to_string()),
        headings => between.push(format!("{headings} headings")),
    }
    if picture.turns > 0 {
        between.push("the turn of the strip".to_string());
    }
    let spreads = match picture.spreads_after {
        0 | 1 if between.is_empty() => return None,
        1 => "a spread after its words".to_string(),
        -1 => "a spread before its words".to_string(),
        after if after > 0 => format!("{} spreads after its words", number(after)),
        before => format!("{} spreads before its words", number(-before)),
    };
    Some(match between.is_empty() {
        true => spreads,
        false => format!("with {} between, {spreads}", between.join(" and ")),
    })
}

fn off_distance(picture: &LaidPicture) -> Option<String> {
    let window = picture.comes?;
    let after = picture.panels_after;
    let kept = (i64::from(window.soonest)..=i64::from(window.latest)).contains(&after);
    (!kept).then(|| match after {
        0 => "which is the panel of its words,".to_string(),
        1 => "a panel after its words".to_string(),
        -1 => "a panel before its words".to_string(),
        after if after > 0 => format!("{} panels after its words", number(after)),
        before => format!("{} panels before its words", number(-before)),
    })
}

fn off_spread(picture: &LaidPicture) -> Option<String> {
    let (asked, what) = match picture.with? {
        PictureWith::SameSpread => (0, "not on the spread of its words"),
        PictureWith::NextSpread => (1, "not on the spread after its words"),
    };
    (picture.spreads_after != asked).then(|| what.to_string())
}

fn unrevealed(picture: &LaidPicture) -> Option<String> {
    let what = "not right after the turn from its words";
    (picture.reveal && picture.spreads_after != 1).then(|| what.to_string())
}

/// Small numbers in words.
fn number(number: i64) -> String {
    const WORDS: [&str; 8] = [
        "two", "three", "four", "five", "six", "seven", "eight", "nine",
    ];
    let word = usize::try_from(number - 2)
        .ok()
        .and_then(|at| WORDS.get(at));
    word.map_or_else(|| number.to_string(), |word| word.to_string())
}
