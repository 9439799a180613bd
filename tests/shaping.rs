//! Shaping word by word gives what shaping whole lines gives: the glyphs, clusters, advances and offsets of
//! C HarfBuzz (the files in `tests/shaping`, written by its `hb-shape`) and of its Rust port harfrust.

#[path = "shaping/line.rs"]
mod line;

use std::collections::HashMap;
use std::fs;
use std::path::{Path, PathBuf};

use line::{Faced, Reference, Shaped, expected};
use versefold::typeface::{Script, Stress};

/// The name of a fixture, the family and the stress that set it.
const FACES: [(&str, &str, Stress); 7] = [
    ("alegreya-regular", "Alegreya", Stress::Plain),
    ("alegreya-italic", "Alegreya", Stress::Italic),
    ("alegreya-bold", "Alegreya", Stress::Bold),
    ("alegreya-sans-regular", "Alegreya Sans", Stress::Plain),
    ("alegreya-sans-italic", "Alegreya Sans", Stress::Italic),
    ("alegreya-sans-bold", "Alegreya Sans", Stress::Bold),
    ("playpen-sans", "Playpen Sans", Stress::Plain),
];

fn tests() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests")
}

/// Asserts that nothing differs, and shows the first few that do.
fn nothing(different: &[String], compared: usize) {
    assert!(
        different.is_empty(),
        "{} of {compared} lines differ:\n{}",
        different.len(),
        different[..different.len().min(12)].join("\n")
    );
}

fn difference(name: &str, text: &str, ours: &[Shaped], theirs: &[Shaped]) -> Option<String> {
    let at = (0..ours.len().max(theirs.len())).find(|&at| ours.get(at) != theirs.get(at))?;
    let (mine, other) = (ours.get(at), theirs.get(at));
    Some(format!(
        "{name}: {text}\n    glyph {at}: {mine:?} is not {other:?}"
    ))
}

/// Source: hb-shape of HarfBuzz 6.0.0, whole lines (tests/shaping/renew.sh).
#[test]
fn lines_are_those_of_harfbuzz() {
    let mut different = Vec::new();
    let mut compared = 0;
    let mut known = HashMap::new();
    for (name, family, stress) in FACES {
        let path = tests().join("shaping").join(format!("{name}.txt"));
        let fixture = fs::read_to_string(path).unwrap();
        let mut here = 0;
        for row in fixture.lines().filter(|row| !row.starts_with('#')) {
            let (asked, glyphs) = row.split_once(" => ").unwrap();
            let [language, script, features, text] =
                asked.splitn(4, '|').collect::<Vec<_>>().try_into().unwrap();
            let faced = known
                .entry((name, features.to_string()))
                .or_insert_with(|| Faced::new(family, stress, features));
            let ours = faced.line(language, text);
            let label = format!("{name} {language} {script} {features}");
            different.extend(difference(&label, text, &ours, &expected(text, glyphs)));
            here += 1;
        }
        let floor = if family == "Playpen Sans" { 36 } else { 150 };
        assert!(here >= floor, "{name} has only {here} lines");
        compared += here;
    }
    println!("{compared} lines are those of HarfBuzz 6.0.0");
    nothing(&different, compared);
}

/// Every line of the verse in a folder whose files are named `en_…`, `pl_…` and so on.
fn verse(folder: &Path) -> Vec<(String, String)> {
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "txt"))
        .collect();
    files.sort();
    let mut lines = Vec::new();
    for path in files {
        let name = path.file_name().unwrap().to_str().unwrap().to_string();
        let language = name.split('_').next().unwrap().to_string();
        if !["en", "pl", "ru", "el", "fi", "da", "de", "es", "fr", "hu"].contains(&&*language) {
            continue;
        }
        let text = fs::read_to_string(path).unwrap();
        for line in text.lines().map(str::trim).filter(|line| !line.is_empty()) {
            // A paragraph of prose is a line too; a few hundred bytes of it are enough.
            let end = line
                .char_indices()
                .nth(400)
                .map_or(line.len(), |(at, _)| at);
            lines.push((language.clone(), line[..end].trim_end().to_string()));
        }
    }
    lines.dedup();
    lines
}

/// Whether some word of a line has letters of two scripts: `dandy` and a Russian word with a no-break space
/// between them are one, and so is `Ιbid` with a Greek capital.
fn two_scripts(text: &str) -> bool {
    text.split(' ').any(|word| {
        let mut scripts = word.chars().filter_map(Script::of);
        let first = scripts.next();
        scripts.any(|script| Some(script) != first)
    })
}

/// Compares every line in each face; returns how many comparisons were made.
fn compare(lines: &[(String, String)], features: &[&str]) -> usize {
    let mut different = Vec::new();
    let mut compared = 0;
    for (name, family, stress) in FACES {
        for &features in features {
            let faced = Faced::new(family, stress, features);
            let reference = Reference::new(&faced);
            let mut languages = faced.languages();
            for (language, text) in lines {
                // A word of two scripts is cut within, and so not shaped as a line of one script is.
                if !faced.has_all(text) || two_scripts(text) {
                    continue;
                }
                let ours = languages.line(language, text);
                let theirs = reference.line(language, text);
                let label = format!("{name} {language} {features}");
                different.extend(difference(&label, text, &ours, &theirs));
                compared += 1;
            }
        }
    }
    nothing(&different, compared);
    compared
}

/// Source: harfrust 0.15, which follows HarfBuzz 15.0.
#[test]
fn lines_of_the_texts_are_those_of_harfrust() {
    let lines = verse(&tests().join("texts"));
    let compared = compare(&lines, &["", "onum", "smcp"]);
    println!(
        "{} lines, {compared} comparisons with harfrust",
        lines.len()
    );
    assert!(lines.len() >= 230, "only {} lines", lines.len());
    assert!(
        compared >= 230 * FACES.len() * 3,
        "only {compared} comparisons"
    );
}

/// The same for a folder of whole books, where `VERSEFOLD_TEXTS` names one.
#[test]
fn lines_of_whole_books_are_those_of_harfrust() {
    let Some(folder) = std::env::var_os("VERSEFOLD_TEXTS") else {
        println!("VERSEFOLD_TEXTS names no folder: nothing compared");
        return;
    };
    let lines = verse(Path::new(&folder));
    let compared = compare(&lines, &[""]);
    println!(
        "{} lines, {compared} comparisons with harfrust",
        lines.len()
    );
    assert!(lines.len() >= 1000, "only {} lines", lines.len());
    assert!(compared >= lines.len() * 6, "only {compared} comparisons");
}

/// The comparison sees what cutting at spaces without looking past them would lose.
#[test]
fn the_comparison_tells_words_by_themselves_from_lines() {
    for (family, text) in [
        ("Alegreya", "en el siglo XVI. vio"),
        ("Playpen Sans", "To tell all tales"),
    ] {
        let faced = Faced::new(family, Stress::Plain, "");
        let reference = Reference::new(&faced);
        let whole = reference.line("es", text);
        assert_eq!(faced.line("es", text), whole, "{text}");
        let words = text.split(' ').flat_map(|word| reference.line("es", word));
        let ids = |glyphs: Vec<Shaped>| -> Vec<u32> {
            let inked = glyphs.into_iter().filter(|glyph| !glyph.space);
            inked.map(|glyph| glyph.id).collect()
        };
        assert_ne!(ids(words.collect()), ids(whole), "{text}");
    }
}
