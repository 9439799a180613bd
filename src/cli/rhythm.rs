//! The rhythm row: a side of the strip in one line of characters.
//!
//! A bar by fullness for a panel with words, the picture's initial in a frame for a picture, which is as long as
//! the picture (`[T───]`), `·` for a blank, `T` for a title, `×` for a face that is pasted down; thin gaps at the folds, wider ones between
//! spreads. A strip that reads from right to left has its first panel at the right.

use crate::layout::{LaidPanel, Layout};
use crate::names::{Role, Side};

const BARS: [char; 8] = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];

/// The row of a side, as the side lies before its reader.
pub(super) fn row(layout: &Layout, side: Side) -> String {
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
        parts.push(sign(panel, rtl));
    }
    if rtl {
        parts.reverse();
    }
    parts.concat()
}

fn sign(panel: &LaidPanel, rtl: bool) -> String {
    let inside = match panel.role {
        Role::Title => 'T',
        Role::Text | Role::Shared => bar(panel),
        Role::Picture if panel.goes_on() => '─',
        Role::Picture => panel.picture.as_deref().map_or('?', initial),
        Role::Blank => '·',
        Role::PasteDown => '×',
    };
    // The frame opens on a picture's first panel and closes on its last.
    let long = panel.picture_panels.len() > 1;
    let framed = panel.role == Role::Picture || long;
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
    let bracket = |shown: bool, sign: &str| {
        if shown {
            sign.to_string()
        } else {
            String::new()
        }
    };
    format!("{}{inside}{}", bracket(left, "["), bracket(right, "]"))
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
