//! How long it takes to tell that a book cannot be divided, and the ways out, as a ratio to dividing the same book where
//! it has room: a small poem under many soft rules, and a long one; and prose that lacks panels, as a ratio to laying it
//! out where it has enough.

mod common;

use std::fmt::Write;
use std::sync::Arc;

use common::{Draw, made_up_prose, median, ms, project_words, prose};
use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::names::Source;

fn main() {
    println!(
        "medians; `ratio` is of telling that there is no way to dividing the book where there is one"
    );
    println!(
        "{:<44} {:>10} {:>10} {:>7}",
        "lines, panels a side, sides, rules", "no way", "divided", "ratio"
    );
    let soft = "text-in-a-row = 1\npictures-in-a-row = 1\neven-fullness = true\neach-panel = \"stanza\"\n\
                shared-panels = \"never\"\npicture-with = \"same-spread\"\nends-with = \"picture\"\n\
                must = [\"undivided\", \"even-fullness\"]\nmay-give = [\"picture-comes\"]\n";
    let small = poem(89, 9);
    told("89, 12, front, seven soft", &small, |size| {
        plan((12, "front"), (105, 95), size, soft)
    });
    told("89, 12, front, as they are", &small, |size| {
        plan((12, "front"), (105, 95), size, "")
    });
    for (lines, panels) in [(2_500, 40), (10_000, 160), (25_000, 400)] {
        let long = poem(lines, panels * 11 / 12);
        told(
            &format!("{lines}, {panels}, both, as they are"),
            &long,
            |size| plan((panels, "both"), (105, 200), size, ""),
        );
    }
    println!("prose: `divided` is of laying it out");
    for words in [10_000, 200_000] {
        prose_told(words);
    }
}

/// Compares prose of so many words on too few panels with itself laid out on enough.
fn prose_told(words: usize) {
    let made = made_up_prose(&project_words("winter-bus-prose/nine-winters.txt"));
    let text = Source::new("prose.txt", prose(&made, words));
    let plan = |per_side: usize| {
        let plan = format!(
            "title = \"Nine Winters\"\nlanguage = \"en-GB\"\nmanuscript = \"prose.txt\"\n[paper]\n\
             panel-width = \"105 mm\"\npanel-height = \"297 mm\"\npanels-per-side = {per_side}\n[text]\n\
             set-as = \"prose\"\nalign = \"justified\"\nhyphenate = true\nsize = \"11 pt\"\nleading = \"15 pt\"\n"
        );
        Source::new("concertina.toml", plan)
    };
    let lays = |per_side: usize| {
        let laid = Workbench::new(Assets::memory()).lay_out_texts(&plan(per_side), &text);
        laid.is_ok()
    };
    let enough = words / 300 / 2 + 2;
    let few = enough * 2 / 3;
    assert!(lays(enough) && !lays(few), "prose of {words} words");
    let runs = if words > 20_000 { 1 } else { 5 };
    let (no_way, laid) = (median(runs, || lays(few)), median(runs, || lays(enough)));
    println!(
        "{:<44} {:>7.0} ms {:>7.0} ms {:>7.2}",
        format!("prose of {words} words, {few} and {enough} a side"),
        ms(no_way),
        ms(laid),
        ms(no_way) / ms(laid)
    );
}

/// Compares a book at a size at which it has no room with itself at one at which it has.
fn told(name: &str, poem: &Arc<Source>, plan: impl Fn(&str) -> Arc<Source>) {
    let (tight, loose) = (plan("12.5"), plan("8"));
    let divides = |plan: &Arc<Source>| {
        Workbench::new(Assets::memory())
            .divide_texts(plan, poem)
            .is_ok()
    };
    assert!(!divides(&tight) && divides(&loose), "{name}");
    let runs = if poem.text.len() < 10_000 { 5 } else { 1 };
    let no_way = median(runs, || divides(&tight));
    let divided = median(runs, || divides(&loose));
    println!(
        "{name:<44} {:>7.0} ms {:>7.0} ms {:>7.2}",
        ms(no_way),
        ms(divided),
        ms(no_way) / ms(divided)
    );
}

fn plan(
    (panels, sides): (usize, &str),
    (width, height): (usize, usize),
    size: &str,
    rules: &str,
) -> Arc<Source> {
    let text = format!(
        "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"winter-bus.txt\"\n[paper]\n\
         panel-width = \"{width} mm\"\npanel-height = \"{height} mm\"\npanels-per-side = {panels}\n\
         sides = \"{sides}\"\n[text]\nsize = \"{size} pt\"\n[rules]\n{rules}"
    );
    Source::new("concertina.toml", text)
}

/// Stanzas of four to seven lines of eight words, with pictures spread evenly.
fn poem(lines: usize, pictures: usize) -> Arc<Source> {
    let words = project_words("winter-bus/winter-bus.txt");
    let mut draw = Draw::new(&words);
    let mut text = String::new();
    let mut ends = 4;
    for line in 1..=lines {
        for _ in 0..8 {
            draw.word(&mut text);
            text.push(' ');
        }
        text.push('\n');
        if line * pictures / lines > (line - 1) * pictures / lines {
            let _ = writeln!(text, "[picture: picture {line}]");
        }
        if line == ends {
            text.push('\n');
            ends += 4 + draw.below(4);
        }
    }
    Source::new("winter-bus.txt", text)
}
