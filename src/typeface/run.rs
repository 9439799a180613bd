//! Shaping neighbouring words at once, where their face looks past the spaces between them.

use std::ops::Range;

use super::Glyph;
use super::around::{self, ShapingContext};
use super::faces::FaceSpan;
use super::shape::ShapeRequest;
use super::shaped::{FontStyle, ShapedWord};
use super::shaper::Shaper;
use crate::names::Direction;

impl Shaper<'_> {
    /// Shapes neighbouring words of one voice, one script and one level at once, where their face has all of them; nothing
    /// where they must be shaped one by one.
    pub fn run(
        &self,
        line: &str,
        words: &[(Range<usize>, ShapingContext)],
        voice: FontStyle,
    ) -> Option<Vec<ShapedWord>> {
        let item = self.run_item(line, words, voice)?;
        let (first, last) = (words.first()?, words.last()?);
        let start = first.0.start - usize::from(first.1.space_before);
        let end = last.0.end + usize::from(last.1.space_behind);
        let text = line[start..end].replace('\t', " ");
        let glyphs = self.run_glyphs(line, start..end, &text, &item, voice);
        let mut shaped = Vec::with_capacity(words.len());
        let mut behind = start;
        let mut next = 0;
        for (word, _) in words {
            // The glyphs from the end of the word before: those of the spaces between, then those of the word.
            let until = glyphs.partition_point(|glyph| (glyph.cluster as usize) < word.end - start);
            let own = glyphs[next..until].iter();
            let mut own: Vec<Glyph> = own
                .map(|glyph| Glyph {
                    cluster: glyph.cluster - (behind - start) as u32,
                    ..*glyph
                })
                .collect();
            if item.reads == Direction::RightToLeft {
                own = from_left_to_right(&own);
            }
            let item = FaceSpan {
                to: word.len(),
                ..item
            };
            let lead = &text[behind - start..word.start - start];
            shaped.push(self.word_of_glyphs(&line[word.clone()], &item, lead, &own, voice));
            (behind, next) = (word.end, until);
        }
        Some(shaped)
    }

    /// The face, script and direction that all the words have; nothing where they must be shaped one by one.
    fn run_item(
        &self,
        line: &str,
        words: &[(Range<usize>, ShapingContext)],
        voice: FontStyle,
    ) -> Option<FaceSpan<'_>> {
        let (_, first) = words.first()?;
        let main = self.face_of(voice);
        // The words of a run have no spaces apart but the first, whose space is then shaped by itself.
        if first.space_apart {
            return None;
        }
        let item = FaceSpan {
            face: main,
            script: first.script,
            reads: first.level.reads(),
            from: 0,
            to: 0,
            covered: true,
        };
        let alike = |word: &(Range<usize>, ShapingContext)| {
            self.is_alike(&line[word.0.clone()], &item, voice)
        };
        words.iter().all(alike).then_some(item)
    }

    /// The glyphs of a run in the order of its text, those of a cluster from left to right. `text` is the bytes `run` of
    /// the line, its tabs as spaces.
    fn run_glyphs(
        &self,
        line: &str,
        run: Range<usize>,
        text: &str,
        item: &FaceSpan<'_>,
        voice: FontStyle,
    ) -> Vec<Glyph> {
        let joined = match item.script.joins() {
            true => (
                around::joined(line, &(run.start..run.start)).0,
                around::joined(line, &(run.end..run.end)).1,
            ),
            false => ("", ""),
        };
        let asked = ShapeRequest {
            text,
            joined,
            script: item.script,
            reads: item.reads,
            language: self.language,
            features: &self.features(voice),
            upright: false,
        };
        let mut glyphs = self.shape(item.face, &asked, voice);
        glyphs.sort_by_key(|glyph| glyph.cluster);
        glyphs
    }

    /// A word made of the glyphs of a run; `lead` is the spaces before it, which the first glyphs stand for.
    fn word_of_glyphs(
        &self,
        word: &str,
        item: &FaceSpan<'_>,
        lead: &str,
        glyphs: &[Glyph],
        voice: FontStyle,
    ) -> ShapedWord {
        let mut shaped = ShapedWord::empty(1);
        self.take_item(word, item, lead, glyphs, voice, &mut shaped);
        if let Some((face, glyph)) = &shaped.space {
            shaped.space_width = face.scale(glyph.advance, voice.size) + voice.tracking;
        }
        shaped
    }
}

/// The glyphs of clusters in the order of a text that runs from right to left, as they stand.
fn from_left_to_right(logical: &[Glyph]) -> Vec<Glyph> {
    let clusters = logical.chunk_by(|a, b| a.cluster == b.cluster);
    let clusters: Vec<&[Glyph]> = clusters.collect();
    clusters.into_iter().rev().flatten().copied().collect()
}
