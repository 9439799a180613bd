//! Pictures without a name: after which words each stands.

use super::{LaidLine, LaidPanel, Layout};
use crate::names::{PanelName, Role};
use crate::text::LineKind;

/// What is written where a picture will stand that has no name.
const TO_COME: &str = "picture to come";
/// How many words are told of those before a picture.
const WORDS: usize = 3;

/// A picture without a name, seen from the words around it.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct UnnamedPicture<'a> {
    /// The panel that is kept for it.
    pub panel: PanelName,
    /// The last line before it along its part's panels, captions aside; nothing where none stands there.
    pub above: Option<&'a LaidLine>,
    /// The first line behind it.
    pub below: Option<&'a LaidLine>,
    /// The last words before it, such as `… must have tea.`; nothing where none stand there.
    pub after: Option<String>,
}

impl LaidPanel {
    /// Whether a picture without a name will stand here.
    pub fn has_unnamed_picture(&self) -> bool {
        self.role == Role::Picture && self.picture.is_none()
    }

    /// What is written where its picture will stand: its name, if it has one.
    pub fn picture_label(&self) -> Option<&str> {
        let to_come = self.has_unnamed_picture().then_some(TO_COME);
        self.picture.as_deref().or(to_come)
    }
}

impl Layout {
    /// The pictures without a name, part by part, along the part's panels.
    pub fn unnamed_pictures(&self) -> Vec<UnnamedPicture<'_>> {
        let mut found = Vec::new();
        for part in &self.parts {
            let panels: Vec<&LaidPanel> = (part.on.iter())
                .filter_map(|on| self.panels.iter().find(|panel| panel.panel == *on))
                .collect();
            let words = |panel: &&'_ LaidPanel| panel.lines.iter().any(is_words);
            for (at, panel) in panels.iter().enumerate() {
                if !panel.has_unnamed_picture() {
                    continue;
                }
                let before = panels[..at].iter().rev().copied().find(words);
                let behind = panels[at..].iter().copied().find(words);
                found.push(UnnamedPicture {
                    panel: panel.panel,
                    above: before.and_then(|panel| panel.lines.iter().rfind(|line| is_words(line))),
                    below: behind.and_then(|panel| panel.lines.iter().find(|line| is_words(line))),
                    after: before.map(last_words),
                });
            }
        }
        found
    }
}

/// Whether a line is of the manuscript's words and no caption.
fn is_words(line: &LaidLine) -> bool {
    line.kind != LineKind::Caption && !line.sources.is_empty()
}

/// The last words of a panel; `…` before them where more stand there.
fn last_words(panel: &LaidPanel) -> String {
    let lines = panel.lines.iter().filter(|line| is_words(line));
    let words: Vec<&str> = lines
        .flat_map(|line| line.text.split_whitespace())
        .collect();
    let from = words.len().saturating_sub(WORDS);
    let dots = if from > 0 { "… " } else { "" };
    format!("{dots}{}", words[from..].join(" "))
}
