//! F4: what the program adds is marked as added, and nothing else is.
//!
//! It adds the plan's title on a title panel that has no title of its own, and its author below a title; a hyphen behind a line of prose within
//! whose last word the next begins; and a space behind one that the next follows with a space, never seen, for whoever
//! reads the file.

use super::{BrokenPromise, PartLaid, PlacedLine, Promise};
use crate::layout::{LaidLine, LaidPanel, Layout};
use crate::names::Role;
use crate::text::LineKind;

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

/// The lines of a panel that are wholly added: they are the plan's title, and its author, each once.
fn added_title(layout: &Layout, panel: &LaidPanel) -> Result<(), BrokenPromise> {
    let added = || panel.lines.iter().filter(|line| line.part.is_none());
    for line in added() {
        let right = line.sources.is_empty()
            && line.added.as_deref() == Some(&line.text)
            && signs(line, |_| true) == 0
            && panel.role == Role::Title
            && matches!(line.kind, LineKind::Title | LineKind::Author);
        if !right {
            return Err(not_marked(line));
        }
    }
    let author = layout.author.as_deref().unwrap_or_default();
    for (kind, whole) in [
        (LineKind::Title, layout.title.as_str()),
        (LineKind::Author, author),
    ] {
        let of_kind = added().filter(|line| line.kind == kind);
        let words: Vec<&str> = of_kind
            .flat_map(|line| line.text.split_whitespace())
            .collect();
        if !words.is_empty() && !whole.split_whitespace().eq(words.iter().copied()) {
            let what = format!("“{whole}” became “{}”", words.join(" "));
            return Err(BrokenPromise::new(Promise::F4, what));
        }
    }
    Ok(())
}
