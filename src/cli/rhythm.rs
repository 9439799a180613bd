//! The rhythm row: a side of the strip in one line of characters.
//!
//! A bar by fullness for a panel with words, the picture's initial in a frame for a picture, which is as long as
//! the picture (`[T───]`) and numbered where several have it (`[t2]`), `?` in one that has no name, `·` for a blank, `T` for a title, `×` for a face that is pasted down; thin gaps at the folds, wider ones between
//! spreads. A strip that reads from right to left has its first panel at the right.

use unicode_width::UnicodeWidthStr;

use crate::layout::{LaidPanel, Layout};
use crate::names::{Role, Side};

const BARS: [char; 8] = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];

/// The signs that pictures have in a layout's rows.
pub(super) struct PictureSigns {
    /// Each picture once, in the order of its panels, with its sign.
    signs: Vec<(String, String)>,
}

impl PictureSigns {
    /// The initials of a layout's pictures; those that several have are numbered.
    pub(super) fn of(layout: &Layout) -> PictureSigns {
        let mut names: Vec<&str> = Vec::new();
        for name in layout
            .panels
            .iter()
            .filter_map(|panel| panel.picture.as_deref())
        {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        let alike = |name: &str, names: &[&str]| {
            let own = initial(name);
            names.iter().filter(|other| initial(other) == own).count()
        };
        let sign = |(at, name): (usize, &&str)| {
            let number = match alike(name, &names) {
                0 | 1 => String::new(),
                _ => (alike(name, &names[..at]) + 1).to_string(),
            };
            (name.to_string(), format!("{}{number}", initial(name)))
        };
        PictureSigns {
            signs: names.iter().enumerate().map(sign).collect(),
        }
    }

    fn sign(&self, name: &str) -> &str {
        let own = self.signs.iter().find(|(known, _)| known == name);
        own.map_or("?", |(_, sign)| sign)
    }

    /// What the signs of a layout's rows mean, those alone that are there; in lines of at most so many characters.
    pub(super) fn explained(&self, layout: &Layout, width: usize) -> String {
        let has = |roles: &[Role]| {
            layout
                .panels
                .iter()
                .any(|panel| roles.contains(&panel.role))
        };
        let mut told: Vec<String> = Vec::new();
        let plain = [
            (has(&[Role::Title]), "T title"),
            (has(&[Role::Text, Role::Shared]), "▁…█ words, by how full"),
            (
                layout.panels.iter().any(LaidPanel::has_unnamed_picture),
                "[?] a picture without a name",
            ),
            (has(&[Role::Blank]), "· blank"),
            (has(&[Role::PasteDown]), "× pasted down"),
        ];
        told.extend(
            plain
                .iter()
                .filter(|(there, _)| *there)
                .map(|(_, what)| what.to_string()),
        );
        let framed = layout.panels.iter().filter(|panel| is_framed(panel));
        let framed: Vec<&str> = framed
            .filter_map(|panel| panel.picture.as_deref())
            .collect();
        let named = self
            .signs
            .iter()
            .filter(|(name, _)| framed.contains(&name.as_str()));
        told.extend(named.map(|(name, sign)| format!("[{sign}] {name}")));
        let mut text = String::new();
        let mut wide = 0;
        for what in told {
            let own = what.width();
            let gap = if wide == 0 { 7 } else { 3 };
            if wide > 0 && wide + gap + own > width {
                text.push('\n');
                wide = 0;
            }
            let gap = if wide == 0 { 7 } else { 3 };
            text.push_str(&" ".repeat(gap));
            text.push_str(&what);
            wide += gap + own;
        }
        text.push('\n');
        text
    }

    /// The row of a side, as the side lies before its reader.
    pub(super) fn row(&self, layout: &Layout, side: Side) -> String {
        let spreads = layout.strip.spreads(side);
        let panels = layout.panels.iter();
        let rtl = layout.strip.paper().reads.is_right_to_left();
        let mut parts: Vec<String> = Vec::new();
        for panel in panels.filter(|panel| panel.panel.side == side) {
            if !parts.is_empty() {
                let second = spreads.iter().any(|(_, second)| *second == panel.panel);
                let gap = if panel.goes_on() { "─" } else { " " };
                parts.push(gap.repeat(if second { 1 } else { 3 }));
            }
            parts.push(self.panel(panel, rtl));
        }
        if rtl {
            parts.reverse();
        }
        parts.concat()
    }

    fn panel(&self, panel: &LaidPanel, rtl: bool) -> String {
        let inside = match panel.role {
            Role::Title => "T".to_string(),
            Role::Text | Role::Shared => bar(panel).to_string(),
            Role::Picture if panel.goes_on() => "─".to_string(),
            Role::Picture => panel
                .picture
                .as_deref()
                .map_or("?", |name| self.sign(name))
                .to_string(),
            Role::Blank => "·".to_string(),
            Role::PasteDown => "×".to_string(),
        };
        // The frame opens on a picture's first panel and closes on its last.
        let framed = is_framed(panel);
        let opens = framed && !panel.goes_on();
        let closes = framed
            && panel
                .picture_panels
                .last()
                .is_none_or(|last| *last == panel.panel);
        let (left, right) = if rtl {
            (closes, opens)
        } else {
            (opens, closes)
        };
        let bracket = |shown: bool, sign| if shown { sign } else { "" };
        format!("{}{inside}{}", bracket(left, "["), bracket(right, "]"))
    }
}

/// Whether a panel stands in a frame, or in a part of one: pictures alone, and those over several panels.
fn is_framed(panel: &LaidPanel) -> bool {
    panel.role == Role::Picture || panel.picture_panels.len() > 1
}

/// The bar of a panel's fullness; an eighth of the text area a step.
pub(super) fn bar(panel: &LaidPanel) -> char {
    let eighths = (panel.share().unwrap_or(0.0) * 8.0).ceil() as usize;
    BARS[eighths.clamp(1, 8) - 1]
}

/// The first letter of a picture's name, an article left aside.
fn initial(name: &str) -> char {
    const ARTICLES: [&str; 16] = [
        "the", "a", "an", "der", "die", "das", "le", "la", "les", "el", "il", "lo", "los", "las",
        "den", "det",
    ];
    let mut words = name.split_whitespace();
    let first = words.next().unwrap_or_default();
    let article = ARTICLES.contains(&first.to_lowercase().as_str());
    let word = words.next().filter(|_| article).unwrap_or(first);
    word.chars().next().unwrap_or('?')
}
