//! The glyphs of a line stand side by side on its baseline.

use super::{BrokenPromise, On, broken};
use crate::layout::{GlyphRun, LaidGlyph, LaidLine};
use crate::names::Length;
use crate::setting::reading_rise;

/// What a run of a line is.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Stands {
    /// Words on the line's baseline.
    OnBaseline,
    /// A reading above its base.
    Above,
    /// A large initial, so many grid lines below.
    Below(i64),
}

impl On<'_> {
    /// What a run of a line is, by where it stands; nothing where nothing can stand.
    pub(super) fn stands(&self, line: &LaidLine, run: &GlyphRun) -> Option<Stands> {
        let down = run.baseline - line.baseline;
        if down == Length::ZERO {
            return (run.size == line.size).then_some(Stands::OnBaseline);
        }
        if down < Length::ZERO {
            let is_reading = run.size == line.size / 2 && down == -reading_rise(line.size);
            return is_reading.then_some(Stands::Above);
        }
        let leading = self.grid.leading;
        let lines = down.units() / leading.units().max(1);
        let is_initial = run.size > line.size && leading * lines == down;
        // A printed one may stand on another grid.
        (is_initial || (self.panel.passed && run.size > line.size)).then_some(Stands::Below(lines))
    }

    /// The runs on the baseline stand side by side and fill the line's width, but for a large initial, whose ink stands
    /// before them by a gap.
    pub(super) fn glyphs_stand_side_by_side(&self, line: &LaidLine) -> Result<(), BrokenPromise> {
        let amiss = |what: &str| Err(broken(format!("{what} “{}”", line.text)));
        let mut runs: Vec<Extent> = Vec::with_capacity(line.runs.len());
        for run in &line.runs {
            match self.stands(line, run) {
                None => return amiss("words stand off the baseline, or are of another size, in"),
                Some(Stands::Above) if stands_beside(line, &Extent::of(run)) => {
                    return amiss("a reading stands beside its line,");
                }
                Some(Stands::Above) => {}
                Some(Stands::OnBaseline) => {
                    runs.extend(Extent::of_words(run, |glyph| glyph.added == Some(' ')));
                }
                Some(Stands::Below(_)) => {}
            }
        }
        let stand = |extent: fn(&LaidLine, &GlyphRun) -> Option<Extent>| {
            let below = |run: &&GlyphRun| matches!(self.stands(line, run), Some(Stands::Below(_)));
            let initial = line.runs.iter().filter(below);
            let initial = initial.filter_map(|run| extent(line, run));
            let all = runs.iter().copied().chain(initial.reduce(Extent::with));
            side_by_side(line, all.collect())
        };
        // A printed one may stand by its advance, as in older versions of the program.
        match stand(Extent::of_ink) || (self.panel.passed && stand(Extent::of_initial)) {
            true => Ok(()),
            false => amiss("glyphs do not stand side by side, or do not fill the width of"),
        }
    }
}

/// Whether runs fill a line from its left edge to its right.
fn side_by_side(line: &LaidLine, mut runs: Vec<Extent>) -> bool {
    runs.sort_by_key(|run| run.from);
    let none = Length::ZERO;
    if let [only] = &runs[..]
        && only.initial
    {
        // The room beside an initial is part of the width where the line is nothing else.
        return line.x - only.slip <= only.from && only.to <= line.x + line.width + only.slip;
    }
    let (mut pen, mut slip, mut behind_initial) = (line.x, none, false);
    for (number, run) in runs.iter().enumerate() {
        // An eighth of the size stands free between an initial and its line.
        let gap = match behind_initial || (run.initial && number > 0) {
            true => line.size / 8,
            false => none,
        };
        let off = run.from - pen - gap;
        if off < -slip || off > slip {
            return false;
        }
        (pen, slip, behind_initial) = (run.to, run.slip, run.initial);
    }
    let off = line.x + line.width - pen;
    off >= -slip && off <= slip
}

/// Whether a reading stands more than an em beyond its line's ends.
fn stands_beside(line: &LaidLine, reading: &Extent) -> bool {
    reading.from < line.x - line.size || reading.to > line.x + line.width + line.size
}

/// From where to where a run reaches.
#[derive(Clone, Copy)]
struct Extent {
    from: Length,
    to: Length,
    /// By how much its end may be off: each of its glyphs is rounded to whole units of its face.
    slip: Length,
    /// Whether it is a large initial.
    initial: bool,
}

impl Extent {
    fn of(run: &GlyphRun) -> Extent {
        let units = run.glyphs.iter().map(|glyph| glyph.advance).sum();
        let count = run.glyphs.len() as i64 + 1;
        Extent {
            from: run.x,
            to: run.x + run.face.scale(units, run.size),
            slip: run.face.scale(1, run.size) * count / 2 + Length::from_units(count),
            initial: false,
        }
    }

    /// The extent of the ink of a large initial; nothing where it shows none.
    fn of_ink(_: &LaidLine, run: &GlyphRun) -> Option<Extent> {
        let mut pen = 0;
        let reaches = run.glyphs.iter().filter_map(|glyph| {
            let at = pen + glyph.dx;
            pen += glyph.advance;
            let (from, to) = run.face.ink(glyph.id)?;
            Some((at + from, at + to))
        });
        let reaches: Vec<(i32, i32)> = reaches.collect();
        let from = reaches.iter().map(|reach| reach.0).min()?;
        let to = reaches.iter().map(|reach| reach.1).max()?;
        Some(Extent {
            from: run.x + run.face.scale(from, run.size),
            to: run.x + run.face.scale(to, run.size),
            initial: true,
            ..Extent::of(run)
        })
    }

    /// The extent of a large initial by its advance, without the space behind it.
    fn of_initial(line: &LaidLine, run: &GlyphRun) -> Option<Extent> {
        let white = |glyph: &LaidGlyph| {
            let text = &line.text[glyph.text.clone()];
            !text.is_empty() && text.trim().is_empty()
        };
        Extent::of_words(run, white).map(|words| Extent {
            initial: true,
            ..words
        })
    }

    /// The extent of two runs of a large initial.
    fn with(self, other: Extent) -> Extent {
        Extent {
            from: self.from.min(other.from),
            to: self.to.max(other.to),
            slip: self.slip.max(other.slip),
            initial: true,
        }
    }

    /// The extent of a run without what is not seen at its ends. Nothing where it is nothing else.
    fn of_words(run: &GlyphRun, unseen: impl Fn(&LaidGlyph) -> bool) -> Option<Extent> {
        let whole = Extent::of(run);
        let cut = |glyph: Option<&LaidGlyph>| match glyph {
            Some(glyph) if unseen(glyph) => run.face.scale(glyph.advance, run.size),
            _ => Length::ZERO,
        };
        if run.glyphs.iter().all(&unseen) {
            return None;
        }
        Some(Extent {
            from: whole.from + cut(run.glyphs.first()),
            to: whole.to - cut(run.glyphs.last()),
            ..whole
        })
    }
}
