//! How long prose takes that is justified and hyphenated to a measure of 83 mm: from manuscript to layout, everything to
//! files, the lines alone, and the search for the division alone; in wall time and in the work of all cores, each the
//! least of some runs, as ratios to shaping the same text once, paragraph by paragraph and uncached, with the same shaper
//! and one shape plan; and the peak of memory.
//!
//! `cargo bench --bench prose` prints the table. Where `VERSEFOLD_TEXTS` names a folder of whole texts, its longest
//! prose is used; else prose is made of the words of the example and of `tests/texts`. Where `VERSEFOLD_PEERS` names
//! the program of `benches/peers`, what general-purpose libraries need for the same words stands below, measured in
//! turns with ours: they do less (no hyphens, no best lines, no division, nothing read back).

mod common;

use std::path::Path;
use std::process::Command;
use std::sync::Arc;

use common::{Book, Took, made_up_prose, peak_mib, project_words, prose, shape_once, to_files};
use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::names::Source;
use versefold::text;

const SIZES: [usize; 2] = [10_000, 200_000];

fn main() {
    let text = whole_text();
    let peers = std::env::var("VERSEFOLD_PEERS").ok();
    println!("least of some runs; ratios to shaping the text once, uncached");
    let mut exponent = Vec::new();
    for words in SIZES {
        exponent.push(measure(&prose(&text, words), words, peers.as_deref()));
    }
    let growth = (exponent[1] / exponent[0]).ln() / (SIZES[1] as f64 / SIZES[0] as f64).ln();
    println!("everything to files grows with the words to the power of {growth:.2} in wall time");
    if peers.is_none() {
        println!("peers: not measured, VERSEFOLD_PEERS names no program");
    }
}

/// Measures all rows in turns; gives the wall time of everything to files, in milliseconds.
fn measure(text: &str, words: usize, peers: Option<&str>) -> f64 {
    let rounds = if words > 20_000 { 5 } else { 15 };
    let folder = tempfile::tempdir().expect("a folder for the files");
    let plan = plan_for(words);
    let chapter = Source::new("prose.txt", text::escape(text, false));
    let book = Book::read(&plan, &chapter);
    let set = book.lines();
    let mut rows: Vec<(String, Took)> = Vec::new();
    for _ in 0..rounds {
        let mut ours = |name: &str, took: Took| keep(&mut rows, name, took);
        ours("shaping once", Took::of(|| shape_once(text)));
        ours("lines", Took::of(|| book.lines().parts.len()));
        ours("search", Took::of(|| book.search(&set, 1)));
        let lay_out = || {
            let mut bench = Workbench::new(Assets::memory());
            let layout = bench.lay_out_texts(&plan, &chapter);
            layout.expect("the prose fits").cost
        };
        ours("layout", Took::of(lay_out));
        let to_files = || to_files(&plan, &chapter, folder.path());
        ours("files", Took::of(to_files));
        for (name, took) in peers.map_or(Vec::new(), |peers| ask(peers, text, folder.path())) {
            keep(&mut rows, &name, took);
        }
    }
    let floor = rows[0].1;
    let proved = book.search(&set, 1).1;
    println!(
        "{words} words (proved: {proved}; our peak of memory {} MiB)",
        peak_mib()
    );
    for (name, took) in &rows {
        println!(
            "  {name:<16} wall {:>9.1} ms {:>7.2}    work {:>9.1} ms {:>7.2}",
            took.wall,
            took.wall / floor.wall,
            took.work,
            took.work / floor.work,
        );
    }
    let files = rows.iter().find(|(name, _)| name == "files");
    files.map_or(0.0, |(_, took)| took.wall)
}

/// Keeps the least that something took.
fn keep(rows: &mut Vec<(String, Took)>, name: &str, took: Took) {
    match rows.iter_mut().find(|(known, _)| known == name) {
        Some((_, least)) => *least = least.least(took),
        None => rows.push((name.to_string(), took)),
    }
}

/// What the peers need, as they say it: a name, and milliseconds by the clock and of work, on each line.
fn ask(peers: &str, text: &str, folder: &Path) -> Vec<(String, Took)> {
    let name = folder.join("prose.txt");
    std::fs::write(&name, text).expect("the text can be written");
    let asked = Command::new(peers).arg(&name).output();
    let said = asked.unwrap_or_else(|error| panic!("{peers} cannot be run: {error}"));
    let said = String::from_utf8_lossy(&said.stdout).into_owned();
    let row = |line: &str| {
        let [name, wall, work] = line.split(' ').collect::<Vec<_>>().try_into().ok()?;
        let (wall, work) = (wall.parse().ok()?, work.parse().ok()?);
        Some((name.to_string(), Took { wall, work }))
    };
    let rows: Option<Vec<_>> = said.lines().map(row).collect();
    rows.unwrap_or_else(|| panic!("{peers} says what is not understood: {said}"))
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

fn whole_text() -> String {
    let long = common::whole_text("en_darwin_voyage_of_the_beagle_LARGE.txt");
    let made = || made_up_prose(&project_words("winter-bus-prose/nine-winters.txt"));
    long.unwrap_or_else(made)
}
