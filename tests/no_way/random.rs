//! Random small books, many of which cannot be divided: little panels, pins of every kind, rules made hard.

use std::fmt::Write;

use super::books::{Book, HARD};
use crate::division::generator::Dice;

const PICTURES: [&str; 3] = ["the horn", "the pass", "the tunnel"];
/// Rules that a random book may make hard, each with what it asks.
const MUSTS: [(&str, &str); 9] = [
    ("undivided", ""),
    ("blanks", ""),
    ("text-in-a-row", "text-in-a-row = 1\n"),
    ("pictures-in-a-row", "pictures-in-a-row = 1\n"),
    ("ends-with", "ends-with = \"picture\"\n"),
    ("blanks", "blanks = { count = 1, where = \"end\" }\n"),
    ("shared-panels", "shared-panels = \"never\"\n"),
    ("even-fullness", "even-fullness = true\n"),
    ("text-fullness", "text-fullness = \"60 %\"\n"),
];

/// The book of a seed.
pub fn book(seed: u64) -> Book {
    let mut dice = Dice::new(seed ^ 0xad01ce);
    let panels = dice.between(2, 5);
    let two_sided = dice.chance(35);
    let words = words(&mut dice, two_sided);
    let side = if two_sided { "both" } else { "front" };
    let mut plan = format!(
        "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"winter-bus.txt\"\n[paper]\n\
         panel-width = \"{}\"\npanel-height = \"{}\"\npanels-per-side = {panels}\nsides = \"{side}\"\n",
        dice.one_of(&["70 mm", "90 mm"]),
        dice.one_of(&["50 mm", "60 mm", "75 mm"]),
    );
    plan += &rules(&mut dice);
    plan += &pictures(&mut dice, &words);
    if words.contains("[part: colophon]") {
        plan += &parts(&mut dice, panels, two_sided);
    }
    plan += &pins(&mut dice, panels, two_sided, &words);
    Book {
        plan: plan.parse().expect("TOML"),
        words,
    }
}

/// Stanzas of numbered lines, some of which turn over, with callouts between.
fn words(dice: &mut Dice, two_sided: bool) -> String {
    let mut text = String::from(dice.one_of(&["", "# The Winter Bus\n\n"]));
    let mut line = 0;
    let mut pictures = PICTURES.iter().filter(|_| true);
    let stanzas = dice.between(1, if two_sided { 7 } else { 5 });
    for stanza in 0..stanzas {
        if dice.chance(8) && stanza > 0 {
            text.push_str("[new panel]\n");
        }
        let kept = dice.chance(8);
        text.push_str(if kept { "[keep together]\n" } else { "" });
        for _ in 0..dice.between(1, 5) {
            line += 1;
            let long = dice.one_of(&["", "", "", " and on over the pass and down again"]);
            let end = dice.one_of(&[".", ",", ""]);
            let _ = writeln!(text, "{line} the bus climbs{long}{end}");
            if dice.chance(12)
                && let Some(picture) = pictures.next()
            {
                let _ = writeln!(text, "[picture: {picture}]");
                if dice.chance(25) && !kept {
                    let _ = writeln!(text, "[caption: {picture}]\n{line} as it was");
                }
            }
        }
        text.push_str(if kept { "[end together]\n\n" } else { "\n" });
    }
    if dice.chance(20) {
        text.push_str("[part: colophon]\nPrinted in the snow.\n");
    }
    text
}

fn rules(dice: &mut Dice) -> String {
    let mut text = String::from("[rules]\n");
    let mut must = Vec::new();
    for (rule, asked) in MUSTS {
        if dice.chance(12) && !must.contains(&rule) {
            must.push(rule);
            text += asked;
        }
    }
    if dice.chance(12) {
        text += "emptiest = \"30 %\"\n";
    }
    let mut may_give = Vec::new();
    for rule in HARD {
        match dice.between(1, 100) {
            1..=8 => may_give.push(rule),
            9..=14 => must.push(rule),
            _ => {}
        }
    }
    let _ = writeln!(text, "must = {must:?}\nmay-give = {may_give:?}");
    text
}

fn pictures(dice: &mut Dice, words: &str) -> String {
    let mut text = String::new();
    for name in PICTURES {
        if !words.contains(name) || dice.chance(50) {
            continue;
        }
        let _ = writeln!(text, "[[picture]]\nname = \"{name}\"");
        text += dice.one_of(&["", "spans = 2\n"]);
        text += dice.one_of(&["", "", "whole-spread = true\n"]);
        text += dice.one_of(&["", "leaves = { head = \"30 mm\" }\n"]);
    }
    text
}

/// The body on all panels but the last of a side, which the colophon has.
fn parts(dice: &mut Dice, panels: usize, two_sided: bool) -> String {
    let (body, colophon) = match two_sided && dice.chance(50) {
        true => (
            format!("front 1 to back {}", panels - 1),
            format!("back {panels}"),
        ),
        false => (
            format!("front 1 to front {}", panels - 1),
            format!("front {panels}"),
        ),
    };
    format!(
        "[[part]]\nname = \"body\"\non = [\"{body}\"]\n[[part]]\nname = \"colophon\"\non = [\"{colophon}\"]\n"
    )
}

fn pins(dice: &mut Dice, panels: usize, two_sided: bool, words: &str) -> String {
    let mut text = String::new();
    let mut pinned = Vec::new();
    let sides: &[&str] = if two_sided {
        &["front", "back"]
    } else {
        &["front"]
    };
    for side in sides {
        for number in 1..=panels {
            if !dice.chance(30) {
                continue;
            }
            let _ = writeln!(text, "[[panel]]\npanel = \"{side} {number}\"");
            let picture = dice.one_of(&PICTURES);
            let pins_picture = dice.chance(25) && !pinned.contains(&picture);
            let role = match pins_picture {
                true => dice.one_of(&["", "picture", "shared"]),
                false => dice.one_of(&["blank", "blank", "picture", "text", "title", "shared", ""]),
            };
            if pins_picture {
                pinned.push(picture);
                let _ = writeln!(text, "picture = \"{picture}\"");
            }
            if !role.is_empty() {
                let _ = writeln!(text, "role = \"{role}\"");
            }
            if matches!(role, "text" | "") && !pins_picture {
                let last = words.matches(" the bus").count();
                let _ = writeln!(text, "begins = \"{} the bus\"", dice.between(1, last));
            }
        }
    }
    text
}
