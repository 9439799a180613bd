//! One line as harfrust shapes it.

use std::str::FromStr;

use harfrust::{Buffer, Direction, Font, Language, ShapeOptions, ShaperFont, Tag};
use versefold::typeface::Script;

use super::line::{Faced, Shaped, spaced};
use super::lines_of::reads_right_to_left;

/// The face as harfrust reads it.
pub struct Reference {
    font: Font,
    features: Vec<harfrust::Feature>,
}

impl Reference {
    pub fn new(faced: &Faced) -> Reference {
        let features = faced.features();
        Reference {
            font: Font::new(faced.face().data().to_vec(), 0).unwrap(),
            features: features
                .iter()
                .map(|f| harfrust::Feature::new(Tag::new(&f.tag), f.value, ..))
                .collect(),
        }
    }

    /// A whole line at once, or each stretch of it that is of one script at once; all of it runs one way. The spaces between two
    /// stretches are shaped with both and taken from the later one.
    pub fn line(&self, language: &str, text: &str) -> Vec<Shaped> {
        let mut glyphs = Vec::new();
        for (start, end, script) in stretches(text) {
            let from = text[..start].trim_end_matches(' ').len();
            let to = end + usize::from(end < text.len());
            let shaped = self.shaped(language, &text[from..to], script).into_iter();
            let moved = shaped.map(|glyph| Shaped {
                cluster: glyph.cluster + from,
                ..glyph
            });
            glyphs.extend(moved.filter(|glyph| glyph.cluster < end));
        }
        spaced(text, glyphs.into_iter())
    }

    fn shaped(&self, language: &str, text: &str, script: Script) -> Vec<Shaped> {
        let mut buffer = Buffer::new();
        buffer.push_str(text);
        let code = script.code();
        let code = str::from_utf8(&code).unwrap();
        buffer.set_direction(match reads_right_to_left(code) {
            true => Direction::RightToLeft,
            false => Direction::LeftToRight,
        });
        buffer.set_script(harfrust::Script::from_str(code).ok());
        buffer.set_language(Language::new(language));
        let options = ShapeOptions::new().features(&self.features);
        harfrust::shape(&ShaperFont::new(&self.font), &mut buffer, options).unwrap();
        let glyphs = buffer.glyph_infos().iter().zip(buffer.glyph_positions());
        let glyphs = glyphs.map(|(info, position)| Shaped {
            id: info.glyph_id,
            cluster: info.cluster as usize,
            advance: position.x_advance,
            dx: position.x_offset,
            dy: position.y_offset,
            space: false,
        });
        glyphs.collect()
    }
}

/// The stretches of words that are of one script, without the spaces around them: (from, to, script).
/// A word without letters is of the script that the line begins in.
fn stretches(text: &str) -> Vec<(usize, usize, Script)> {
    let first = text.chars().find_map(Script::of).unwrap_or(Script::LATIN);
    let mut found: Vec<(usize, usize, Script)> = Vec::new();
    let mut at = 0;
    for word in text.split(' ') {
        let (from, to) = (at, at + word.len());
        at = to + 1;
        if word.is_empty() {
            continue;
        }
        let script = word.chars().find_map(Script::of).unwrap_or(first);
        match found.last_mut() {
            Some(last) if last.2 == script => last.1 = to,
            _ => found.push((from, to, script)),
        }
    }
    found
}
