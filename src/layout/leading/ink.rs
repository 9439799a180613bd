//! How far the ink of set words reaches, glyph by glyph: by the boxes of the face, where the shaper has put them.

use rustc_hash::FxHashMap;

use crate::layout::GlyphRun;
use crate::names::{Direction, Length};

/// The boxes of glyphs, each looked up once.
#[derive(Default)]
pub(super) struct InkBoxes {
    known: FxHashMap<(usize, u16), Option<[i32; 4]>>,
}

/// How far the ink of words reaches above and below their baseline; never below nought.
#[derive(Clone, Copy, Default)]
pub(super) struct Reach {
    pub above: Length,
    pub below: Length,
}

impl Reach {
    /// The farther of both ways.
    pub fn with(self, other: Reach) -> Reach {
        Reach {
            above: self.above.max(other.above),
            below: self.below.max(other.below),
        }
    }
}

/// The ink of one glyph.
pub(super) struct GlyphInk {
    /// From where to where it reaches across, from the panel's left edge.
    pub across: (Length, Length),
    /// How far it reaches above its baseline; below nought where it lies wholly below.
    pub above: Length,
    /// How far it reaches below.
    pub below: Length,
    /// A byte of the line's text that it stands for, or stands beside.
    pub text: Option<usize>,
}

impl InkBoxes {
    /// How far the words on a baseline reach.
    pub fn reach(&mut self, runs: &[GlyphRun], baseline: Length) -> Reach {
        let mut reach = Reach::default();
        for run in runs.iter().filter(|run| run.baseline == baseline) {
            let boxes = run.glyphs.iter().filter_map(|glyph| {
                let [_, bottom, _, top] = self.ink_box(run, glyph.id)?;
                Some((bottom + glyph.dy, top + glyph.dy))
            });
            let (bottom, top) = boxes.fold((0, 0), |far, one| (far.0.min(one.0), far.1.max(one.1)));
            reach = reach.with(Reach {
                above: run.face.scale(top, run.size),
                below: run.face.scale(-bottom, run.size),
            });
        }
        reach
    }

    /// The ink of every glyph on a baseline.
    pub fn glyphs(&mut self, runs: &[GlyphRun], baseline: Length) -> Vec<GlyphInk> {
        let mut found = Vec::new();
        for run in runs.iter().filter(|run| run.baseline == baseline) {
            let scale = |units: i32| run.face.scale(units, run.size);
            let mut pen = 0;
            for (index, glyph) in run.glyphs.iter().enumerate() {
                if let Some([left, bottom, right, top]) = self.ink_box(run, glyph.id) {
                    let x = pen + glyph.dx;
                    found.push(GlyphInk {
                        across: (run.x + scale(x + left), run.x + scale(x + right)),
                        above: scale(top + glyph.dy),
                        below: scale(-bottom - glyph.dy),
                        text: stands_for(run, index),
                    });
                }
                pen += glyph.advance;
            }
        }
        found
    }

    fn ink_box(&mut self, run: &GlyphRun, glyph: u16) -> Option<[i32; 4]> {
        let look_up = || run.face.ink_box(glyph);
        let key = (run.face.id(), glyph);
        *self.known.entry(key).or_insert_with(look_up)
    }
}

/// A byte of the line's text that a glyph stands for; of a mark that has none of its own, that of its letter, which comes
/// before it in the order of reading.
fn stands_for(run: &GlyphRun, index: usize) -> Option<usize> {
    let own =
        |at: usize| Some(run.glyphs[at].text.start).filter(|_| !run.glyphs[at].text.is_empty());
    let before = || (0..index).rev().find_map(own);
    let behind = || (index + 1..run.glyphs.len()).find_map(own);
    own(index).or_else(|| match run.reads {
        Direction::LeftToRight => before().or_else(behind),
        Direction::RightToLeft => behind().or_else(before),
    })
}
