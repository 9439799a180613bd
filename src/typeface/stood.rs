//! Shaping what stands upright in lines that run down: signs one below the other, and short numbers and words side by
//! side in one square.

use super::Glyph;
use super::faces::FaceSpan;
use super::posture::{Posture, middle};
use super::shape::ShapeRequest;
use super::shaped::{FontStyle, ShapedWord};
use super::shaper::{Shaper, WordKey};
use crate::names::Feature;

/// Signs that stand side by side in one square may be wider than it by this part: a tenth shows in no line (common
/// practice).
const WIDER: i32 = 10;

impl Shaper<'_> {
    /// A word that stands upright; nothing for one that is turned with its line.
    pub(super) fn stood_word(&self, key: &WordKey) -> Option<ShapedWord> {
        if key.posture == Posture::AlongLine {
            return None;
        }
        let (voice, word) = (key.voice, &key.text[key.word.clone()]);
        let items = self.itemise(word, voice, key.script, key.reads);
        let mut shaped = ShapedWord::empty(items.len());
        for item in &items {
            let text = &word[item.from..item.to];
            let glyphs = match (key.posture, &items[..]) {
                (Posture::Together, [_]) => self.side_by_side(item, text, voice)?,
                (Posture::Together, _) => return None,
                _ => self.shape_stood(item, text, voice, (&self.features(voice), true)),
            };
            if key.posture == Posture::UprightIfFormed && !has_form(item, text, &glyphs) {
                return None;
            }
            self.take_item(word, item, "", &glyphs, voice, &mut shaped);
            if let Some(segment) = shaped.segments.last_mut() {
                segment.upright = true;
            }
        }
        self.give_space(key.space_apart, voice, &mut shaped);
        Some(shaped)
    }

    /// Signs as they stand beside each other in lines that run across, in the middle of one square; half as wide where
    /// they would be wider than it and their face has such forms. Nothing where they are wider all the same.
    fn side_by_side(
        &self,
        item: &FaceSpan<'_>,
        text: &str,
        voice: FontStyle,
    ) -> Option<Vec<Glyph>> {
        let metrics = item.face.metrics();
        let em = metrics.units_per_em;
        let mut features = self.features(voice);
        let mut glyphs = self.shape_stood(item, text, voice, (&features, false));
        let wide = |glyphs: &[Glyph]| -> i32 { glyphs.iter().map(|glyph| glyph.advance).sum() };
        if wide(&glyphs) > em {
            features.push(Feature {
                tag: *b"hwid",
                value: 1,
            });
            glyphs = self.shape_stood(item, text, voice, (&features, false));
        }
        let width = wide(&glyphs);
        if width > em + em / WIDER || glyphs.is_empty() {
            return None;
        }
        let count = glyphs.len() as i32;
        // Their baseline lies so that capitals and digits stand in the middle of the square.
        let foot = (em + metrics.cap_height) / 2;
        let mut pen = -width / 2;
        let stood = glyphs.into_iter().zip(0..).map(|(glyph, number)| {
            let (from, to) = (em * number / count, em * (number + 1) / count);
            let stood = Glyph {
                advance: to - from,
                dx: foot - glyph.dy - from,
                dy: middle(em) + pen + glyph.dx,
                ..glyph
            };
            pen += glyph.advance;
            stood
        });
        Some(stood.collect())
    }

    fn shape_stood(
        &self,
        item: &FaceSpan<'_>,
        text: &str,
        voice: FontStyle,
        (features, upright): (&[Feature], bool),
    ) -> Vec<Glyph> {
        let asked = ShapeRequest {
            text,
            joined: ("", ""),
            script: item.script,
            reads: item.reads,
            language: self.language,
            features,
            upright,
        };
        self.shape(item.face, &asked, voice)
    }
}

/// Whether a sign is drawn upright in another form than in lines that run across.
fn has_form(item: &FaceSpan<'_>, text: &str, glyphs: &[Glyph]) -> bool {
    let own = text.chars().next().and_then(|c| item.face.glyph(c));
    glyphs.first().map(|glyph| glyph.id) != own
}
