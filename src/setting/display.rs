//! Setting what is not verse: headings, ornaments, who speaks, and captions.

use super::here::LineContext;
use super::part::Setter;
use super::shaped::ShapedLine;
use super::{Column, Row, Setting, Stand, heading, mirror, titling};
use crate::names::{Direction, Fault, HalfLines, Length, LinesRun};
use crate::plan::{Align, HeadingAlign, HeadingLevel, Plan};
use crate::stack::Baselines;
use crate::text::LineKind;
use crate::typeface::{Base, FontStyle, Shaper, Typeface};
use std::ops::Range;

impl Setter<'_> {
    pub(super) fn set_heading(
        &self,
        row: &Row,
        here: &LineContext<'_>,
    ) -> Option<(Setting, Stand)> {
        Heading {
            line: &row.shaped,
            voice: row.voice,
            align: titling::align(&row.kind, &row.shaped.text, self.style),
            usual: &|measure| here.others.usual(measure),
            leading: self.style.leading,
            shaper: self.shaper,
        }
        .on(here.column, here.slot)
    }

    /// An ornament in the middle of where lines usually run; nothing where it does not fit on a line.
    pub(super) fn set_centred(&self, row: &Row, here: &LineContext<'_>) -> Option<Stand> {
        let setting = here.line(0);
        let all = 0..row.shaped.trimmed_end(row.shaped.text.len());
        let width = self.width(row, here, all.clone());
        let within = match self.style.align {
            Align::Right => setting.measure * 2 - width,
            _ => here.others.usual(setting.measure).max(width),
        };
        let x = setting.left + (within - width) / 2;
        (width <= setting.measure).then(|| Stand::one_line((all, x, width)))
    }

    /// Who speaks: flush right to where the lines usually end. Nothing where words would have to be broken.
    pub(super) fn set_attribution(&self, row: &Row, here: &LineContext<'_>) -> Option<Stand> {
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
        Some(Stand::of_lines(placed.collect()))
    }

    /// What stands with a picture: aligned as the part's lines, as many below each other as it takes. Nothing where
    /// words would have to be broken.
    pub(super) fn set_caption(&self, row: &Row, here: &LineContext<'_>) -> Option<Stand> {
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
        Some(Stand::of_lines(placed.collect()))
    }
}

/// A heading, or the plan's title.
pub(super) struct Heading<'a> {
    pub line: &'a ShapedLine,
    pub voice: FontStyle,
    pub align: HeadingAlign,
    /// How wide lines usually run within a measure.
    pub usual: &'a dyn Fn(Length) -> Length,
    pub leading: Length,
    pub shaper: &'a Shaper<'a>,
}

impl Heading<'_> {
    /// The heading from a slot on, with the setting that all its lines have; nothing where it cannot stand there without
    /// a word being broken.
    pub(super) fn on(&self, column: &Column, slot: usize) -> Option<(Setting, Stand)> {
        let step = heading_step(self.voice.size, self.leading);
        let step = match slot < column.slots() {
            true => step.rounded_up(),
            false => step,
        };
        let mut count = 1;
        loop {
            let covered = Baselines::apart(count, step).height().whole_lines();
            let setting = column.shared(slot, covered)?;
            let pieces = heading::balance(self.line, self.shaper, setting.measure)?;
            if pieces.len() <= count {
                let baselines = Baselines::apart(pieces.len(), step);
                let across = pieces.into_iter().map(|text| self.across(text, &setting));
                return Some((setting, Stand::of(across.collect(), baselines)));
            }
            // Where more lines have room for less, they are no fewer.
            count = pieces.len();
        }
    }

    /// Each word on a line of its own.
    pub(super) fn word_by_word(&self, setting: &Setting) -> Stand {
        let words = super::sources::words_of(&self.line.text);
        let across = words.map(|word| {
            let width = self.line.width(self.shaper, word.clone());
            (word, setting.left, width)
        });
        let step = heading_step(self.voice.size, self.leading);
        Stand::of_lines(across.collect()).apart(step)
    }

    fn across(&self, text: Range<usize>, setting: &Setting) -> (Range<usize>, Length, Length) {
        let width = self.line.width(self.shaper, text.clone());
        let free = setting.measure - width;
        // What is added behind the last letter is not seen, and must not push the others aside.
        let middle = |within: Length| (within - width + self.voice.tracking) / 2;
        let x = match self.align {
            HeadingAlign::Left => Length::ZERO,
            HeadingAlign::Right => free,
            HeadingAlign::Centre => middle(setting.measure),
            HeadingAlign::LongestLine => middle((self.usual)(setting.measure)),
        };
        let x = setting.left + x.min(free).max(Length::ZERO);
        (text, x, width)
    }
}

/// How far the lines of a heading of this size stand apart: as many half lines as 23/20 of its size need.
pub fn heading_step(size: Length, leading: Length) -> HalfLines {
    HalfLines::covering(size * 23, leading * 20).max(HalfLines::LINE)
}

/// A line of the plan's own words on a title panel: the title, where the part has none, or the author.
pub struct AddedLine {
    /// What it is.
    pub kind: LineKind,
    /// Its words.
    pub line: ShapedLine,
    /// How it stands.
    pub stand: Stand,
    /// The first slot where it has room.
    pub slot: usize,
}

/// Sets the plan's title, or its author, in a column from a slot on, on lines that are `leading` apart and run this way;
/// nothing where it has no room on any.
///
/// # Errors
/// A size or a letterspacing that the plan asks for and that its words cannot have.
pub fn added_line(
    plan: &Plan,
    typeface: &Typeface,
    (kind, words): (LineKind, &str),
    (column, from, leading): (&Column, usize, Length),
    lines_run: LinesRun,
) -> Result<Option<AddedLine>, Fault> {
    let shaper = Shaper::new(typeface, &plan.language);
    let reads = Direction::of_language(&plan.language);
    let style = mirror::style_seen(&plan.text, reads);
    let Some(voice) = titling::voice(&kind, words, &style, typeface) else {
        return Ok(None);
    };
    let base = Base::FirstStrong { otherwise: reads };
    let line = ShapedLine::added(words, voice)
        .read_as(base)
        .running(lines_run);
    let heading = Heading {
        line: &line,
        voice,
        align: titling::align(&kind, words, &style),
        usual: &|measure| measure,
        leading,
        shaper: &shaper,
    };
    if kind == LineKind::Title {
        let level = HeadingLevel::Title;
        let widest = column.settings().map(|setting| setting.measure).max();
        let room = (widest.unwrap_or_default(), &style);
        let parted = titling::spaced_out(&line, (level, &style), None);
        let wide = || titling::too_wide(&line, &shaper, (level, voice), room);
        if let Some(fault) = parted.or_else(wide) {
            return Err(fault);
        }
    }
    let slots = from..column.slots().max(from + 1);
    let mut found = slots.filter_map(|slot| Some((slot, heading.on(column, slot)?)));
    let found = found.next().or_else(|| match column {
        // A word is wider than the panel.
        Column::Plain(setting) => Some((from, (*setting, heading.word_by_word(setting)))),
        Column::Shaped(_) => None,
    });
    Ok(found.map(|(slot, (setting, mut stand))| {
        if reads.is_right_to_left() {
            stand.turn(|x, width| setting.left * 2 + setting.measure - x - width);
        }
        AddedLine {
            kind,
            line,
            stand,
            slot,
        }
    }))
}
