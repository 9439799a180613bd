//! The faces that lines are compared in, and lines of real texts to compare.

use std::fs;
use std::path::{Path, PathBuf};

use versefold::typeface::{Base, Emphasis, Levels, Script};

/// The name of a fixture, the family and the stress that set it, and the fewest lines it must have.
pub const FACES: [(&str, &str, Emphasis, usize); 11] = [
    ("alegreya-regular", "Alegreya", Emphasis::Plain, 200),
    ("alegreya-italic", "Alegreya", Emphasis::Italic, 200),
    ("alegreya-bold", "Alegreya", Emphasis::Bold, 200),
    (
        "alegreya-sans-regular",
        "Alegreya Sans",
        Emphasis::Plain,
        200,
    ),
    (
        "alegreya-sans-italic",
        "Alegreya Sans",
        Emphasis::Italic,
        200,
    ),
    ("alegreya-sans-bold", "Alegreya Sans", Emphasis::Bold, 200),
    ("playpen-sans", "Playpen Sans", Emphasis::Plain, 36),
    ("amiri", "Amiri", Emphasis::Plain, 20),
    (
        "noto-serif-hebrew",
        "Noto Serif Hebrew",
        Emphasis::Plain,
        10,
    ),
    (
        "noto-serif-devanagari",
        "Noto Serif Devanagari",
        Emphasis::Plain,
        18,
    ),
    ("noto-serif-thai", "Noto Serif Thai", Emphasis::Plain, 16),
];

/// Languages whose lines run one way in one script, as far as the open fonts have them.
const LANGUAGES: [&str; 14] = [
    "en", "pl", "ru", "el", "fi", "da", "de", "es", "fr", "hu", "ar", "he", "hi", "th",
];

/// Every line of the verse in a folder whose files are named `en_…`, `pl_…` and so on.
pub fn lines_of(folder: &Path) -> Vec<(String, String)> {
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
        if !LANGUAGES.contains(&&*language) {
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
pub fn two_scripts(text: &str) -> bool {
    text.split(' ').any(|word| {
        let mut scripts = word.chars().filter_map(Script::of);
        let first = scripts.next();
        scripts.any(|script| Some(script) != first)
    })
}

/// Whether a line runs one way. Figures within Hebrew and Arabic run the other.
pub fn one_way(text: &str) -> bool {
    let levels = Levels::of(text, Base::default());
    text.char_indices()
        .all(|(at, _)| levels.at(at) == levels.at(0))
}

/// Whether a script, by its ISO 15924 code, reads from right to left.
pub fn reads_right_to_left(code: &str) -> bool {
    matches!(code, "Arab" | "Hebr")
}
