//! How long prose takes that is justified and hyphenated to a measure of 83 mm, as ratios to shaping the same text
//! once, paragraph by paragraph and uncached, with the same shaper and one shape plan: from manuscript to layout,
//! everything to files, the lines alone, and the search for the division alone; and the peak of memory.
//!
//! `cargo bench --bench prose` prints the table. Where `VERSEFOLD_TEXTS` names a folder of whole texts, its longest
//! prose is used; else prose is made of the words of the example and of `tests/texts`. Where `VERSEFOLD_PEERS` names
//! the program of `benches/peers`, what general-purpose libraries need stands beside everything to files: they do
//! less (no hyphens, nothing justified, no division, nothing read back).

mod common;

use std::path::Path;
use std::process::Command;
use std::sync::Arc;
use std::time::Duration;

use common::{Book, Draw, median, ms, peak_mib, project_words, shape_once, to_files};
use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::names::Source;
use versefold::text;

const SIZES: [usize; 2] = [10_000, 200_000];

fn main() {
    let text = whole_text();
    let peers = std::env::var("VERSEFOLD_PEERS").ok();
    println!("medians; ratios to shaping the text once, uncached");
    println!(
        "{:>7} {:>10} {:>10} {:>6} {:>10} {:>6} {:>10} {:>6} {:>10} {:>6} {:>7} {:>9} {:>11}",
        "words",
        "shaping",
        "lines",
        "ratio",
        "search",
        "ratio",
        "layout",
        "ratio",
        "files",
        "ratio",
        "proved",
        "peak MiB",
        "peers"
    );
    for words in SIZES {
        measure(&prose(&text, words), words, peers.as_deref());
    }
    if peers.is_none() {
        println!("peers: not measured, VERSEFOLD_PEERS names no program");
    }
}

fn measure(text: &str, words: usize, peers: Option<&str>) {
    let runs = if words > 20_000 { 5 } else { 9 };
    let folder = tempfile::tempdir().expect("a folder for the files");
    let shaping = median(runs, || shape_once(text));
    let plan = plan_for(words);
    let chapter = Source::new("prose.txt", text::escape(text, false));
    let layout = median(runs, || {
        let mut bench = Workbench::new(Assets::memory());
        let layout = bench.lay_out_texts(&plan, &chapter);
        layout.expect("the prose fits").cost
    });
    let whole = median(runs, || to_files(&plan, &chapter, folder.path()));
    let book = Book::read(&plan, &chapter);
    let lines = median(runs, || book.lines().parts.len());
    let (search, proved) = book.search(&book.lines(), runs);
    let ratio = |time: Duration| time.as_secs_f64() / shaping.as_secs_f64();
    println!(
        "{words:>7} {:>7.2} ms {:>7.1} ms {:>6.2} {:>7.1} ms {:>6.2} {:>7.1} ms {:>6.2} {:>7.1} ms {:>6.2} {proved:>7} \
         {:>9} {:>11}",
        ms(shaping),
        ms(lines),
        ratio(lines),
        ms(search),
        ratio(search),
        ms(layout),
        ratio(layout),
        ms(whole),
        ratio(whole),
        peak_mib(),
        peers.map_or("-".to_string(), |peers| ask(peers, text, folder.path())),
    );
}

/// What the peers need, as they say it.
fn ask(peers: &str, text: &str, folder: &Path) -> String {
    let name = folder.join("prose.txt");
    std::fs::write(&name, text).expect("the text can be written");
    let asked = Command::new(peers).arg(&name).output();
    let said = asked.unwrap_or_else(|error| panic!("{peers} cannot be run: {error}"));
    let said = String::from_utf8_lossy(&said.stdout);
    let took: f64 = said.trim().parse().expect("a time in milliseconds");
    format!("{took:.1} ms")
}

/// Panels that leave a measure of 83 mm, high enough that a strip has room for all words.
fn plan_for(words: usize) -> Arc<Source> {
    let per_side = (words / 340 / 2 + 2).clamp(4, 400);
    let plan = format!(
        "title = \"Nine Winters\"\nlanguage = \"en-GB\"\nmanuscript = \"prose.txt\"\n[paper]\n\
         panel-width = \"105 mm\"\npanel-height = \"297 mm\"\npanels-per-side = {per_side}\n[text]\n\
         set-as = \"prose\"\nalign = \"justified\"\nhyphenate = true\nsize = \"11 pt\"\nleading = \"15 pt\"\n"
    );
    Source::new("concertina.toml", plan)
}

/// The first `words` words of a text, each paragraph on a line of its own, the last one cut; repeated if need be.
fn prose(text: &str, words: usize) -> String {
    let mut prose = String::new();
    let mut left = words;
    for paragraph in text.split("\n\n").cycle() {
        let paragraph: Vec<&str> = paragraph.split_whitespace().take(left).collect();
        if paragraph.is_empty() {
            continue;
        }
        prose.push_str(&paragraph.join(" "));
        prose.push_str("\n\n");
        left -= paragraph.len();
        if left == 0 {
            break;
        }
    }
    prose
}

fn whole_text() -> String {
    let long = common::whole_text("en_darwin_voyage_of_the_beagle_LARGE.txt");
    let made = || made_up(&project_words("winter-bus-prose/nine-winters.txt"));
    long.unwrap_or_else(made)
}

/// Paragraphs of twenty to two hundred words.
fn made_up(words: &[String]) -> String {
    let mut draw = Draw::new(words);
    let mut text = String::new();
    for _ in 0..2_000 {
        for word in 0..20 + draw.below(180) {
            if word > 0 {
                text.push(' ');
            }
            draw.word(&mut text);
        }
        text.push_str("\n\n");
    }
    text
}
