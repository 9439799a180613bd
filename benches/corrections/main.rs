//! Living with corrections: how long it takes to divide a book again by the breaks that were chosen for it, as a ratio
//! to dividing it from nothing without breaks; after one corrected word, and after stanzas more, for which panels must
//! be divided otherwise than chosen. And how long it takes to find which words are which. Then what a workbench takes after
//! one changed word.
//!
//! Where `VERSEFOLD_TEXTS` names a folder of whole texts, *Paradise Lost* is divided too. `cargo bench --bench corrections --
//! again` prints the rows of the workbench alone.

mod again;
#[path = "../common/mod.rs"]
mod common;

use std::sync::Arc;
use std::time::{Duration, Instant};

use common::{Draw, ms, peak_mib, project_words, whole_text};
use versefold::assets::Assets;
use versefold::book::{BookTexts, BreaksPolicy, Workbench};
use versefold::division::Division;
use versefold::names::Source;
use versefold::text::alignment::{Lines, align, align_set, pieces};
use versefold::text::escape;

fn main() {
    again::rows();
    if std::env::args().any(|said| said == "again") {
        return;
    }
    println!(
        "medians; `ratio` is to dividing from nothing; the peak is that of the process so far"
    );
    println!(
        "{:<28} {:<20} {:>10} {:>7} {:>7} {:>7} {:>10}",
        "book", "what", "time", "ratio", "moved", "proved", "peak MiB"
    );
    book(
        "400 lines, 32 panels",
        ("verse", "11 pt"),
        32,
        &verse(400),
        3,
    );
    book(
        "20000 words of prose",
        ("prose", "11 pt"),
        240,
        &prose(20_000),
        3,
    );
    if let Some(text) = whole_text("en_milton_paradise_lost_LARGE.txt") {
        book(
            "Paradise Lost, 400 panels",
            ("verse", "7 pt"),
            400,
            &escape(&text, false),
            1,
        );
    }
}

fn book(name: &str, (kind, size): (&str, &str), panels: usize, text: &str, runs: usize) {
    let plan = Source::new(
        "concertina.toml",
        format!(
            "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"text.txt\"\n[paper]\n\
             panel-width = \"105 mm\"\npanel-height = \"148 mm\"\npanels-per-side = {}\n\
             [text]\nset-as = \"{kind}\"\nsize = \"{size}\"\n",
            panels / 2
        ),
    );
    let texts = |text: &str, breaks: Option<&Arc<Source>>| BookTexts {
        plan: Arc::clone(&plan),
        manuscript: Source::new("text.txt", text),
        breaks: breaks.cloned(),
    };
    let plain = texts(text, None);
    let mut bench = Workbench::new(Assets::memory());
    let taken = bench.take_book(&plain, BreaksPolicy::All, true, &[]);
    let breaks = Source::new("breaks.toml", taken.expect("the words fit").text);
    let (chosen, nothing) = divided(&plain, None, runs);
    let tell = |what: &str, time: Duration, found: Option<&Division>| {
        let ratio = time.as_secs_f64() / nothing.as_secs_f64();
        let (moved, proved) = found.map_or(("-".to_string(), "-".to_string()), |found| {
            (
                moved(&chosen, found).to_string(),
                found.proved().to_string(),
            )
        });
        println!(
            "{name:<28} {what:<20} {:>7.0} ms {ratio:>7.2} {moved:>7} {proved:>7} {:>10}",
            ms(time),
            peak_mib()
        );
    };
    tell("from nothing", nothing, Some(&chosen));
    let word = with_a_word(text);
    let stanzas = with_stanzas(text);
    let before = texts(text, Some(&breaks));
    for (what, text) in [("one word", &word), ("eight stanzas more", &stanzas)] {
        let (found, time) = divided(&texts(text, Some(&breaks)), Some(&before), runs);
        tell(what, time, Some(&found));
    }
    let (old, new) = (lines(text), lines(&stanzas));
    let as_written = common::median(runs, || align(&old, &new));
    tell("aligning alone", as_written, None);
    let as_set = common::median(runs, || align_set(&old, &new));
    tell("aligning as set", as_set, None);
}

/// A book divided, and how long that takes: from nothing, or by one who has divided another before.
fn divided(texts: &BookTexts, before: Option<&BookTexts>, runs: usize) -> (Division, Duration) {
    let divide = |bench: &mut Workbench, texts: &BookTexts| {
        let found = bench.divide_book(texts, BreaksPolicy::All);
        found.expect("the words fit")
    };
    let mut found = None;
    let mut times: Vec<Duration> = (0..runs)
        .map(|_| {
            let mut bench = Workbench::new(Assets::memory());
            if let Some(before) = before {
                divide(&mut bench, before);
            }
            let begun = Instant::now();
            found = Some(divide(&mut bench, texts));
            begun.elapsed()
        })
        .collect();
    times.sort_unstable();
    (found.expect("a run"), times[runs / 2])
}

/// How many panels have another number of rows or another role.
fn moved(one: &Division, other: &Division) -> usize {
    let panels = |division: &Division| -> Vec<_> {
        let panels = division.parts.iter().flat_map(|part| &part.panels);
        panels.map(|panel| (panel.rows.len(), panel.role)).collect()
    };
    let pairs = panels(one).into_iter().zip(panels(other));
    pairs.filter(|(one, other)| one != other).count()
}

fn lines(text: &str) -> Lines<'_> {
    let lines = text.lines().filter(|line| !line.trim().is_empty());
    lines
        .map(|line| pieces(line).into_iter().map(|at| &line[at]).collect())
        .collect()
}

/// A word of the middle replaced.
fn with_a_word(text: &str) -> String {
    let from = middle(text, " ") + 1;
    let to = from + text[from..].find([' ', '\n']).expect("a word ends");
    format!("{}otherwise{}", &text[..from], &text[to..])
}

/// Stanzas of four lines more in the middle, too many for one panel; of prose, paragraphs.
fn with_stanzas(text: &str) -> String {
    let at = middle(text, "\n\n");
    let lines = "Nobody had asked the road\nand the road said nothing\nof all that had gone over it\nin the years of snow";
    let stanzas = format!("\n\n{lines}").repeat(8);
    format!("{}{stanzas}{}", &text[..at], &text[at..])
}

/// Where the first such sign behind the text's middle stands.
fn middle(text: &str, sign: &str) -> usize {
    let mut places = text.match_indices(sign).map(|(at, _)| at);
    let behind = places.find(|at| *at >= text.len() / 2);
    behind.or_else(|| text.rfind(sign)).expect("it is there")
}

/// Stanzas of four lines of seven words.
fn verse(count: usize) -> String {
    text(count * 7, |number| match number {
        _ if number % 28 == 0 => "\n\n",
        _ if number % 7 == 0 => "\n",
        _ => " ",
    })
}

/// Paragraphs of eighty words.
fn prose(count: usize) -> String {
    text(count, |number| match number % 80 {
        0 => "\n\n",
        _ => " ",
    })
}

fn text(count: usize, behind: impl Fn(usize) -> &'static str) -> String {
    let known = project_words("winter-bus/winter-bus.txt");
    let mut draw = Draw::new(&known);
    let mut text = String::new();
    for number in 1..=count {
        draw.word(&mut text);
        text.push_str(behind(number));
    }
    text
}
