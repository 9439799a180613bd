//! Chromium: where it ends the lines of paragraphs, and how wide it finds a line.

use std::fs;

use std::process::Command;

use serde_json::{Value, json};
use versefold::names::Direction;
use versefold::typeface::Hyphenator;

use super::{AtMeasures, Line, SIZE_PT, Sample, Side};
use crate::support::temporary;

/// Chromium's own name, or the one that is set in this variable.
const VARIABLE: &str = "VERSEFOLD_CHROMIUM";

/// CSS pixels in a millimetre.
const PX_PER_MM: f64 = 96.0 / 25.4;

/// What is behind letters at which a word may be divided.
const SOFT_HYPHEN: char = '\u{ad}';

/// Opens a page that runs our script, and reads what it answers.
fn answer(sample: &Sample, asked: &Value) -> Value {
    let temp = temporary();
    let page = temp.path().join("page.html");
    let direction = match Direction::of_language(&sample.language) {
        Direction::LeftToRight => "ltr",
        Direction::RightToLeft => "rtl",
    };
    let asked = asked.to_string().replace('<', "\\u003c");
    let html = format!(
        "<!doctype html><html lang='{}' dir='{direction}'><meta charset='utf-8'><style>\n\
         @font-face {{ font-family: Face; src: url('file://{}') }}\n\
         body {{ font: {SIZE_PT}pt/15pt Face; text-rendering: geometricPrecision }}\n\
         p {{ margin: 0 }}\n\
         </style><body><script type='application/json' id='asked'>{asked}</script>\n\
         <script>{}</script></body></html>",
        sample.language,
        sample.face().display(),
        include_str!("lines.js"),
    );
    fs::write(&page, html).expect("the page is written");
    let program = std::env::var_os(VARIABLE).unwrap_or_else(|| "chromium".into());
    let ran = Command::new(program)
        .args([
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-dev-shm-usage",
        ])
        .args([
            "--allow-file-access-from-files",
            "--virtual-time-budget=600000",
        ])
        .arg(format!(
            "--user-data-dir={}",
            temp.path().join("profile").display()
        ))
        .arg("--dump-dom")
        .arg(&page)
        .output()
        .unwrap_or_else(|error| panic!("chromium cannot be run: {error}"));
    let said = String::from_utf8_lossy(&ran.stdout);
    let found = said
        .split_once("answer:")
        .and_then(|(_, said)| said.split_once(":answer"));
    let Some((found, _)) = found else {
        let errors = String::from_utf8_lossy(&ran.stderr);
        panic!(
            "chromium gives no answer for {}: {said}\n{errors}",
            sample.name
        );
    };
    serde_json::from_str(found).expect("the answer is JSON")
}

/// How wide the browser finds these lines, in millimetres.
pub fn widths(sample: &Sample, lines: &[&str]) -> Vec<f64> {
    let widths = answer(sample, &json!({ "lines": lines }));
    let widths = widths.as_array().expect("a list");
    let mm = widths
        .iter()
        .map(|width| width.as_f64().expect("a number") / PX_PER_MM);
    let mm: Vec<f64> = mm.collect();
    assert_eq!(mm.len(), lines.len());
    mm
}

/// The lines of a sample, for each way and measure.
pub fn set(sample: &Sample, measures: &[f64]) -> Vec<(Side, bool, AtMeasures)> {
    let divided = sample
        .paragraphs
        .iter()
        .map(|words| with_soft_hyphens(words, &sample.language));
    let divided: Vec<String> = divided.collect();
    let px: Vec<f64> = measures.iter().map(|mm| mm * PX_PER_MM).collect();
    let mut ways = Vec::new();
    for (side, words, hyphens) in [
        (Side::BrowserByItself, &sample.paragraphs, "auto"),
        (Side::BrowserWithOurPoints, &divided, "manual"),
    ] {
        for justified in [false, true] {
            ways.push((side, justified, words, hyphens));
        }
    }
    let asked = ways.iter().map(|(_, justified, words, hyphens)| {
        let align = if *justified { "justify" } else { "start" };
        let css = format!("text-wrap:pretty;hyphens:{hyphens};text-align:{align}");
        json!({ "paragraphs": words, "measures": px, "css": css })
    });
    let asked: Vec<Value> = asked.collect();
    let found = answer(sample, &json!({ "ways": asked }));
    let mut set = Vec::new();
    for ((side, justified, words, _), found) in ways.iter().zip(list(&found)) {
        let at_measure = |found: &Value| {
            let paragraphs = words.iter().zip(list(found));
            paragraphs
                .map(|(words, ends)| lines_of(words, ends))
                .collect()
        };
        set.push((
            *side,
            *justified,
            list(found).iter().map(at_measure).collect(),
        ));
    }
    set
}

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().expect("a list")
}

/// A paragraph's lines, by where they end.
fn lines_of(words: &str, ends: &Value) -> Vec<Line> {
    let units: Vec<u16> = words.encode_utf16().collect();
    let mut from = 0;
    let ends = list(ends)
        .iter()
        .map(|end| end.as_u64().expect("a place") as usize);
    let lines = ends.map(|to| {
        let text = String::from_utf16(&units[from..to]).expect("lines end between characters");
        let next = String::from_utf16_lossy(&units[to..]);
        from = to;
        let divided = text.ends_with(char::is_alphabetic) && next.starts_with(char::is_alphabetic);
        let hyphen = divided || text.ends_with(SOFT_HYPHEN);
        Line {
            text: text.replace(SOFT_HYPHEN, "").trim_matches(' ').to_string(),
            hyphen,
            width: None,
        }
    });
    lines.collect()
}

/// The same words with a soft hyphen wherever we would divide them.
fn with_soft_hyphens(words: &str, language: &str) -> String {
    let Some(hyphenator) = Hyphenator::new(language, &[]) else {
        return words.to_string();
    };
    let divided = words.split(' ').map(|word| {
        let mut divided = word.to_string();
        for at in hyphenator.points(word).into_iter().rev() {
            divided.insert(at, SOFT_HYPHEN);
        }
        divided
    });
    divided.collect::<Vec<_>>().join(" ")
}
