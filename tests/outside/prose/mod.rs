//! Our prose beside that of a browser: Debian's Chromium sets the same paragraphs in the same face, size and measure.

mod browser;
mod figures;
mod ours;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use figures::{Figures, Measured};

use crate::support::texts::{Text, prose, texts};

/// Of a longer text, whole paragraphs of its beginning.
const MOST_WORDS: usize = 20_000;
const SIZE_PT: f64 = 11.0;
const EM_MM: f64 = SIZE_PT / 72.0 * 25.4;
const MEASURES_MM: [f64; 4] = [40.0, 60.0, 83.0, 110.0];

/// Verse of the project's own texts, each stanza set as a paragraph: letters and languages for which it has no prose.
const AS_PROSE: [&str; 4] = [
    "ar_busiri_burda",
    "en_whitman_ferry",
    "pl_mickiewicz_pan_tadeusz",
    "ru_pushkin_onegin",
];

/// Paragraphs to be set.
pub struct Sample {
    pub name: String,
    /// A BCP 47 tag.
    pub language: String,
    /// Words with one space between them.
    pub paragraphs: Vec<String>,
}

impl Sample {
    fn of(text: &Text) -> Sample {
        let words = fs::read_to_string(&text.path).expect("the text is UTF-8");
        let mut paragraphs = Vec::new();
        let mut count = 0;
        for paragraph in words.replace("\r\n", "\n").split("\n\n") {
            let words: Vec<&str> = paragraph.split_whitespace().collect();
            count += words.len();
            if count > MOST_WORDS {
                break;
            }
            if !words.is_empty() {
                paragraphs.push(words.join(" "));
            }
        }
        Sample {
            name: text.name(),
            language: text.language.clone(),
            paragraphs,
        }
    }

    fn family(&self) -> &'static str {
        match self.language.as_str() {
            "ar" => "Amiri",
            _ => "Alegreya",
        }
    }

    fn face(&self) -> PathBuf {
        let file = match self.family() {
            "Amiri" => "amiri/Amiri-Regular.ttf",
            _ => "alegreya/Alegreya-Regular.ttf",
        };
        Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("fonts-open")
            .join(file)
    }
}

/// Every text of prose there is, and [`AS_PROSE`].
fn samples() -> Vec<Sample> {
    let is_ours = |text: &Text| {
        let name = text.path.file_stem().unwrap_or_default().to_string_lossy();
        AS_PROSE.contains(&name.as_ref())
    };
    let mut found = texts();
    found.retain(is_ours);
    assert_eq!(found.len(), AS_PROSE.len());
    found.extend(prose());
    found.iter().map(Sample::of).collect()
}

/// A line, without the space behind it.
pub struct Line {
    pub text: String,
    /// Whether a hyphen is added behind it.
    pub hyphen: bool,
    /// How wide it is at its natural width as we measured it, in millimetres.
    pub width: Option<f64>,
}

impl Line {
    fn written(&self) -> String {
        match self.hyphen {
            true => format!("{}-", self.text),
            false => self.text.clone(),
        }
    }
}

/// Who set the lines.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// `hyphens: auto`: by the browser's own patterns, where it has any.
    BrowserByItself,
    /// We, words undivided.
    OursUndivided,
    /// The browser, a soft hyphen in every place where we would divide a word.
    BrowserWithOurPoints,
    /// We, words divided.
    Ours,
}

impl Side {
    fn name(self) -> &'static str {
        match self {
            Side::BrowserByItself => "browser, hyphens: auto",
            Side::OursUndivided => "ours, hyphenate = false",
            Side::BrowserWithOurPoints => "browser, our points",
            Side::Ours => "ours, hyphenate = true",
        }
    }
}

/// Which figures: text, justified, side, measure.
type Which = (String, bool, u32, Side);

/// The figures of a sample, and by how much the browser's width of one of our lines differs from ours at most.
fn figures_of(sample: &Sample) -> (BTreeMap<Which, Figures>, f64) {
    let mut all = browser::set(sample, &MEASURES_MM);
    for (side, hyphenate) in [(Side::OursUndivided, false), (Side::Ours, true)] {
        for justified in [false, true] {
            let set = ours::set(sample, &MEASURES_MM, justified, hyphenate);
            all.push((side, justified, set));
        }
    }
    let lines = all
        .iter()
        .flat_map(|(_, _, set)| set.iter().flatten().flatten());
    let mut written: Vec<String> = lines.map(Line::written).collect();
    written.extend([" ".to_string(), "a".to_string()]);
    written.sort();
    written.dedup();
    let widths = browser::widths(sample, &written);
    let width = |line: &str| {
        widths[written
            .binary_search_by(|known| known.as_str().cmp(line))
            .expect("measured")]
    };
    let space = width(" ") / EM_MM;
    let mut found = BTreeMap::new();
    let mut apart: f64 = 0.0;
    for (side, justified, set) in &all {
        for (measure, paragraphs) in MEASURES_MM.iter().zip(set) {
            let mut figures = Figures::default();
            for (number, (lines, words)) in paragraphs.iter().zip(&sample.paragraphs).enumerate() {
                let same: String = lines
                    .iter()
                    .map(|line| line.text.replace(' ', ""))
                    .collect();
                assert_eq!(same, words.replace(' ', ""), "{side:?} {}", sample.name);
                let lines = lines.iter().enumerate().map(|(at, line)| {
                    let indent = if at == 0 && number > 0 { EM_MM } else { 0.0 };
                    let theirs = width(&line.written());
                    if let Some(ours) = line.width {
                        if (ours - theirs).abs() > apart + 0.02 {
                            println!("{}: {ours:.3} {theirs:.3} {}", sample.name, line.written());
                        }
                        apart = apart.max((ours - theirs).abs());
                    }
                    Measured {
                        short: (measure - indent - theirs) / EM_MM,
                        spaces: line.text.matches(' ').count(),
                        hyphen: line.hyphen,
                    }
                });
                figures += Figures::of(&lines.collect::<Vec<_>>(), space);
            }
            found.insert(
                (sample.name.clone(), *justified, *measure as u32, *side),
                figures,
            );
        }
    }
    (found, apart)
}

#[test]
#[ignore = "needs Debian's chromium"]
fn our_prose_beside_that_of_a_browser() {
    let mut all = BTreeMap::new();
    for sample in samples() {
        let begun = std::time::Instant::now();
        let (figures, apart) = figures_of(&sample);
        println!(
            "{} {}: {apart:.4} mm apart, {:?}",
            sample.name,
            sample.language,
            begun.elapsed()
        );
        all.extend(figures);
    }
    let mut totals: BTreeMap<(bool, Side), Figures> = BTreeMap::new();
    let mut table = format!(
        "{:<44} {:>4} {:<10} {:<24} {}\n",
        "text",
        "mm",
        "align",
        "set by",
        Figures::HEAD
    );
    for ((name, justified, measure, side), figures) in &all {
        let align = if *justified { "justified" } else { "left" };
        table.push_str(&format!(
            "{name:<44} {measure:>4} {align:<10} {:<24} {}\n",
            side.name(),
            figures.row()
        ));
        *totals.entry((*justified, *side)).or_default() += *figures;
    }
    table.push_str("\nin total\n");
    for ((justified, side), figures) in &totals {
        let align = if *justified { "justified" } else { "left" };
        table.push_str(&format!(
            "{:<49} {align:<10} {:<24} {}\n",
            "",
            side.name(),
            figures.row()
        ));
    }
    println!("{table}");
    let file = Path::new(env!("CARGO_TARGET_TMPDIR")).join("prose-beside-a-browser.txt");
    fs::write(file, table).expect("the table is written");
}
