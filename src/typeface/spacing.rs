//! Space between letters.

use std::ops::Range;

use icu_properties::CodePointMapData;
use icu_properties::props::{GeneralCategory, GeneralCategoryGroup};

use super::Glyph;
use super::faces::FaceSpan;
use super::shaped::FontStyle;
use crate::names::{Direction, Length};

/// The stretches of a text that are letters, none of them a small one, with their marks: capitals, and letters of scripts
/// that have no capitals. None has a small letter beside it.
pub fn tall_runs(text: &str) -> Vec<Range<usize>> {
    let mut runs = Vec::new();
    let mut run: Option<(usize, bool)> = None;
    for (at, c) in text.char_indices() {
        let (letter, small) = (is_letter(c), c.is_lowercase());
        run = match run {
            Some((from, tall)) if letter => Some((from, tall && !small)),
            None if letter && !is_mark(c) => Some((at, !small)),
            Some((from, tall)) => {
                runs.extend(tall.then_some(from..at));
                None
            }
            None => None,
        };
    }
    if let Some((from, true)) = run {
        runs.push(from..text.len());
    }
    runs
}

fn is_letter(c: char) -> bool {
    c.is_alphabetic() || is_mark(c)
}

fn is_mark(c: char) -> bool {
    let category = CodePointMapData::<GeneralCategory>::new().get(c);
    GeneralCategoryGroup::Mark.contains(category)
}

/// Adds what a voice asks for to the glyphs of an item of a word: its tracking behind each cluster, and what stands
/// between two letters of [`tall_runs`]; on the side where the text goes on.
pub(super) fn space(glyphs: &mut [Glyph], word: &str, item: &FaceSpan<'_>, voice: FontStyle) {
    let none = Length::ZERO;
    if (voice.tracking, voice.between) == (none, none) || voice.size == none {
        return;
    }
    let upem = i64::from(item.face.metrics().units_per_em);
    let units = |length: Length| length.scaled(upem, voice.size.units()).units() as i32;
    let (behind, between) = (units(voice.tracking), units(voice.between));
    let runs = match between {
        0 => Vec::new(),
        _ => tall_runs(word),
    };
    let starts: Vec<usize> = glyphs.iter().map(|glyph| glyph.cluster as usize).collect();
    for cluster in glyphs.chunk_by_mut(|a, b| a.cluster == b.cluster) {
        let glyph = match item.reads {
            Direction::LeftToRight => cluster.last_mut(),
            Direction::RightToLeft => cluster.first_mut(),
        };
        let Some(glyph) = glyph else { continue };
        let from = glyph.cluster as usize;
        let next = starts.iter().filter(|start| **start > from).min();
        let to = next.map_or(item.to, |next| *next);
        let inside = runs.iter().any(|run| run.start <= from && to < run.end);
        let units = behind + if inside { between } else { 0 };
        glyph.advance += units;
        if item.reads == Direction::RightToLeft {
            glyph.dx += units;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tall_runs_have_no_small_letter() {
        let runs = |text: &'static str| -> Vec<&str> {
            tall_runs(text).into_iter().map(|run| &text[run]).collect()
        };
        assert_eq!(runs("(POST’s)"), ["POST"]);
        assert_eq!(runs("McDONALD iX Ä\u{300}B"), ["Ä\u{300}B"]);
        assert_eq!(runs("ΝΑΣΑ-КПСС 12"), ["ΝΑΣΑ", "КПСС"]);
        assert_eq!(runs("שָׁלוֹם"), ["שָׁלוֹם"]);
        assert_eq!(runs("POSTs"), [""; 0]);
    }
}
