//! Dividing again after one change, beside dividing from nothing: lines and panels.

use std::sync::Arc;

use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::names::Source;

use crate::common::{Draw, median, ms, project_words};

/// Prints the table.
pub fn compare() {
    println!("\nagain after one change: lines and panels, beside the same from nothing");
    println!(
        "{:<10} {:<22} {:>12} {:>12} {:>7}",
        "book", "change", "from nothing", "again", "ratio"
    );
    for (kind, words, share) in [("verse", 4_000, 75), ("prose", 20_000, 115)] {
        book(kind, share, &text(kind, words));
    }
}

fn book(kind: &str, share: usize, text: &str) {
    // The panels are about six tenths full.
    let panels = text.split_whitespace().count() / share / 2 + 2;
    let plan = |extra: &str, pin: &str| {
        Source::new(
            "concertina.toml",
            format!(
                "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"text.txt\"\n[paper]\n\
                 panel-width = \"105 mm\"\npanel-height = \"148 mm\"\npanels-per-side = {panels}\n\
                 [text]\nset-as = \"{kind}\"\n[rules]\ntext-fullness = \"60 %\"\n{extra}\n\
                 [[panel]]\npanel = \"{pin}\"\nrole = \"blank\"\n"
            ),
        )
    };
    let plain = plan("", "front 3");
    let words = Source::new("text.txt", text);
    let changed = Source::new("text.txt", one_word_changed(text));
    let cases = [
        ("one word", &plain, &changed),
        ("one pin", &plan("", "front 4"), &words),
        (
            "one importance",
            &plan("importance = { text-fullness = 2 }", "front 3"),
            &words,
        ),
    ];
    for (change, new_plan, new_words) in cases {
        let nothing = median(5, || {
            divide(&mut Workbench::new(Assets::memory()), new_plan, new_words)
        });
        let mut times = Vec::new();
        for _ in 0..5 {
            let mut bench = Workbench::new(Assets::memory());
            divide(&mut bench, &plain, &words);
            let begun = std::time::Instant::now();
            divide(&mut bench, new_plan, new_words);
            times.push(begun.elapsed());
        }
        times.sort_unstable();
        let again = times[2];
        println!(
            "{kind:<10} {change:<22} {:>9.1} ms {:>9.1} ms {:>7.1}",
            ms(nothing),
            ms(again),
            nothing.as_secs_f64() / again.as_secs_f64()
        );
    }
}

fn divide(bench: &mut Workbench, plan: &Arc<Source>, words: &Arc<Source>) -> u64 {
    bench
        .divide_texts(plan, words)
        .expect("the words fit")
        .cost()
}

fn one_word_changed(text: &str) -> String {
    let middle = text.len() / 2;
    let from = middle + text[middle..].find(' ').expect("a space") + 1;
    format!("{}otherwise {}", &text[..from], &text[from..])
}

/// Stanzas of six lines of seven words, or paragraphs of eighty words.
fn text(kind: &str, words: usize) -> String {
    let known = project_words("winter-bus/winter-bus.txt");
    let mut draw = Draw::new(&known);
    let mut text = String::new();
    let (line, block) = if kind == "verse" {
        (7, 42)
    } else {
        (usize::MAX, 80)
    };
    for number in 1..=words {
        draw.word(&mut text);
        text.push_str(match number {
            _ if number % block == 0 => "\n\n",
            _ if number % line == 0 => "\n",
            _ => " ",
        });
    }
    text
}
