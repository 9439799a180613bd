//! How long the main job takes, as ratios to shaping the same text once, line by line and uncached, with the
//! same shaper and one shape plan: from manuscript to layout, everything to files, and the search alone; and
//! the peak of memory.
//!
//! `cargo bench` prints the table. Where `VERSEFOLD_TEXTS` names a folder of whole texts, its longest English
//! poem is used; else verse is made of the words of the example and of `tests/texts`.

mod common;

use std::sync::Arc;
use std::time::Duration;

use common::{Book, Draw, median, ms, peak_mib, project_words, shape_once, to_files};
use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::names::Source;

const SIZES: [usize; 3] = [600, 10_000, 80_000];

fn main() {
    let text = whole_text();
    println!("medians; ratios to shaping the text once, uncached");
    println!(
        "{:>7} {:>7} {:>10} {:>10} {:>6} {:>10} {:>6} {:>10} {:>6} {:>7} {:>9}",
        "words",
        "lines",
        "shaping",
        "layout",
        "ratio",
        "files",
        "ratio",
        "search",
        "ratio",
        "proved",
        "peak MiB"
    );
    for words in SIZES {
        measure(&verse(&text, words), words);
    }
}

fn measure(text: &str, words: usize) {
    let lines = text.lines().filter(|line| !line.is_empty()).count();
    let runs = if words > 20_000 { 3 } else { 9 };
    let shaping = median(runs, || shape_once(text));
    let plan = plan_for(text);
    let poem = Source::new("poem.txt", text);
    let layout = median(runs, || {
        Workbench::new(Assets::memory())
            .lay_out_texts(&plan, &poem)
            .expect("the verse fits")
            .cost
    });
    let folder = tempfile::tempdir().expect("a folder for the files");
    let whole = median(runs, || to_files(&plan, &poem, folder.path()));
    let book = Book::read(&plan, &poem);
    let (search, proved) = book.search(&book.lines(), runs);
    let ratio = |time: Duration| time.as_secs_f64() / shaping.as_secs_f64();
    println!(
        "{words:>7} {lines:>7} {:>7.2} ms {:>7.1} ms {:>6.2} {:>7.1} ms {:>6.2} {:>7.1} ms {:>6.2} {proved:>7} {:>9}",
        ms(shaping),
        ms(layout),
        ratio(layout),
        ms(whole),
        ratio(whole),
        ms(search),
        ratio(search),
        peak_mib(),
    );
}

/// Enough panels for the verse, and a picture's worth of room now and then.
fn plan_for(text: &str) -> Arc<Source> {
    let lines = text.lines().count();
    let per_side = (lines / 13 / 2 + 4).clamp(4, 400);
    let plan = format!(
        "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"poem.txt\"\n[paper]\n\
         panel-width = \"105 mm\"\npanel-height = \"148 mm\"\npanels-per-side = {per_side}\n"
    );
    Source::new("concertina.toml", plan)
}

/// The first `words` words of a text, in its own lines and stanzas; the text is repeated if need be.
fn verse(text: &str, words: usize) -> String {
    let mut verse = String::new();
    let mut count = 0;
    let mut since_blank = 0;
    for line in text.lines().cycle() {
        let here = line.split_whitespace().count();
        // Long verse paragraphs are cut into stanzas of fourteen lines, so that all texts divide alike.
        since_blank = if here == 0 { 0 } else { since_blank + 1 };
        if since_blank > 14 {
            verse.push('\n');
            since_blank = 1;
        }
        verse.push_str(line);
        verse.push('\n');
        count += here;
        if count >= words {
            break;
        }
    }
    verse
}

fn whole_text() -> String {
    let long = common::whole_text("en_milton_paradise_lost_LARGE.txt");
    let plain = |text: String| versefold::text::escape(&text, false);
    let made = || made_up(&project_words("winter-bus/winter-bus.txt"));
    long.map(plain).unwrap_or_else(made)
}

/// Lines of seven words, stanzas of four lines.
fn made_up(words: &[String]) -> String {
    let mut draw = Draw::new(words);
    let mut text = String::new();
    for line in 0..12_000 {
        for word in 0..7 {
            if word > 0 {
                text.push(' ');
            }
            draw.word(&mut text);
        }
        text.push_str(if line % 4 == 3 { "\n\n" } else { "\n" });
    }
    text
}
