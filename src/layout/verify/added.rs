//! F4: what the program adds is marked as added, and nothing else is.
//!
//! It adds the plan's title on a title panel that has no heading of its own; a hyphen behind a line of prose within
//! whose last word the next begins; and a space behind one that the next follows with a space, never seen, for whoever
//! reads the file.

use super::{BrokenPromise, PartLaid, PlacedLine, Promise};
use crate::layout::{LaidLine, LaidPanel, Layout};
use crate::names::Role;

pub(super) fn check(layout: &Layout, parts: &[PartLaid<'_>]) -> Result<(), BrokenPromise> {
    for part in parts {
        let mut next = part.lines.iter().skip(1);
        for on in &part.lines {
            of_part(on, next.next())?;
        }
    }
    for panel in &layout.panels {
        added_title(layout, panel).map_err(|broken| broken.on(panel.panel))?;
    }
    Ok(())
}

fn not_marked(line: &LaidLine) -> BrokenPromise {
    let what = format!("“{}” is not marked as added, or wrongly", line.text);
    BrokenPromise::new(Promise::F4, what)
}

/// How many signs of a kind a line's glyphs say are added.
fn signs(line: &LaidLine, is: impl Fn(char) -> bool) -> usize {
    let glyphs = line.runs.iter().flat_map(|run| &run.glyphs);
    glyphs
        .filter_map(|glyph| glyph.added)
        .filter(|c| is(*c))
        .count()
}

/// A line of the manuscript's words.
fn of_part(on: &PlacedLine<'_>, next: Option<&PlacedLine<'_>>) -> Result<(), BrokenPromise> {
    let line = on.line;
    let hyphen = match line.added.as_deref() {
        None => false,
        Some("-") if line.kind.is_prose() && line.glued => true,
        Some(_) => return Err(not_marked(line).on(on.panel.panel)),
    };
    let goes_on = next.is_some_and(|next| next.line.row == line.row);
    let parted = line.kind.is_prose() && goes_on && !line.glued;
    let spaces = signs(line, |c| c == ' ');
    // A passed panel may hold a space that parted its last word from one that is gone, or none before one that is new.
    let spaces_right = spaces == usize::from(parted)
        || (on.panel.passed && spaces <= usize::from(line.kind.is_prose()));
    let hyphens_right = signs(line, |c| c == '-') == usize::from(hyphen);
    let none_else = signs(line, |c| !matches!(c, ' ' | '-')) == 0;
    match spaces_right && hyphens_right && none_else {
        true => Ok(()),
        false => Err(not_marked(line).on(on.panel.panel)),
    }
}

/// The lines of a panel that are wholly added: they are the plan's title, once.
fn added_title(layout: &Layout, panel: &LaidPanel) -> Result<(), BrokenPromise> {
    let mut words = Vec::new();
    for line in panel.lines.iter().filter(|line| line.part.is_none()) {
        let right = line.sources.is_empty()
            && line.added.as_deref() == Some(&line.text)
            && signs(line, |_| true) == 0
            && panel.role == Role::Title;
        if !right {
            return Err(not_marked(line));
        }
        words.extend(line.text.split_whitespace());
    }
    if words.is_empty() || layout.title.split_whitespace().eq(words.iter().copied()) {
        return Ok(());
    }
    let what = format!("“{}” became “{}”", layout.title, words.join(" "));
    Err(BrokenPromise::new(Promise::F4, what))
}
