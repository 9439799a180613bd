//! What a workbench takes to come to a layout, and to all its files, after one word was changed: the work of all cores, beside
//! that of a workbench which has nothing to remember, and as a ratio to it.
//!
//! Each time one more word is replaced by another of the text that is a letter longer or shorter: so all that stands behind
//! it begins at another byte, and no text comes twice.

use std::sync::Arc;
use std::time::Duration;

use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::names::Source;
use versefold::outputs::WordsAs;

use cpu_time::ProcessTime;

use super::common::{ms, peak_mib, project_words, prose, whole_text};
use versefold::text::escape;

/// A book whose words change.
struct Book {
    plan: Arc<Source>,
    words: Vec<String>,
    /// Which of them are words alone, no callouts.
    plain: Vec<usize>,
    /// What stands behind each word.
    behind: Vec<String>,
}

/// The least work of some runs: to a layout, and from there to all files.
#[derive(Clone, Copy)]
struct Least {
    layout: Duration,
    files: Duration,
}

/// Prints the rows.
pub fn rows() {
    println!(
        "one word changed: the least work of some runs; `ratio` is to a workbench that remembers nothing"
    );
    println!(
        "{:<28} {:<20} {:>10} {:>10} {:>7} {:>10} {:>10}",
        "book", "what", "again", "anew", "ratio", "first MiB", "peak MiB"
    );
    let demo = include_str!("../../examples/winter-bus/winter-bus.txt");
    let plan = include_str!("../../examples/winter-bus/concertina.toml");
    book("the demo", plan, demo, 200);
    let known = project_words("winter-bus/winter-bus.txt").join(" ");
    let mut paragraphs = String::new();
    for (number, word) in known.split(' ').enumerate() {
        paragraphs.push_str(word);
        paragraphs.push_str(if number % 100 == 99 { "\n\n" } else { " " });
    }
    let plan = "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"text.txt\"\n[paper]\n\
        panel-width = \"105 mm\"\npanel-height = \"297 mm\"\npanels-per-side = 16\n[text]\nset-as = \"prose\"\n\
        align = \"justified\"\nhyphenate = true\nsize = \"11 pt\"\nleading = \"15 pt\"\n";
    book(
        "10000 words, justified",
        plan,
        &prose(&paragraphs, 10_000),
        200,
    );
    if let Some(text) = whole_text("en_darwin_voyage_of_the_beagle_LARGE.txt") {
        let text = escape(&prose(&text, 10_000), false);
        book("10000 words of Darwin", plan, &text, 200);
    }
}

fn book(name: &str, plan: &str, text: &str, runs: usize) {
    let mut book = Book::new(plan, text);
    let anew = (0..runs.div_ceil(20)).map(|run| {
        book.change(run);
        work(&mut bench(), &book)
    });
    let anew = anew.reduce(Least::with).expect("a run");
    let mut bench = bench();
    work(&mut bench, &book);
    let first = (0..runs / 10).map(|run| {
        book.change(run);
        work(&mut bench, &book)
    });
    let first = first.reduce(Least::with).expect("a run");
    // What is remembered does not grow with the changes.
    let held = peak_mib();
    let again = (runs / 10..runs).map(|run| {
        book.change(run);
        work(&mut bench, &book)
    });
    let again = again.fold(first, Least::with);
    let tell = |what: &str, again: Duration, anew: Duration| {
        println!(
            "{name:<28} {what:<20} {:>7.2} ms {:>7.1} ms {:>7.3} {held:>10} {:>10}",
            ms(again),
            ms(anew),
            again.as_secs_f64() / anew.as_secs_f64(),
            peak_mib()
        );
    };
    tell("its layout", again.layout, anew.layout);
    tell("all files after that", again.files, anew.files);
}

fn bench() -> Workbench {
    Workbench::new(Assets::folder(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/examples/winter-bus"
    )))
}

fn work(bench: &mut Workbench, book: &Book) -> Least {
    let words = book.text();
    let begun = ProcessTime::now();
    let layout = bench.lay_out_texts(&book.plan, &words);
    let layout = layout.expect("the words fit");
    let laid = ProcessTime::now();
    let files = bench.output_files(&layout, WordsAs::Text);
    std::hint::black_box(files.expect("files can be made"));
    let made = ProcessTime::now();
    Least {
        layout: laid.duration_since(begun),
        files: made.duration_since(laid),
    }
}

impl Least {
    fn with(self, other: Least) -> Least {
        Least {
            layout: self.layout.min(other.layout),
            files: self.files.min(other.files),
        }
    }
}

impl Book {
    fn new(plan: &str, text: &str) -> Book {
        let (mut words, mut behind) = (Vec::new(), Vec::new());
        let mut rest = text;
        while let Some(end) = rest.find([' ', '\n']) {
            let space = rest[end..].find(|c| !matches!(c, ' ' | '\n'));
            let next = space.map_or(rest.len(), |space| end + space);
            words.push(rest[..end].to_string());
            behind.push(rest[end..next].to_string());
            rest = &rest[next..];
        }
        words.push(rest.to_string());
        behind.push("\n".to_string());
        let mut callout = false;
        let plain = words
            .iter()
            .zip(&behind)
            .enumerate()
            .filter(|(_, (word, behind))| {
                callout |= word.starts_with(['[', '#']);
                let plain = !callout && word.len() > 3 && word.chars().all(char::is_alphabetic);
                callout &= !behind.contains('\n');
                plain
            });
        let plain = plain.map(|(at, _)| at).collect();
        Book {
            plan: Source::new("concertina.toml", plan),
            words,
            plain,
            behind,
        }
    }

    fn text(&self) -> Arc<Source> {
        let words = self.words.iter().zip(&self.behind);
        let text: String = words
            .flat_map(|(word, behind)| [word.as_str(), behind])
            .collect();
        Source::new("text.txt", text)
    }

    /// Replaces a word by another that is longer or shorter by a letter; which, the number says.
    fn change(&mut self, run: usize) {
        let from = run * 7919 % self.plain.len();
        let (behind, before) = (&self.plain[from..], &self.plain[..from]);
        let mut places = behind.iter().chain(before).copied();
        let at = places.next().expect("a word");
        let alike = |&other: &usize| {
            let (one, other) = (&self.words[at], &self.words[other]);
            one.len().abs_diff(other.len()) == 1
        };
        if let Some(other) = places.find(alike) {
            self.words[at] = self.words[other].clone();
        }
    }
}
