//! What the benches share: medians, shaping once, everything to files, the search alone, and words.

// Each bench uses a part of it.
#![allow(dead_code)]

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use cpu_time::ProcessTime;
use rustybuzz::{Direction, ShapePlan, UnicodeBuffer};
use versefold::assets::Assets;
use versefold::book::plan_file::check;
use versefold::book::{Workbench, build_problem};
use versefold::cli::files;
use versefold::division::{self, Limits};
use versefold::names::Source;
use versefold::outputs::WordsAs;
use versefold::paper::Strip;
use versefold::plan::{self, RuleName};
use versefold::setting::{self, SetLines};
use versefold::text::Manuscript;
use versefold::typeface::FontLibrary;

pub const FONT: &[u8] = include_bytes!("../../fonts-open/alegreya/Alegreya-Regular.ttf");

pub fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1000.0
}

pub fn median<T>(runs: usize, mut work: impl FnMut() -> T) -> Duration {
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

/// How long something took, in milliseconds.
#[derive(Clone, Copy)]
pub struct Took {
    /// By the clock.
    pub wall: f64,
    /// All threads together.
    pub work: f64,
}

impl Took {
    pub fn of<T>(work: impl FnOnce() -> T) -> Took {
        let (begun, at_work) = (Instant::now(), ProcessTime::now());
        std::hint::black_box(work());
        let wall = ms(begun.elapsed());
        let work = ms(at_work.elapsed());
        Took { wall, work }
    }

    /// The least of each.
    pub fn least(self, other: Took) -> Took {
        Took {
            wall: self.wall.min(other.wall),
            work: self.work.min(other.work),
        }
    }
}

/// Shapes every line of a text by itself, uncached, with one shape plan; gives the number of glyphs. A line of prose
/// is a paragraph.
pub fn shape_once(text: &str) -> usize {
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

/// Lays a book out and writes all its files; gives how many.
pub fn to_files(plan: &Arc<Source>, words: &Arc<Source>, folder: &Path) -> usize {
    let mut bench = Workbench::new(Assets::memory());
    let layout = bench.lay_out_texts(plan, words).expect("the words fit");
    let made = bench
        .output_files(&layout, WordsAs::Text)
        .expect("files can be made");
    // Files that are already there would be left alone: each run writes its own.
    let name = folder.join(format!("out-{}", unique()));
    files::write_all(&name, None, &made, |_| None, |_, _| true).expect("files can be written");
    made.len()
}

fn unique() -> usize {
    use std::sync::atomic::{AtomicUsize, Ordering};
    static NEXT: AtomicUsize = AtomicUsize::new(0);
    NEXT.fetch_add(1, Ordering::Relaxed)
}

/// A book as it stands before its lines are set.
pub struct Book {
    plan: plan::Plan,
    manuscript: Manuscript,
    strip: Strip,
}

impl Book {
    pub fn read(plan: &Arc<Source>, words: &Arc<Source>) -> Book {
        let plan = check::read(plan).expect("a right plan");
        let manuscript = Manuscript::read_as(words, plan.set_as, |_| false);
        Book {
            strip: Strip::new(plan.paper),
            manuscript: manuscript.expect("a right manuscript"),
            plan,
        }
    }

    /// Sets its lines.
    pub fn lines(&self) -> SetLines {
        let fonts = FontLibrary::new(Assets::memory());
        setting::set(&self.manuscript, &self.plan, &self.strip, &fonts).expect("set lines")
    }

    /// How long the search takes by itself, and whether its answer is proved.
    pub fn search(&self, set: &SetLines, runs: usize) -> (Duration, bool) {
        let part = &set.parts[0];
        let problem =
            build_problem(&self.manuscript, &self.plan, &self.strip, set, part).expect("a problem");
        let divide = || {
            division::divide(&problem, &[], Limits::default())
                .or_else(|| division::divide(&problem, &[RuleName::Undivided], Limits::default()))
                .expect("a division")
        };
        let proved = divide().proved;
        (median(runs, divide), proved)
    }
}

/// A whole text of the folder that `VERSEFOLD_TEXTS` names.
pub fn whole_text(name: &str) -> Option<String> {
    let folder = std::env::var_os("VERSEFOLD_TEXTS").map(PathBuf::from)?;
    std::fs::read_to_string(folder.join(name)).ok()
}

/// Words of an example and of the English excerpts.
pub fn project_words(example: &str) -> Vec<String> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = vec![root.join("examples").join(example)];
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

/// Draws words with a fixed generator; one in five is joined of two, so that the vocabulary grows with the text
/// as it does in real ones.
pub struct Draw<'a> {
    words: &'a [String],
    state: u64,
}

impl Draw<'_> {
    pub fn new(words: &[String]) -> Draw<'_> {
        Draw {
            words,
            state: 0x1970,
        }
    }

    pub fn below(&mut self, below: usize) -> usize {
        self.state = self
            .state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.state >> 33) as usize) % below
    }

    /// Adds a word to a text.
    pub fn word(&mut self, text: &mut String) {
        let first = &self.words[self.below(self.words.len())];
        text.push_str(first);
        if self.below(5) == 0 && first.chars().all(char::is_alphabetic) {
            text.push_str(&self.words[self.below(self.words.len())].to_lowercase());
        }
    }
}

/// The first `words` words of a text, each paragraph on a line of its own, the last one cut; repeated if need be.
pub fn prose(text: &str, words: usize) -> String {
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

/// Paragraphs of twenty to two hundred words.
pub fn made_up_prose(words: &[String]) -> String {
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

/// The most memory that this process has held, in MiB (Linux).
pub fn peak_mib() -> String {
    let peak = || {
        let status = std::fs::read_to_string("/proc/self/status").ok()?;
        let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
        let kib: u64 = line.split_whitespace().nth(1)?.parse().ok()?;
        Some(kib / 1024)
    };
    peak().map_or("?".to_string(), |mib| mib.to_string())
}
