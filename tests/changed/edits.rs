//! Small books, and what may be done to them.

use std::fs;
use std::path::{Path, PathBuf};

use proptest::prelude::*;

use crate::support::manuscript_of;

/// A book as its author has it.
#[derive(Clone, Debug, PartialEq)]
pub struct Book {
    pub folder: PathBuf,
    pub plan: String,
    lines: Vec<String>,
}

/// One thing done to a book. Numbers choose among the lines there are.
#[derive(Clone, Debug)]
pub enum Edit {
    ChangeWord(usize, usize),
    AddLine(usize),
    RemoveLine(usize),
    SwapLines(usize),
    MoveCallout(usize),
    Size(&'static str),
    Title,
    Ink,
    Bleed,
}

/// No edit, one, two or three.
pub fn edits() -> impl Strategy<Value = Vec<Edit>> {
    let number = || 0..1000usize;
    let edit = prop_oneof![
        6 => (number(), number()).prop_map(|(line, word)| Edit::ChangeWord(line, word)),
        3 => number().prop_map(Edit::AddLine),
        3 => number().prop_map(Edit::RemoveLine),
        2 => number().prop_map(Edit::SwapLines),
        2 => number().prop_map(Edit::MoveCallout),
        1 => prop::sample::select(vec!["9.5 pt", "10.5 pt"]).prop_map(Edit::Size),
        2 => Just(Edit::Title),
        1 => Just(Edit::Ink),
        1 => Just(Edit::Bleed),
    ];
    prop::collection::vec(edit, 0..4)
}

impl Book {
    pub fn read(folder: &Path) -> Book {
        let read = |name: &str| fs::read_to_string(folder.join(name)).expect("UTF-8");
        let manuscript = read(&manuscript_of(folder));
        Book {
            folder: folder.to_path_buf(),
            plan: read("concertina.toml"),
            lines: manuscript.split('\n').map(String::from).collect(),
        }
    }

    pub fn manuscript(&self) -> String {
        self.lines.join("\n")
    }

    /// The lines that are words alone, or the callouts.
    fn chosen(&self, callouts: bool, number: usize) -> Option<usize> {
        let wanted = |line: &&String| match callouts {
            true => line.starts_with('['),
            false => line.starts_with(char::is_alphabetic),
        };
        let lines = self.lines.iter().enumerate();
        let lines: Vec<usize> = lines
            .filter(|(_, line)| wanted(line))
            .map(|(at, _)| at)
            .collect();
        (!lines.is_empty()).then(|| lines[number % lines.len()])
    }

    /// Does it, where there is something to do it to.
    pub fn make(&mut self, edit: &Edit) {
        match edit {
            Edit::ChangeWord(line, word) => {
                let Some(at) = self.chosen(false, *line) else {
                    return;
                };
                let mut words: Vec<&str> = self.lines[at].split(' ').collect();
                let word = word % words.len();
                words[word] = "snowed";
                self.lines[at] = words.join(" ");
            }
            Edit::AddLine(line) => {
                if let Some(at) = self.chosen(false, *line) {
                    self.lines.insert(at, "It snowed again, and".to_string());
                }
            }
            Edit::RemoveLine(line) => {
                if let Some(at) = self.chosen(false, *line) {
                    self.lines.remove(at);
                }
            }
            Edit::SwapLines(line) => {
                if let (Some(one), Some(other)) =
                    (self.chosen(false, *line), self.chosen(false, line + 3))
                {
                    self.lines.swap(one, other);
                }
            }
            Edit::MoveCallout(line) => {
                if let Some(at) = self.chosen(true, *line) {
                    let callout = self.lines.remove(at);
                    let to = (at + 2).min(self.lines.len());
                    self.lines.insert(to, callout);
                }
            }
            Edit::Size(size) => self.set_text("size", &format!("\"{size}\"")),
            Edit::Ink => self.set_text("ink", "{ grey = 0.3 }"),
            Edit::Title => {
                let rest = self.plan.split_once('\n').expect("lines").1;
                self.plan = format!("title = \"The Last Run\"\n{rest}");
            }
            Edit::Bleed => {
                self.plan = self
                    .plan
                    .replacen("[paper]", "[paper]\nbleed = \"4 mm\"", 1);
            }
        }
    }

    /// Gives a key of `[text]` another value.
    fn set_text(&mut self, key: &str, value: &str) {
        let set = format!("{key} = {value}");
        if !self.plan.contains("\n[text]\n") {
            self.plan = self.plan.replacen("\n[paper]", "\n[text]\n\n[paper]", 1);
        }
        let (before, rest) = self.plan.split_once("\n[text]\n").expect("the table");
        let end = rest.find("\n[").unwrap_or(rest.len());
        let kept = rest[..end].lines().filter(|line| !line.starts_with(key));
        let kept: Vec<&str> = kept.collect();
        self.plan = format!(
            "{before}\n[text]\n{set}\n{}{}",
            kept.join("\n"),
            &rest[end..]
        );
    }
}
