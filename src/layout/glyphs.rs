//! From a stretch of a shaped line to glyph runs, each where direction puts it.

use std::ops::Range;
use std::sync::Arc;

use super::{GlyphRun, LaidGlyph, clusters};
use crate::lines::{Drop, SetWord, ShapedLine};
use crate::typeface::{Face, GlyphSegment, Level, Shaper, Voice, visual_order};
use crate::units::Length;

/// Collects the runs of one line.
pub(super) struct RunBuilder<'a> {
    shaper: &'a Shaper<'a>,
    line: &'a ShapedLine,
    /// The byte of the row's text that the laid line's text begins at.
    origin: usize,
    /// The left edge of what is set as usual.
    left: Length,
    baseline: Length,
    runs: Vec<GlyphRun>,
}

/// Glyphs of one face, from left to right, that keep together wherever direction puts them.
struct Block {
    face: Arc<Face>,
    size: Length,
    level: Level,
    width: Length,
    glyphs: Vec<LaidGlyph>,
}

impl<'a> RunBuilder<'a> {
    pub(super) fn new(
        shaper: &'a Shaper<'a>,
        line: &'a ShapedLine,
        origin: usize,
        left: Length,
        baseline: Length,
    ) -> RunBuilder<'a> {
        RunBuilder {
            shaper,
            line,
            origin,
            left,
            baseline,
            runs: Vec::new(),
        }
    }

    /// Adds the glyphs of a stretch of the row's text.
    pub(super) fn add(&mut self, stretch: Range<usize>) {
        let mut blocks = Vec::new();
        for word in self.line.set(self.shaper, stretch).iter() {
            blocks.extend(self.space_before(word));
            let level = word.context.level;
            for segment in &word.shaped.segments {
                blocks.push(self.block(segment, word.text.clone(), word.voice, level));
            }
        }
        self.place(blocks, self.left, self.baseline);
    }

    /// Adds a large initial at `x`, its baseline `below` the line's own.
    pub(super) fn add_drop(&mut self, drop: &Drop, x: Length, below: Length) {
        let initial = &self.line.text[drop.text.clone()];
        let context = self.line.context_at(drop.text.end.saturating_sub(1));
        let (level, script) = (context.level, context.script);
        let shaped = self.shaper.word(initial, drop.voice, context, script);
        let initial = shaped.segments.iter();
        let initial = initial.map(|part| self.block(part, drop.text.clone(), drop.voice, level));
        let mut blocks: Vec<Block> = initial.collect();
        // A space behind the initial is not seen, but it parts the words for whoever reads the file.
        let space = drop.text.end..self.line.start();
        let mut left = x;
        if !space.is_empty() {
            let shaped = self.shaper.word(" ", drop.voice, context, script);
            for segment in &shaped.segments {
                let block = self.block(segment, space.clone(), drop.voice, level);
                if level.is_right_to_left() {
                    left -= block.width;
                }
                blocks.push(block);
            }
        }
        self.place(blocks, left, self.baseline + below);
    }

    pub(super) fn finish(self) -> Vec<GlyphRun> {
        self.runs
    }

    /// One glyph stands for all the spaces before a word; its advance is as wide as they are.
    fn space_before(&self, word: &SetWord) -> Option<Block> {
        let (face, space) = word.shaped.space.as_ref()?;
        let (at, voice) = (word.text.start, word.voice);
        let from = self.line.trimmed_end(at);
        let width = word.shaped.space_width + self.line.extra_space(self.shaper, at, voice);
        let upem = i64::from(face.metrics().units_per_em);
        let advance = width.scaled(upem, voice.size.units().max(1)).units() as i32;
        Some(Block {
            face: Arc::clone(face),
            size: voice.size,
            level: self.line.level_of_space(at),
            width,
            glyphs: vec![LaidGlyph {
                id: space.id,
                advance,
                dx: space.dx,
                dy: space.dy,
                text: from - self.origin..at - self.origin,
            }],
        })
    }

    fn block(
        &self,
        segment: &GlyphSegment,
        word: Range<usize>,
        voice: Voice,
        level: Level,
    ) -> Block {
        let glyphs = &segment.glyphs;
        let texts = clusters::texts(segment, &self.line.text[word.clone()], level.reads());
        let at = word.start - self.origin;
        let laid = glyphs.iter().zip(texts).map(|(glyph, text)| LaidGlyph {
            id: glyph.id,
            advance: glyph.advance,
            dx: glyph.dx,
            dy: glyph.dy,
            text: match text.is_empty() {
                true => 0..0,
                false => text.start + at..text.end + at,
            },
        });
        let laid = laid.collect();
        let units = glyphs.iter().map(|glyph| glyph.advance).sum();
        Block {
            face: Arc::clone(&segment.face),
            size: voice.size,
            level,
            width: segment.face.scale(units, voice.size),
            glyphs: laid,
        }
    }

    /// Puts blocks side by side as UAX #9, L2 orders them. The runs stand in the order of the text; blocks
    /// that follow each other in one face and level are one run.
    fn place(&mut self, blocks: Vec<Block>, left: Length, baseline: Length) {
        let levels: Vec<Level> = blocks.iter().map(|block| block.level).collect();
        let mut x = vec![left; blocks.len()];
        let mut pen = left;
        for index in visual_order(&levels) {
            x[index] = pen;
            pen += blocks[index].width;
        }
        let mut level = None;
        for (mut block, x) in blocks.into_iter().zip(x) {
            let goes_on = |run: &&mut GlyphRun| {
                Arc::ptr_eq(&run.face, &block.face)
                    && (run.size, run.baseline) == (block.size, baseline)
                    && level == Some(block.level)
            };
            match self.runs.last_mut().filter(goes_on) {
                Some(run) if block.level.is_right_to_left() => {
                    block.glyphs.append(&mut run.glyphs);
                    run.glyphs = block.glyphs;
                    run.x = x;
                }
                Some(run) => run.glyphs.append(&mut block.glyphs),
                None => self.runs.push(GlyphRun {
                    face: block.face,
                    size: block.size,
                    x,
                    baseline,
                    reads: block.level.reads(),
                    glyphs: block.glyphs,
                }),
            }
            level = Some(block.level);
        }
    }
}
