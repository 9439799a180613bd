//! Setting what is not verse: headings, ornaments, who speaks, and captions.

use super::here::LineContext;
use super::part::{LINE, Setter};
use super::rows::title_voice;
use super::shaped::ShapedLine;
use super::stack::{one_line, stack};
use super::{Piece, Row, RowAt, Setting, heading};
use crate::names::Length;
use crate::plan::{Align, Plan, TextStyle};
use crate::typeface::{Base, FontStyle, Shaper};
use std::ops::Range;

impl Setter<'_> {
    pub(super) fn set_heading(&self, row: &Row, here: &LineContext<'_>) -> RowAt {
        set_heading(
            &row.shaped,
            row.voice,
            self.style,
            self.areas.leading(),
            self.shaper,
            here.setting,
        )
        .unwrap_or_else(|| {
            let step = heading_step(row.voice.size, self.areas.leading());
            apart(self.broken(row, here, Length::ZERO), step)
        })
    }

    pub(super) fn set_centred(&self, row: &Row, here: &LineContext<'_>) -> RowAt {
        self.set_centred_whole(row, here)
            .unwrap_or_else(|| self.broken(row, here, Length::ZERO))
    }

    /// An ornament in the middle of where lines usually run; nothing where it does not fit on a line.
    pub(super) fn set_centred_whole(&self, row: &Row, here: &LineContext<'_>) -> Option<RowAt> {
        let setting = here.line(0);
        let all = 0..row.shaped.trimmed_end(row.shaped.text.len());
        let width = self.width(row, here, all.clone());
        let within = match self.style.align {
            Align::Right => setting.measure * 2 - width,
            _ => here.others.usual(setting.measure).max(width),
        };
        let x = setting.left + (within - width) / 2;
        (width <= setting.measure).then(|| one_line(all, x, width))
    }

    pub(super) fn set_attribution(&self, row: &Row, here: &LineContext<'_>) -> RowAt {
        self.set_attribution_whole(row, here)
            .unwrap_or_else(|| self.broken(row, here, Length::ZERO))
    }

    /// Who speaks: flush right to where the lines usually end. Nothing where words would have to be broken.
    pub(super) fn set_attribution_whole(&self, row: &Row, here: &LineContext<'_>) -> Option<RowAt> {
        let pieces = self.pieces(row, here)?;
        let width = |piece: &Range<usize>| self.width(row, here, piece.clone());
        let widths: Vec<Length> = pieces.iter().map(width).collect();
        let widest = widths.iter().copied().fold(Length::ZERO, Length::max);
        let em = self.style.size;
        let placed = pieces.into_iter().zip(widths).enumerate();
        let placed = placed.map(|(index, (text, width))| {
            let setting = here.line(index);
            let usual = here.others.usual(setting.measure);
            // Where that would bring it almost under the indent above, it stands out to the measure instead.
            let near = usual - widest < em * 3;
            let right = if near { setting.measure } else { usual };
            let free = match self.style.align {
                Align::Centre => (setting.measure - width) / 2,
                _ => right - width,
            };
            (text, setting.left + free, width)
        });
        Some(stack(placed.collect(), false))
    }

    pub(super) fn set_caption(&self, row: &Row, here: &LineContext<'_>) -> RowAt {
        self.set_caption_whole(row, here)
            .unwrap_or_else(|| self.broken(row, here, Length::ZERO))
    }

    /// What stands with a picture: aligned as the part's lines, as many below each other as it takes. Nothing where
    /// words would have to be broken.
    pub(super) fn set_caption_whole(&self, row: &Row, here: &LineContext<'_>) -> Option<RowAt> {
        let pieces = self.pieces(row, here)?;
        let placed = pieces.into_iter().enumerate().map(|(index, text)| {
            let setting = here.line(index);
            let width = self.width(row, here, text.clone());
            let free = match self.style.align {
                Align::Right => setting.measure - width,
                Align::Centre => (setting.measure - width) / 2,
                _ => Length::ZERO,
            };
            (text, setting.left + free, width)
        });
        Some(stack(placed.collect(), false))
    }
}

/// The plan's title as a line.
pub(super) fn title_line(plan: &Plan, style: &TextStyle, base: Base) -> (ShapedLine, FontStyle) {
    let voice = title_voice(style);
    (ShapedLine::added(&plan.title, voice).read_as(base), voice)
}

/// Sets the plan's title as a heading row.
pub(super) fn added_title(
    plan: &Plan,
    base: Base,
    style: &TextStyle,
    shaper: &Shaper<'_>,
    setting: &Setting,
) -> (ShapedLine, RowAt) {
    let (line, voice) = title_line(plan, style, base);
    let at =
        set_heading(&line, voice, style, style.leading, shaper, setting).unwrap_or_else(|| {
            // A word of the title is wider than the panel: each word stands on a line of its own.
            let words = super::shaped::words_of(&plan.title);
            let placed = words.map(|word| {
                let width = line.width(shaper, word.clone());
                (word, setting.left, width)
            });
            let step = heading_step(voice.size, style.leading);
            apart(stack(placed.collect(), false), step)
        });
    (line, at)
}

/// Lines of a heading so many half lines apart; the last one stands on the last line of its height.
fn apart(mut at: RowAt, step: u32) -> RowAt {
    let count = at.pieces.len() as u32;
    at.height = (step * count).div_ceil(LINE) * LINE;
    for (index, piece) in at.pieces.iter_mut().enumerate() {
        piece.baseline = at.height - LINE - step * (count - 1 - index as u32);
    }
    at
}

pub(super) fn set_heading(
    line: &ShapedLine,
    voice: FontStyle,
    style: &TextStyle,
    leading: Length,
    shaper: &Shaper<'_>,
    setting: &Setting,
) -> Option<RowAt> {
    let pieces = heading::balance(line, shaper, setting.measure)?;
    let step = heading_step(voice.size, leading);
    let height = (step * pieces.len() as u32).div_ceil(LINE) * LINE;
    Some(place_heading(
        line,
        style,
        shaper,
        setting,
        pieces,
        (step, height),
    ))
}

/// How many half lines the lines of a heading of this size stand apart: as many as 23/20 of its size need.
pub fn heading_step(size: Length, leading: Length) -> u32 {
    let needed = size.units() * 23 * 2;
    let half = leading.units() * 20;
    u32::try_from((needed + half - 1) / half)
        .unwrap_or(LINE)
        .max(LINE)
}

/// Places the lines of a heading so many half lines apart; the last one stands on the last line of its height.
pub(super) fn place_heading(
    line: &ShapedLine,
    style: &TextStyle,
    shaper: &Shaper<'_>,
    setting: &Setting,
    pieces: Vec<Range<usize>>,
    (step, height): (u32, u32),
) -> RowAt {
    let count = pieces.len() as u32;
    let placed = pieces.into_iter().enumerate().map(|(index, text)| {
        let width = line.width(shaper, text.clone());
        let free = setting.measure - width;
        let x = setting.left
            + match style.align {
                Align::Right => free,
                Align::Centre => free / 2,
                _ => Length::ZERO,
            };
        Piece {
            text,
            x,
            width,
            baseline: height - LINE - step * (count - 1 - index as u32),
            turnover: false,
            broken: false,
        }
    });
    RowAt {
        height,
        pieces: placed.collect(),
        paragraph: None,
    }
}
