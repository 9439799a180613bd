//! Shaping neighbouring words at once, for faces that look along whole lines.

use std::ops::Range;

use super::Glyph;
use super::around::{self, Context};
use super::faces::Item;
use super::shape::Asked;
use super::shaper::{FontStyle, ShapedWord, Shaper};
use super::tables::Reach;
use crate::names::Direction;

impl Shaper<'_> {
    /// Shapes neighbouring words of one voice, one script and one level at once, where their face looks along
    /// whole lines and has all of them; nothing where they must be shaped one by one.
    pub fn run(
        &self,
        line: &str,
        words: &[(Range<usize>, Context)],
        voice: FontStyle,
    ) -> Option<Vec<ShapedWord>> {
        let (first, last) = (words.first()?, words.last()?);
        let main = self.face(voice.stress);
        // The words of a run have no spaces apart but the first, whose space is then shaped by itself.
        if main.reach != Reach::Line || first.1.space_apart {
            return None;
        }
        let item = Item {
            face: main,
            script: first.1.script,
            reads: first.1.level.reads(),
            from: 0,
            to: 0,
            covered: true,
        };
        let alike = |word: &(Range<usize>, Context)| {
            self.is_alike(&line[word.0.clone()], &item, voice.stress)
        };
        if !words.iter().all(alike) {
            return None;
        }
        let start = first.0.start - usize::from(first.1.space_before);
        let end = last.0.end + usize::from(last.1.space_behind);
        let text = line[start..end].replace('\t', " ");
        let (before, behind) = match item.script.joins() {
            true => (
                around::joined(line, &(start..start)).0,
                around::joined(line, &(end..end)).1,
            ),
            false => ("", ""),
        };
        let mut glyphs = main.shaper().shape(&Asked {
            text: &text,
            joined: (before, behind),
            script: item.script,
            reads: item.reads,
            language: self.language,
            features: &self.features(voice),
        });
        // Into the order of the text, the glyphs of a cluster as they stand.
        glyphs.sort_by_key(|glyph| glyph.cluster);
        let mut shaped = Vec::with_capacity(words.len());
        let mut behind = start;
        let mut next = 0;
        for (word, _) in words {
            // From the end of the word before: the spaces between, then the word.
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
            let item = Item {
                to: word.len(),
                ..item
            };
            let lead = &text[behind - start..word.start - start];
            shaped.push(self.word_of_glyphs(&line[word.clone()], &item, lead, &own, voice));
            (behind, next) = (word.end, until);
        }
        Some(shaped)
    }

    fn word_of_glyphs(
        &self,
        word: &str,
        item: &Item<'_>,
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
