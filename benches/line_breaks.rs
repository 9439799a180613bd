//! How long the division of one long paragraph from all its places takes, as a ratio to filling its lines one by one
//! over the same points; and how many lines are kept.
//!
//! `cargo bench --bench line_breaks` prints the table. The words are those of the example and of `tests/texts`, over and
//! over; widths of letters and places to divide words are made up.

use std::hint::black_box;
use std::path::Path;
use std::time::{Duration, Instant};

use versefold::names::Length;
use versefold::setting::line_breaks::{
    How, Justified, LineBreaks, Measures, Point, Ragged, Slack, best_breaks,
};

const SIZES: [usize; 2] = [10_000, 200_000];
const EM: Length = Length::pt(11);
/// A panel's measure, and a wide one.
const MEASURES: [Length; 2] = [Length::mm(83), Length::mm(200)];
const RUNS: usize = 7;

fn main() {
    println!("medians of {RUNS}; ratios to filling lines one by one");
    println!(
        "{:>7} {:>8} {:>10} {:>9} {:>10} {:>10} {:>6} {:>10} {:>11}",
        "words", "points", "measure", "how", "filling", "fall", "ratio", "lines", "MiB kept"
    );
    let words = words();
    for count in SIZES {
        for measure in MEASURES {
            for (name, how, penalty) in [
                ("ragged", How::Ragged(Ragged::of(EM)), 20_000),
                ("justified", How::Justified(Justified::default()), 50),
            ] {
                let points = points(&words, count, penalty);
                report(name, count, &points, measure, &how);
            }
        }
    }
}

fn report(name: &str, words: usize, points: &[Point], measure: Length, how: &How) {
    let measures = Measures {
        first: &[measure - EM],
        rest: measure,
    };
    let filling = median(|| fill(points, measure));
    let falling = median(|| best_breaks(points, &measures, how));
    let kept = best_breaks(points, &measures, how);
    println!(
        "{words:>7} {:>8} {:>10} {name:>9} {:>7.2} ms {:>7.1} ms {:>6.0} {:>10} {:>11.1}",
        points.len(),
        measure.to_string(),
        ms(filling),
        ms(falling),
        falling.as_secs_f64() / filling.as_secs_f64(),
        kept.kept(),
        mib(&kept, points.len()),
    );
}

/// What a product holds: twelve bytes a line, and per point its first line and what all lines cost.
fn mib(fall: &LineBreaks, points: usize) -> f64 {
    (fall.kept() * 12 + points * 20) as f64 / 1_048_576.0
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1000.0
}

fn median<T>(mut work: impl FnMut() -> T) -> Duration {
    let mut times: Vec<Duration> = (0..RUNS)
        .map(|_| {
            let begun = Instant::now();
            black_box(work());
            begun.elapsed()
        })
        .collect();
    times.sort_unstable();
    times[RUNS / 2]
}

/// Each line as long as it can be at its natural width.
fn fill(points: &[Point], measure: Length) -> usize {
    let (mut from, mut to, mut lines) = (0, 1, 0);
    while to < points.len() {
        if points[to].end - points[from].start > measure && to > from + 1 {
            from = to - 1;
            lines += 1;
        } else {
            to += 1;
        }
    }
    lines + 1
}

fn words() -> Vec<String> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = vec![root.join("examples/winter-bus/winter-bus.txt")];
    let texts = std::fs::read_dir(root.join("tests/texts")).expect("the texts are there");
    let texts = texts.map(|entry| entry.expect("an entry").path());
    files.extend(texts.filter(|path| {
        let name = path.file_name().map(|name| name.to_string_lossy());
        name.is_some_and(|name| name.starts_with("en_"))
    }));
    files.sort();
    let texts = files
        .iter()
        .map(|file| std::fs::read_to_string(file).expect("a text"));
    texts
        .flat_map(|text| {
            text.split_whitespace()
                .map(str::to_string)
                .collect::<Vec<_>>()
        })
        .collect()
}

/// A made-up width, much like that of a text face, in thousandths of an em.
fn width(letter: char) -> i64 {
    match letter.to_ascii_lowercase() {
        'i' | 'j' | 'l' | '.' | ',' | '’' | '\'' | '!' => 260,
        'f' | 't' | 'r' | 's' => 380,
        'm' | 'w' => 800,
        _ if letter.is_uppercase() => 680,
        _ => 500,
    }
}

/// So many words in one paragraph. Long words may be divided behind every third letter, but for the last.
fn points(words: &[String], count: usize, penalty: i32) -> Vec<Point> {
    let em = |thousandths: i64| EM.scaled(thousandths, 1000);
    let mut points = vec![Point::default()];
    let mut here = Point::default();
    for (number, word) in words.iter().cycle().take(count).enumerate() {
        if number > 0 {
            let before = here;
            here.start += em(250);
            here.slack_to_start = Slack {
                stretch: here.slack_to_start.stretch + em(125),
                shrink: here.slack_to_start.shrink + em(80),
            };
            here.words_to_start += 1;
            points.push(Point {
                end: before.start,
                slack_to_end: before.slack_to_start,
                words_to_end: before.words_to_start,
                ..here
            });
        }
        let letters: Vec<char> = word.chars().collect();
        for (index, &letter) in letters.iter().enumerate() {
            if index > 0 && index % 3 == 0 && index + 3 <= letters.len() && letters.len() > 5 {
                points.push(Point {
                    end: here.start + em(330),
                    slack_to_end: here.slack_to_start,
                    words_to_end: here.words_to_start,
                    penalty,
                    hyphen: true,
                    ..here
                });
            }
            here.start += em(width(letter));
        }
    }
    points.push(Point {
        end: here.start,
        slack_to_end: here.slack_to_start,
        words_to_end: here.words_to_start,
        ..here
    });
    points
}
