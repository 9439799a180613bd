//! Setting what is not verse: headings, ornaments, who speaks, and captions.

use super::part::{Here, LINE, Setter};
use super::rows::title_voice;
use super::shaped::ShapedLine;
use super::stack::{one_line, stack};
use super::{Piece, Row, RowAt, Setting, heading};
use crate::plan::{Align, TextStyle};
use crate::typeface::{Base, Shaper, Voice};
use crate::units::Length;

impl Setter<'_> {
    pub(super) fn set_heading(&self, row: &Row, setting: &Setting) -> RowAt {
        let voice = row.voice;
        set_heading(
            &row.shaped,
            voice,
            self.style,
            self.areas.leading(),
            self.shaper,
            setting,
        )
        .unwrap_or_else(|| self.broken(row, &Here::plain(setting), Length::ZERO))
    }

    pub(super) fn set_centred(&self, row: &Row, here: &Here<'_>) -> RowAt {
        let all = 0..row.shaped.trimmed_end(row.shaped.text.len());
        let width = row.shaped.width(self.shaper, all.clone());
        if width > here.setting.measure {
            return self.broken(row, here, Length::ZERO);
        }
        let within = match self.style.align {
            Align::Right => here.setting.measure * 2 - width,
            _ => here.usual.max(width),
        };
        let x = here.setting.left + (within - width) / 2;
        one_line(all, x, width)
    }

    /// Who speaks: flush right to where the lines usually end.
    pub(super) fn set_attribution(&self, row: &Row, here: &Here<'_>) -> RowAt {
        let pieces = self.pieces(row, here.setting.measure, here.setting.measure);
        let Some(pieces) = pieces else {
            return self.broken(row, here, Length::ZERO);
        };
        let widths: Vec<Length> = pieces
            .iter()
            .map(|piece| row.shaped.width(self.shaper, piece.clone()))
            .collect();
        let widest = widths.iter().copied().fold(Length::ZERO, Length::max);
        // Where that would bring it almost under the indent above, it stands out to the measure instead.
        let em = self.style.size;
        let near = here.usual - widest < em * 3;
        let right = if near {
            here.setting.measure
        } else {
            here.usual
        };
        let placed = pieces.into_iter().zip(widths).map(|(text, width)| {
            let free = match self.style.align {
                Align::Centre => (here.setting.measure - width) / 2,
                _ => right - width,
            };
            (text, here.setting.left + free, width)
        });
        stack(placed.collect(), false)
    }

    /// What stands with a picture: aligned as the part's lines, as many below each other as it takes.
    pub(super) fn set_caption(&self, row: &Row, here: &Here<'_>) -> RowAt {
        let measure = here.setting.measure;
        let Some(pieces) = self.pieces(row, measure, measure) else {
            return self.broken(row, here, Length::ZERO);
        };
        let placed = pieces.into_iter().map(|text| {
            let width = row.shaped.width(self.shaper, text.clone());
            let free = match self.style.align {
                Align::Right => measure - width,
                Align::Centre => (measure - width) / 2,
                _ => Length::ZERO,
            };
            (text, here.setting.left + free, width)
        });
        stack(placed.collect(), false)
    }
}

/// Sets the plan's title as a heading row.
pub(super) fn added_title(
    title: &str,
    base: Base,
    style: &TextStyle,
    shaper: &Shaper<'_>,
    setting: &Setting,
) -> (ShapedLine, RowAt) {
    let voice = title_voice(style);
    let line = ShapedLine::added(title, voice).read_as(base);
    let at =
        set_heading(&line, voice, style, style.leading, shaper, setting).unwrap_or_else(|| {
            // A word of the title is wider than the panel: each word stands on a line of its own.
            let words = super::shaped::words_of(title);
            let placed = words.map(|word| {
                let width = line.width(shaper, word.clone());
                (word, setting.left, width)
            });
            stack(placed.collect(), false)
        });
    (line, at)
}

fn set_heading(
    line: &ShapedLine,
    voice: Voice,
    style: &TextStyle,
    leading: Length,
    shaper: &Shaper<'_>,
    setting: &Setting,
) -> Option<RowAt> {
    let pieces = heading::balance(line, shaper, setting.measure)?;
    // Lines of a heading stand as many half lines apart as 23/20 of its size need; the last one stands on
    // the grid.
    let needed = voice.size.units() * 23 * 2;
    let half = leading.units() * 20;
    let step = u32::try_from((needed + half - 1) / half)
        .unwrap_or(LINE)
        .max(LINE);
    let count = pieces.len() as u32;
    let height = (step * count).div_ceil(LINE) * LINE;
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
    Some(RowAt {
        height,
        pieces: placed.collect(),
        paragraph: None,
    })
}
