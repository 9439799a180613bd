//! How long the main job takes, as ratios to shaping the same text once, line by line and uncached, with the
//! same shaper and one shape plan: from manuscript to layout, everything to files, and the search alone; and
//! the peak of memory. Then how long all cores together work on 10,000 words of prose on few panels and on many, and what
//! each file takes beyond the layout; and what the same words cost in verse of short lines and of long ones.
//!
//! `cargo bench` prints the table. Where `VERSEFOLD_TEXTS` names a folder of whole texts, its longest English
//! poem is used; else verse is made of the words of the example and of `tests/texts`.

mod common;

use std::sync::Arc;
use std::time::Duration;

use common::{
    Book, Draw, Took, made_up_prose, median, ms, peak_mib, project_words, prose, shape_once,
    to_files,
};
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
    println!();
    println!(
        "{:>7} {:>7} {:>10} {:>10} {:>7} {:>10}",
        "words", "panels", "layout", "files", "of them", "a file"
    );
    for (per_side, panel) in [(30, (105, 148)), (400, (62, 29))] {
        measure_files(per_side, panel);
    }
    println!();
    measure_lines(10_000);
}

/// What laying out and writing all files costs in work of all cores: layers for panels of so many millimetres, so many a
/// side.
fn measure_files(per_side: usize, (width, height): (usize, usize)) {
    const WORDS: usize = 10_000;
    let words = project_words("winter-bus-prose/nine-winters.txt");
    let text = versefold::text::escape(&prose(&made_up_prose(&words), WORDS), false);
    let margin = 5;
    let plan = format!(
        "title = \"Nine Winters\"\nlanguage = \"en-GB\"\nmanuscript = \"prose.txt\"\n[paper]\n\
         panel-width = \"{width} mm\"\npanel-height = \"{height} mm\"\npanels-per-side = {per_side}\n[text]\n\
         set-as = \"prose\"\nalign = \"justified\"\nhyphenate = true\nsize = \"9 pt\"\nleading = \"12 pt\"\n\
         margins = {{ head = \"{margin} mm\", foot = \"{margin} mm\", left = \"6 mm\", right = \"6 mm\" }}\n\
         [rules]\nfullest = \"100 %\"\n"
    );
    let plan = Source::new("concertina.toml", plan);
    let text = Source::new("prose.txt", text);
    let folder = tempfile::tempdir().expect("a folder for the files");
    let mut files = 0;
    let layout = work(|| {
        let layout = Workbench::new(Assets::memory()).lay_out_texts(&plan, &text);
        layout.expect("the prose fits").cost
    });
    let whole = work(|| files = to_files(&plan, &text, folder.path()));
    println!(
        "{WORDS:>7} {:>7} {:>7.1} ms {:>7.1} ms {files:>7} {:>7.2} ms",
        per_side * 2,
        layout,
        whole,
        (whole - layout) / files as f64,
    );
}

/// The least that all cores together work on something, in milliseconds.
fn work<T>(mut work: impl FnMut() -> T) -> f64 {
    const RUNS: usize = 9;
    let runs = (0..RUNS).map(|_| Took::of(&mut work).work);
    runs.fold(f64::INFINITY, f64::min)
}

/// What a word costs in verse of long lines and of short ones: the same words in lines of twelve and of four.
fn measure_lines(words: usize) {
    let drawn = project_words("winter-bus/winter-bus.txt");
    let mut draw = Draw::new(&drawn);
    let mut all: Vec<String> = vec![String::new(); words];
    all.iter_mut().for_each(|word| draw.word(word));
    let took = [4, 12].map(|of_line| {
        let lines: Vec<String> = all.chunks(of_line).map(|line| line.join(" ")).collect();
        let stanzas: Vec<String> = lines.chunks(6).map(|stanza| stanza.join("\n")).collect();
        let text = stanzas.join("\n\n");
        let (plan, poem) = (plan_for(&text), Source::new("poem.txt", text.as_str()));
        work(|| {
            let layout = Workbench::new(Assets::memory()).lay_out_texts(&plan, &poem);
            layout.expect("the verse fits").cost
        })
    });
    println!(
        "{words} words in lines of four {:.1} ms of work, in lines of twelve {:.1} ms: {:.2} times",
        took[0],
        took[1],
        took[1] / took[0]
    );
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
