//! From a stretch of a shaped line to glyph runs, each where direction puts it.

use std::ops::Range;
use std::sync::Arc;

use super::dots::takes_dot;
use super::{GlyphRun, LaidGlyph, clusters};
use crate::names::Length;
use crate::setting::{DropCap, PieceKind, SetWord, ShapedLine, Slack};
use crate::typeface::{Dots, Face, FontStyle, GlyphSegment, Letters, Level, Shaper, visual_order};

/// Collects the runs of one line.
pub(super) struct RunBuilder<'a> {
    shaper: &'a Shaper<'a>,
    line: &'a ShapedLine,
    /// The byte of the row's text that the laid line's text begins at.
    origin: usize,
    /// The left edge of what is set as usual.
    left: Length,
    baseline: Length,
    spread: Spread,
    runs: Vec<GlyphRun>,
}

/// What the gaps of a justified line are wider by.
#[derive(Clone, Copy, Debug, Default)]
struct Spread {
    /// All of them together; below nothing where they are narrower.
    whole: Length,
    /// What all of them may give.
    weight: Length,
    /// What those that have been set may give.
    set: Length,
}

impl Spread {
    /// What counts of what a gap may give.
    fn weight(&self, gap: Slack) -> Length {
        if self.whole < Length::ZERO {
            gap.shrink
        } else {
            gap.stretch
        }
    }

    /// What the next gap is wider by; the parts add up to the whole.
    fn next(&mut self, gap: Slack) -> Length {
        if self.weight <= Length::ZERO {
            return Length::ZERO;
        }
        let up_to = |set: Length| self.whole.scaled(set.units(), self.weight.units());
        let before = up_to(self.set);
        self.set += self.weight(gap);
        up_to(self.set) - before
    }
}

/// Glyphs of one face, from left to right, that keep together wherever direction puts them.
struct Block {
    face: Arc<Face>,
    size: Length,
    /// Whether its letters are drawn as capitals.
    capitals: bool,
    upright: bool,
    level: Level,
    width: Length,
    /// How far it lies to the right of the pen and above the baseline: a reading stands above its base.
    off: (Length, Length),
    glyphs: Vec<LaidGlyph>,
}

/// Makes the room behind the last of blocks wider. A reading that stands above the last one stays above it.
fn widen(blocks: &mut [Block], by: Length) {
    for block in blocks.iter_mut().rev() {
        if block.width == Length::ZERO {
            block.off.0 += -by;
            continue;
        }
        let em = i64::from(block.face.metrics().units_per_em);
        let units = by.scaled(em, block.size.units().max(1)).units() as i32;
        if let Some(last) = block.glyphs.last_mut() {
            last.advance += units;
        }
        block.width += by;
        return;
    }
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
            spread: Spread::default(),
            runs: Vec::new(),
        }
    }

    /// Adds the glyphs of a stretch of the row's text.
    pub(super) fn add(&mut self, stretch: Range<usize>) {
        let end = stretch.end;
        let words = self.line.set(self.shaper, stretch);
        self.add_words(&words, end, None);
    }

    /// Adds the glyphs of words of the row that end at byte `end` of its text, and behind them a sign that is not
    /// in the text, set as the last of them.
    pub(super) fn add_words(&mut self, words: &[SetWord], end: usize, sign: Option<char>) {
        let mut blocks = Vec::with_capacity(2 * words.len() + 1);
        let gaps = self.gaps(words);
        let weights = gaps.iter().map(|gap| self.spread.weight(*gap));
        self.spread.weight = weights.sum();
        for (word, gap) in words.iter().zip(gaps) {
            let wider = self.spread.next(gap);
            match word.shaped.space {
                None => widen(&mut blocks, wider),
                Some(_) => blocks.extend(self.space_before(word, wider)),
            }
            let level = word.context.level;
            // Where a reading stands above words, it leaves room for dots only below them.
            let voice = match word.kind {
                PieceKind::Ruby(_) => FontStyle {
                    dots: word.voice.dots.map(|_| Dots::Below),
                    ..word.voice
                },
                PieceKind::Word | PieceKind::Solid => word.voice,
            };
            for segment in &word.shaped.segments {
                blocks.push(self.block(segment, word.text.clone(), voice, level));
            }
        }
        let mut left = self.left;
        for block in sign.into_iter().flat_map(|sign| self.sign(sign, end)) {
            // A space at the end is not seen, wherever that is.
            if sign == Some(' ') && block.level.is_right_to_left() {
                left -= block.width;
            }
            blocks.push(block);
        }
        self.place(blocks, left, self.baseline);
    }

    /// What the gap before each word may give, in a line whose gaps are widened.
    fn gaps(&self, words: &[SetWord]) -> Vec<Slack> {
        let none = || vec![Slack::default(); words.len()];
        if self.spread.whole == Length::ZERO {
            return none();
        }
        let mut gaps = none();
        for (index, pair) in words.windows(2).enumerate() {
            gaps[index + 1] = self.line.gap(self.shaper, &pair[0], &pair[1]);
        }
        gaps
    }

    /// Makes the gaps of the words that follow wider by so much together.
    pub(super) fn spread(&mut self, whole: Length) {
        self.spread = Spread {
            whole,
            ..Spread::default()
        };
    }

    /// A sign that is not in the text behind byte `at` of the row's text.
    fn sign(&self, sign: char, at: usize) -> Vec<Block> {
        let before = self.line.text[..at].char_indices().next_back();
        let before = before.map_or(0, |(from, _)| from);
        let Some(voice) = self.line.voice_at(before) else {
            return Vec::new();
        };
        let context = self.line.context_at(before);
        // What is white at a line's end runs as the line does (UAX #9, L1).
        let level = match sign {
            ' ' => self.line.base_level(),
            _ => context.level,
        };
        let words = sign.to_string();
        let shaped = self.shaper.word(&words, voice, context, context.script);
        let end = at - self.origin;
        let blocks = shaped.segments.iter().map(|segment| {
            let glyphs = segment.glyphs.iter().map(|glyph| LaidGlyph {
                id: glyph.id,
                advance: glyph.advance,
                dx: glyph.dx,
                dy: glyph.dy,
                text: end..end,
                added: Some(sign),
                dots: None,
            });
            let units = segment.glyphs.iter().map(|glyph| glyph.advance).sum();
            Block {
                face: Arc::clone(&segment.face),
                size: voice.size,
                capitals: voice.letters == Letters::Capitals,
                upright: segment.upright,
                level,
                width: segment.face.scale(units, voice.size),
                off: (Length::ZERO, Length::ZERO),
                glyphs: glyphs.collect(),
            }
        });
        blocks.collect()
    }

    /// Adds a large initial whose ink begins at `ink`, its baseline `below` the line's own.
    pub(super) fn add_drop(&mut self, drop: &DropCap, ink: Length, below: Length) {
        let initial = &self.line.text[drop.text.clone()];
        let context = self.line.context_at(drop.text.end.saturating_sub(1));
        let (level, script) = (context.level, context.script);
        let shaped = self.shaper.word(initial, drop.voice, context, script);
        let initial = shaped.segments.iter();
        let initial = initial.map(|part| self.block(part, drop.text.clone(), drop.voice, level));
        let mut blocks: Vec<Block> = initial.collect();
        // A space behind the initial is not seen, but it parts the words for whoever reads the file.
        let space = drop.text.end..self.line.start();
        let mut left = ink - drop.bearing;
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
    fn space_before(&self, word: &SetWord, wider: Length) -> Option<Block> {
        let (face, space) = word.shaped.space.as_ref()?;
        let (at, voice) = (word.text.start, word.voice);
        let from = self.line.trimmed_end(at);
        let extra = self.line.extra_space(self.shaper, at, voice);
        let width = word.shaped.space_width + extra + wider;
        let upem = i64::from(face.metrics().units_per_em);
        let advance = width.scaled(upem, voice.size.units().max(1)).units() as i32;
        Some(Block {
            face: Arc::clone(face),
            size: voice.size,
            capitals: voice.letters == Letters::Capitals,
            upright: false,
            level: self.line.level_of_space(at),
            width,
            off: (Length::ZERO, Length::ZERO),
            glyphs: vec![LaidGlyph {
                id: space.id,
                advance,
                dx: space.dx,
                dy: space.dy,
                text: from - self.origin..at - self.origin,
                added: None,
                dots: None,
            }],
        })
    }

    fn block(
        &self,
        segment: &GlyphSegment,
        word: Range<usize>,
        voice: FontStyle,
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
            added: None,
            dots: voice
                .dots
                .filter(|_| segment.above.is_none())
                .filter(|_| self.line.text[word.start..][text.clone()].starts_with(takes_dot)),
        });
        let laid = laid.collect();
        let units = glyphs.iter().map(|glyph| glyph.advance).sum();
        let (size, width, off) = match &segment.above {
            Some(above) => (above.size, Length::ZERO, (-above.back, above.rise)),
            None => {
                let width = segment.face.scale(units, voice.size);
                (voice.size, width, (Length::ZERO, Length::ZERO))
            }
        };
        Block {
            face: Arc::clone(&segment.face),
            size,
            capitals: voice.letters == Letters::Capitals,
            upright: segment.upright,
            level,
            width,
            off,
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
            x[index] = pen + blocks[index].off.0;
            pen += blocks[index].width;
        }
        let mut level = None;
        let mut behind: usize = blocks.iter().map(|block| block.glyphs.len()).sum();
        for (mut block, x) in blocks.into_iter().zip(x) {
            let baseline = baseline - block.off.1;
            let goes_on = |run: &&mut GlyphRun| {
                Arc::ptr_eq(&run.face, &block.face)
                    && (run.size, run.baseline) == (block.size, baseline)
                    && (run.capitals, run.upright) == (block.capitals, block.upright)
                    && level == Some(block.level)
            };
            // Most lines are one run.
            let to_come = behind;
            behind -= block.glyphs.len();
            match self.runs.last_mut().filter(goes_on) {
                Some(run) if block.level.is_right_to_left() => {
                    block.glyphs.append(&mut run.glyphs);
                    run.glyphs = block.glyphs;
                    run.x = x;
                }
                Some(run) => run.glyphs.append(&mut block.glyphs),
                None => {
                    block.glyphs.reserve_exact(to_come - block.glyphs.len());
                    self.runs.push(GlyphRun {
                        face: block.face,
                        size: block.size,
                        x,
                        baseline,
                        reads: block.level.reads(),
                        capitals: block.capitals,
                        upright: block.upright,
                        glyphs: block.glyphs,
                    });
                }
            }
            level = Some(block.level);
        }
    }
}
