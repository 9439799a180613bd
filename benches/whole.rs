//! How long the main job takes, as ratios to shaping the same text once, line by line and uncached, with the
//! same shaper and one shape plan: from manuscript to layout, everything to files, and the search alone; and
//! the peak of memory.
//!
//! `cargo bench` prints the table. Where `VERSEFOLD_TEXTS` names a folder of whole texts, its longest English
//! poem is used; else verse is made of the words of the example and of `tests/texts`.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use rustybuzz::{Direction, ShapePlan, UnicodeBuffer};
use versefold::fault::Source;
use versefold::files::{self, OutputFile};
use versefold::lines;
use versefold::manuscript::Manuscript;
use versefold::outputs::WordsAs;
use versefold::panels::{self, Limits};
use versefold::plan::{self, RuleName};
use versefold::strip::Strip;
use versefold::typeface::Shelf;
use versefold::workbench::Workbench;

const FONT: &[u8] = include_bytes!("../fonts-open/alegreya/Alegreya-Regular.ttf");
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
        Workbench::new(".")
            .lay_out_texts(&plan, &poem)
            .expect("the verse fits")
            .cost
    });
    let folder = tempfile::tempdir().expect("a folder for the files");
    let whole = median(runs, || to_files(&plan, &poem, folder.path()));
    let (search, proved) = search_alone(&plan, &poem, runs);
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
        peak_mib().map_or("?".to_string(), |mib| mib.to_string()),
    );
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1000.0
}

fn median<T>(runs: usize, mut work: impl FnMut() -> T) -> Duration {
    let mut times: Vec<Duration> = (0..runs)
        .map(|_| {
            let begun = Instant::now();
            std::hint::black_box(work());
            begun.elapsed()
        })
        .collect();
    times.sort_unstable();
    times[runs / 2]
}

fn shape_once(text: &str) -> usize {
    let face = rustybuzz::Face::from_slice(FONT, 0).expect("our own font");
    let latin = rustybuzz::script::LATIN;
    let plan = ShapePlan::new(&face, Direction::LeftToRight, Some(latin), None, &[]);
    let mut buffer = UnicodeBuffer::new();
    let mut glyphs = 0;
    for line in text.lines().filter(|line| !line.is_empty()) {
        buffer.push_str(line);
        buffer.set_direction(Direction::LeftToRight);
        buffer.set_script(latin);
        let shaped = rustybuzz::shape_with_plan(&face, &plan, buffer);
        glyphs += shaped.len();
        buffer = shaped.clear();
    }
    glyphs
}

fn to_files(plan: &Arc<Source>, poem: &Arc<Source>, folder: &Path) -> usize {
    let mut bench = Workbench::new(".");
    let layout = bench.lay_out_texts(plan, poem).expect("the verse fits");
    let made = bench
        .output_files(&layout, WordsAs::Text)
        .expect("files can be made");
    // Files that are already there would be left alone: each run writes its own.
    let name = folder.join(format!("out-{}", unique()));
    let made: Vec<OutputFile> = made;
    files::write_all(&name, None, &made).expect("files can be written");
    made.len()
}

fn unique() -> usize {
    use std::sync::atomic::{AtomicUsize, Ordering};
    static NEXT: AtomicUsize = AtomicUsize::new(0);
    NEXT.fetch_add(1, Ordering::Relaxed)
}

fn search_alone(plan_source: &Arc<Source>, poem: &Arc<Source>, runs: usize) -> (Duration, bool) {
    let plan = plan::check::read(plan_source).expect("a right plan");
    let manuscript = Manuscript::read(poem).expect("a right manuscript");
    let strip = Strip::new(plan.paper);
    let set = lines::set(&manuscript, &plan, &strip, &Shelf::new(".")).expect("set lines");
    let problem = panels::pose(&manuscript, &plan, &set, &set.parts[0]).expect("a problem");
    let divide = || {
        panels::divide(&problem, &[], Limits::default())
            .or_else(|| panels::divide(&problem, &[RuleName::Undivided], Limits::default()))
            .expect("a division")
    };
    let proved = divide().proved;
    (median(runs, divide), proved)
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
    let named = std::env::var_os("VERSEFOLD_TEXTS").map(PathBuf::from);
    let long = named.and_then(|folder| {
        let name = "en_milton_paradise_lost_LARGE.txt";
        std::fs::read_to_string(folder.join(name)).ok()
    });
    let plain = |text: String| versefold::manuscript::escape(&text, false);
    long.map(plain).unwrap_or_else(|| made_up(&project_words()))
}

/// Words of the example and of the excerpts.
fn project_words() -> Vec<String> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = vec![root.join("examples/winter-bus/winter-bus.txt")];
    let texts = std::fs::read_dir(root.join("tests/texts"))
        .into_iter()
        .flatten()
        .flatten();
    files.extend(texts.map(|entry| entry.path()).filter(|path| {
        path.file_name()
            .is_some_and(|name| name.to_string_lossy().starts_with("en_"))
    }));
    files.sort();
    let texts = files
        .iter()
        .filter_map(|file| std::fs::read_to_string(file).ok());
    let plain = |word: &&str| {
        word.chars()
            .all(|c| c.is_alphanumeric() || "’,.;:!?'".contains(c))
    };
    texts
        .flat_map(|text| {
            text.split_whitespace()
                .filter(plain)
                .map(str::to_string)
                .collect::<Vec<_>>()
        })
        .collect()
}

/// Lines of seven words, stanzas of four lines, drawn with a fixed generator; one word in five is joined of
/// two, so that the vocabulary grows with the text as it does in real verse.
fn made_up(words: &[String]) -> String {
    let mut state = 0x1970_u64;
    let mut next = |below: usize| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((state >> 33) as usize) % below
    };
    let mut text = String::new();
    for line in 0..12_000 {
        for word in 0..7 {
            if word > 0 {
                text.push(' ');
            }
            let first = &words[next(words.len())];
            text.push_str(first);
            if next(5) == 0 && first.chars().all(char::is_alphabetic) {
                text.push_str(&words[next(words.len())].to_lowercase());
            }
        }
        text.push_str(if line % 4 == 3 { "\n\n" } else { "\n" });
    }
    text
}

/// The most memory that this process has held (Linux).
fn peak_mib() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    let kib: u64 = line.split_whitespace().nth(1)?.parse().ok()?;
    Some(kib / 1024)
}
