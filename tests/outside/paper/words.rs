//! Words with their places, read by `pdftotext`.

use std::path::Path;

use super::super::says;
use super::said::Edges;

/// A word, and the box it stands in.
#[derive(Clone, Debug)]
pub struct Word {
    pub text: String,
    pub at: Edges,
}

impl Word {
    /// The middle of its box.
    pub fn middle(&self) -> (f64, f64) {
        let Edges { left, right, .. } = self.at;
        ((left + right) / 2.0, (self.at.head + self.at.foot) / 2.0)
    }
}

/// The words of every page.
pub fn words(file: &Path) -> Vec<Vec<Word>> {
    let said = says("pdftotext", &["-bbox"], &[file.into(), "-".into()]);
    let said = said.expect("it reads");
    let mut pages = Vec::new();
    for line in said.lines().map(str::trim) {
        if line.starts_with("<page ") {
            pages.push(Vec::new());
        }
        let Some(word) = line.strip_prefix("<word ") else {
            continue;
        };
        let (place, text) = word.split_once('>').expect("a word");
        let numbers = place.split('"').skip(1).step_by(2);
        let numbers: Vec<f64> = numbers
            .map(|number| number.parse().expect("a number"))
            .collect();
        let text = text.strip_suffix("</word>").expect("a word");
        pages.last_mut().expect("a page").push(Word {
            text: text.to_string(),
            at: Edges {
                left: numbers[0],
                head: numbers[1],
                right: numbers[2],
                foot: numbers[3],
            },
        });
    }
    pages
}
