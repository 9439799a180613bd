//! The paragraphs that both set.

use std::fs;
use std::path::{Path, PathBuf};

use crate::support::texts::{Text, prose, texts};

/// Of a longer text, whole paragraphs of its beginning.
const MOST_WORDS: usize = 20_000;

/// Verse of the project's own texts, each stanza set as a paragraph: letters and languages for which it has no prose.
pub const AS_PROSE: [&str; 4] = [
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
            // A row of asterisks is an ornament.
            if words.iter().any(|word| word.contains(|c| c != '*')) {
                paragraphs.push(words.join(" "));
            }
        }
        Sample {
            name: text.name(),
            language: text.language.clone(),
            paragraphs,
        }
    }

    /// The family that has its letters.
    pub fn family(&self) -> &'static str {
        match self.language.as_str() {
            "ar" => "Amiri",
            _ => "Alegreya",
        }
    }

    /// Its file.
    pub fn face(&self) -> PathBuf {
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
pub fn samples() -> Vec<Sample> {
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
