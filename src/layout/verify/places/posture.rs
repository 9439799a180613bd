//! Lines run as those of their part do; where they run down, signs are upright or turned.

use unicode_normalization::char::is_combining_mark;

use super::{BrokenPromise, On, broken};
use crate::layout::{LaidGlyph, LaidLine};
use crate::typeface::Posture;

impl On<'_> {
    /// A line runs as its part does. In one that runs across no glyph is upright by itself; in one that runs down each is
    /// upright or turned by its Vertical_Orientation (UAX #50), and so are letters, digits, `!` and `?`, of which one or
    /// two may stand side by side.
    pub(super) fn runs_as_its_part(&self, line: &LaidLine) -> Result<(), BrokenPromise> {
        let amiss = |what: &str| Err(broken(format!("“{}” {what}", line.text)));
        if line.lines_run != self.lines_run {
            return amiss("does not run as the lines of its part");
        }
        let wrong = line.runs.iter().any(|run| {
            let mut glyphs = run.glyphs.iter().filter(|glyph| glyph.added.is_none());
            match self.lines_run.is_down() {
                true => glyphs.any(|glyph| !may_stand(line, glyph, run.upright)),
                false => run.upright,
            }
        });
        match wrong {
            true => {
                amiss("has a sign that should be upright and is turned, or the other way about")
            }
            false => Ok(()),
        }
    }
}

/// Whether a glyph may be upright, or turned, in a line that runs down.
fn may_stand(line: &LaidLine, glyph: &LaidGlyph, upright: bool) -> bool {
    let mut signs = line.text[glyph.text.clone()].chars();
    let Some(own) = signs.next() else { return true };
    // A mark stands as its letter does.
    let before = line.text[..glyph.text.start].chars();
    let letter = before.rev().find(|c| !is_combining_mark(*c));
    let c = match is_combining_mark(own) {
        true => letter.unwrap_or(own),
        false => own,
    };
    match Posture::of(c) {
        Posture::Upright => upright,
        Posture::AlongLine if c.is_ascii_alphanumeric() || is_mark(c) => {
            !upright || alike_around(line, glyph.text.start, is_mark(c)) <= 2
        }
        Posture::AlongLine => !upright,
        Posture::UprightIfFormed | Posture::Together => true,
    }
}

fn is_mark(c: char) -> bool {
    matches!(c, '!' | '?')
}

/// How many letters and digits of ASCII, or marks, stand together around a byte.
fn alike_around(line: &LaidLine, at: usize, marks: bool) -> usize {
    let alike = |byte: &&u8| match marks {
        true => is_mark(char::from(**byte)),
        false => byte.is_ascii_alphanumeric(),
    };
    let (before, behind) = line.text.as_bytes().split_at(at);
    let before = before.iter().rev().take_while(alike).count();
    before + behind.iter().take_while(alike).count()
}
