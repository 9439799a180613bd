//! From a stretch of a shaped line to glyph runs.

use std::ops::Range;
use std::sync::Arc;

use super::{GlyphRun, LaidGlyph};
use crate::lines::{Drop, ShapedLine};
use crate::typeface::{Context, Face, Glyph, GlyphSegment, Shaper, Voice};
use crate::units::Length;

/// Collects the runs of one line.
pub(super) struct RunBuilder<'a> {
    shaper: &'a Shaper<'a>,
    line: &'a ShapedLine,
    /// The byte of the row's text that the laid line's text begins at.
    origin: usize,
    pen: Length,
    baseline: Length,
    spread: Spread,
    runs: Vec<GlyphRun>,
}

/// What the word spaces of a justified line are wider by.
#[derive(Clone, Copy, Debug, Default)]
struct Spread {
    /// All of them together; below nothing where they are narrower.
    whole: Length,
    spaces: i64,
    /// How many have been set.
    set: i64,
}

impl Spread {
    /// What the next space is wider by; the parts add up to the whole.
    fn next(&mut self) -> Length {
        if self.set >= self.spaces {
            return Length::ZERO;
        }
        let up_to = |set: i64| self.whole.scaled(set, self.spaces);
        let part = up_to(self.set + 1) - up_to(self.set);
        self.set += 1;
        part
    }
}

impl<'a> RunBuilder<'a> {
    pub(super) fn new(
        shaper: &'a Shaper<'a>,
        line: &'a ShapedLine,
        origin: usize,
        pen: Length,
        baseline: Length,
    ) -> RunBuilder<'a> {
        RunBuilder {
            shaper,
            line,
            origin,
            pen,
            baseline,
            spread: Spread::default(),
            runs: Vec::new(),
        }
    }

    /// Adds the glyphs of a stretch of the row's text.
    pub(super) fn add(&mut self, stretch: Range<usize>) {
        for word in self.line.set(self.shaper, stretch).iter() {
            let shaped = &word.shaped;
            if let Some((face, space)) = &shaped.space {
                self.add_space(
                    face,
                    *space,
                    word.text.start,
                    word.voice,
                    shaped.space_width,
                );
            }
            for segment in &shaped.segments {
                self.add_segment(segment, word.text.clone(), word.voice);
            }
        }
    }

    /// Makes the word spaces that follow wider by so much together.
    pub(super) fn spread(&mut self, whole: Length, spaces: usize) {
        self.spread = Spread {
            whole,
            spaces: spaces as i64,
            set: 0,
        };
    }

    /// Adds a sign that is not in the text behind byte `at` of the row's text, set as the words before it.
    pub(super) fn add_sign(&mut self, sign: char, at: usize) {
        let before = self.line.text[..at].char_indices().next_back();
        let voice = before.and_then(|(from, _)| self.line.voice_at(from));
        let Some(voice) = voice else { return };
        let context = Context::default();
        let script = self.line.script;
        let shaped = self.shaper.word(&sign.to_string(), voice, context, script);
        let end = at - self.origin;
        for segment in &shaped.segments {
            let glyphs = segment.glyphs.iter().map(|glyph| LaidGlyph {
                id: glyph.id,
                advance: glyph.advance,
                dx: glyph.dx,
                dy: glyph.dy,
                text: end..end,
                added: Some(sign),
            });
            self.run(&segment.face, voice.size).glyphs.extend(glyphs);
        }
    }

    /// Adds a large initial at `x`, its baseline `below` the line's own.
    pub(super) fn add_drop(&mut self, drop: &Drop, x: Length, below: Length) {
        let (pen, baseline) = (self.pen, self.baseline);
        (self.pen, self.baseline) = (x, baseline + below);
        let initial = &self.line.text[drop.text.clone()];
        let context = Context::default();
        let shaped = self
            .shaper
            .word(initial, drop.voice, context, self.line.script);
        for segment in &shaped.segments {
            self.add_segment(segment, drop.text.clone(), drop.voice);
        }
        // A space behind the initial is not seen, but it parts the words for whoever reads the file.
        let space = drop.text.end..self.line.start();
        if !space.is_empty() {
            let shaped = self.shaper.word(" ", drop.voice, context, self.line.script);
            for segment in &shaped.segments {
                self.add_segment(segment, space.clone(), drop.voice);
            }
        }
        (self.pen, self.baseline) = (pen, baseline);
    }

    pub(super) fn finish(self) -> Vec<GlyphRun> {
        self.runs
    }

    /// One glyph stands for all the spaces before a word; its advance is as wide as they are.
    fn add_space(
        &mut self,
        face: &Arc<Face>,
        space: Glyph,
        word: usize,
        voice: Voice,
        width: Length,
    ) {
        let before = &self.line.text[..word];
        let from = before.trim_end_matches([' ', '\t']).len();
        let width = width + self.line.extra_space(self.shaper, word, voice) + self.spread.next();
        let upem = i64::from(face.metrics().units_per_em);
        let advance = width.scaled(upem, voice.size.units().max(1)).units() as i32;
        let glyph = LaidGlyph {
            id: space.id,
            advance,
            dx: space.dx,
            dy: space.dy,
            text: from - self.origin..word - self.origin,
            added: None,
        };
        self.run(face, voice.size).glyphs.push(glyph);
        self.pen += width;
    }

    fn add_segment(&mut self, segment: &GlyphSegment, word: Range<usize>, voice: Voice) {
        let (face, glyphs) = (&segment.face, &segment.glyphs);
        // Cluster borders in the order of the text, to know where each cluster ends.
        let mut starts: Vec<usize> = glyphs.iter().map(|glyph| glyph.cluster as usize).collect();
        starts.sort_unstable();
        starts.dedup();
        let mut shown: Vec<usize> = Vec::new();
        let mut units = 0;
        let origin = self.origin;
        let run = self.run(face, voice.size);
        for glyph in glyphs {
            let start = glyph.cluster as usize;
            let next = starts.get(starts.partition_point(|at| *at <= start));
            let end = next.copied().unwrap_or(segment.to);
            let text = if shown.contains(&start) {
                0..0
            } else {
                shown.push(start);
                word.start + start - origin..word.start + end - origin
            };
            units += glyph.advance;
            run.glyphs.push(LaidGlyph {
                id: glyph.id,
                advance: glyph.advance,
                dx: glyph.dx,
                dy: glyph.dy,
                text,
                added: None,
            });
        }
        self.pen += face.scale(units, voice.size);
    }

    /// The run that glyphs of this face and size go on: the last one, if they follow it.
    fn run(&mut self, face: &Arc<Face>, size: Length) -> &mut GlyphRun {
        let follows = self.runs.last().is_some_and(|run| {
            Arc::ptr_eq(&run.face, face) && run.size == size && run.baseline == self.baseline
        });
        if !follows {
            self.runs.push(GlyphRun {
                face: Arc::clone(face),
                size,
                x: self.pen,
                baseline: self.baseline,
                glyphs: Vec::new(),
            });
        }
        let last = self.runs.len() - 1;
        &mut self.runs[last]
    }
}
