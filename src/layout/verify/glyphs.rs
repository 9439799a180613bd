//! F3: every character is shown once, in the order of its words, by a glyph that its face has for it.

use std::collections::HashSet;
use std::ops::Range;

use super::{BrokenPromise, Promise};
use crate::layout::{GlyphRun, LaidGlyph, LaidLine};
use crate::names::Direction;
use crate::typeface::{Capitals, is_ignorable};

/// Glyphs that were found to be right for a character: face, glyph, character.
#[derive(Default)]
pub(super) struct RightGlyphs(HashSet<(usize, u16, char)>);

pub(super) fn check(line: &LaidLine, right_glyphs: &mut RightGlyphs) -> Result<(), BrokenPromise> {
    let broken = |what: &str| {
        let what = format!("{what} in “{}”", line.text);
        Err(BrokenPromise::new(Promise::F3, what))
    };
    let capitals = line.runs.iter().any(|run| run.capitals);
    let capitals = capitals.then(|| Capitals::of(&line.text, &line.language));
    let mut shown = vec![false; line.text.len()];
    let mut behind = 0;
    for run in &line.runs {
        for glyph in &run.glyphs {
            if glyph.id == 0 {
                return broken("a character has no glyph");
            }
            let Some(bytes) = shown.get_mut(glyph.text.clone()) else {
                return broken("a glyph stands for words that are not there");
            };
            if line.text.get(glyph.text.clone()).is_none() {
                return broken("a glyph stands for a part of a character");
            }
            if bytes.contains(&true) {
                return broken("a character is shown twice");
            }
            bytes.fill(true);
        }
        if !in_order(run, &mut behind) {
            return broken("words are shown out of their order");
        }
        let drawn = capitals.as_ref().filter(|_| run.capitals);
        if !run_is_its_own(line, (run, drawn), right_glyphs) {
            return broken("a character is shown by the glyph of another");
        }
    }
    let missing = line
        .text
        .char_indices()
        .find(|&(at, c)| !shown[at] && !is_ignorable(c));
    match missing {
        None => Ok(()),
        Some((_, c)) => broken(&format!("`{c}` is not shown")),
    }
}

/// Whether the glyphs of a run that move the pen stand in the order of their words, and behind those of the runs
/// before; `behind` is the byte that those begin at.
fn in_order(run: &GlyphRun, behind: &mut usize) -> bool {
    let moving = |glyph: &&LaidGlyph| glyph.advance != 0 && !glyph.text.is_empty();
    let mut read = |glyph: &LaidGlyph| {
        let right = glyph.text.start >= *behind;
        *behind = glyph.text.start;
        right
    };
    let mut glyphs = run.glyphs.iter().filter(moving);
    match run.reads {
        Direction::LeftToRight => glyphs.all(&mut read),
        Direction::RightToLeft => glyphs.rev().all(&mut read),
    }
}

/// Whether every glyph that stands by itself for one character is one that its face has for that character, by itself
/// or by its substitutions. Of several glyphs that stand for several characters together it cannot be told which is
/// which. Where letters are drawn as capitals, a glyph must be one that the face has for the capital.
fn run_is_its_own(
    line: &LaidLine,
    (run, capitals): (&GlyphRun, Option<&Capitals>),
    right_glyphs: &mut RightGlyphs,
) -> bool {
    (0..run.glyphs.len()).all(|at| {
        let glyph = &run.glyphs[at];
        let shared = |other: Option<&LaidGlyph>| other.is_some_and(|other| other.is_mute());
        if shared(at.checked_sub(1).map(|at| &run.glyphs[at])) || shared(run.glyphs.get(at + 1)) {
            return true;
        }
        let written = stands_for(&line.text, glyph.text.clone());
        let drawn = match capitals {
            Some(capitals) => written.and_then(|_| only(capitals.of_written(glyph.text.clone()))),
            None => written,
        };
        let Some(c) = drawn.or(glyph.added) else {
            return true;
        };
        // Brackets and other signs are turned about where words run to the left.
        if run.reads.is_right_to_left() && !c.is_alphanumeric() {
            return true;
        }
        let key = (run.face.id(), glyph.id, c);
        if right_glyphs.0.contains(&key) {
            return true;
        }
        let right = run.face.may_show(c, glyph.id);
        if right {
            right_glyphs.0.insert(key);
        }
        right
    })
}

impl LaidGlyph {
    /// Whether it stands for no character of its own.
    fn is_mute(&self) -> bool {
        self.text.is_empty() && self.added.is_none()
    }
}

/// The one character of a stretch; nothing where it has none or several.
fn stands_for(text: &str, stretch: Range<usize>) -> Option<char> {
    only(&text[stretch])
}

/// The one character of a text; nothing where it has none or several.
fn only(text: &str) -> Option<char> {
    let mut all = text.chars();
    let first = all.next()?;
    all.next().is_none().then_some(first)
}
