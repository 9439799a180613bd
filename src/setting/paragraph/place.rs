//! Placing the lines of a paragraph that come to stand on one panel.

use std::ops::Range;
use std::sync::Arc;

use super::again::{inset_of, line_between, lines_in};
use super::hang::Hanging;
use super::{ParagraphBreak, Parts, far_inset};
use crate::names::{Direction, Length};
use crate::plan::{Align, TextStyle};
use crate::setting::line_breaks::{BrokenLine, LineFit};
use crate::setting::{Column, Row, SetWord, Setting, mirror};
use crate::typeface::Shaper;

/// A line of prose in its place.
#[derive(Clone, Debug)]
pub struct ProseLine {
    /// Bytes of the row's text.
    pub text: Range<usize>,
    /// Its words as they stand on it.
    pub words: Arc<[SetWord]>,
    /// Where it begins, from the panel's left edge; what hangs is counted.
    pub x: Length,
    /// Its width as set, with an added hyphen and what hangs.
    pub width: Length,
    /// The measure that it was set to.
    pub measure: Length,
    /// What its word spaces take up together beyond their own width; below nothing where they are narrower.
    pub spread: Length,
    /// Whether a hyphen is added behind it.
    pub hyphen: bool,
    /// Whether its last word goes on in the next line, or the next word follows without a space.
    pub glued: bool,
    /// Whether it is the paragraph's last.
    pub last: bool,
    /// Whether its spaces are wider than they should be, or a word had to be broken.
    pub poor: Option<Poor>,
}

/// What is wrong with a line that could not be set better.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Poor {
    /// Its spaces are more than three times as wide as usual, or there are none that could fill it.
    Loose,
    /// A word wider than the measure is broken in it.
    Broken,
}

/// What the lines of a paragraph are placed by.
pub struct ProseContext<'a> {
    /// Shapes the part's words.
    pub shaper: &'a Shaper<'a>,
    /// How the part is set.
    pub style: &'a TextStyle,
    /// Which way it reads.
    pub reads: Direction,
    /// The row.
    pub row: &'a Row,
    /// Which of the part's columns.
    pub number: usize,
    /// The column of that number.
    pub column: &'a Column,
    /// The slot that the first line here stands on.
    pub slot: usize,
}

/// The lines of a paragraph from one break to another.
pub fn lines(here: &ProseContext<'_>, from: usize, to: usize) -> Vec<ProseLine> {
    let row = here.row;
    let Some(paragraph) = &row.paragraph else {
        return Vec::new();
    };
    let at = row.at.get(here.number);
    let Some(at) = at.and_then(|at| at.paragraph.as_ref()) else {
        return Vec::new();
    };
    let within = |line: &BrokenLine| line.from < to;
    let mut fallen: Vec<BrokenLine> = match from {
        0 => at.fall.lines_on(here.slot).take_while(within).collect(),
        _ => at.fall.lines_from(from).take_while(within).collect(),
    };
    if fallen.last().is_some_and(|line| line.to > to) {
        if here.column.is_plain() {
            let ends = fallen.iter().map(|line| line.to.min(to));
            return cut_short(here, std::iter::once(from).chain(ends).collect());
        }
        fallen.pop();
    }
    let insets = (from == 0).then(|| &at.begins(here.slot).insets);
    let placed = fallen.iter().enumerate().map(|(number, line)| {
        let inset = insets.and_then(|insets| insets.get(number)).copied();
        let breaks = (paragraph.breaks[line.from], paragraph.breaks[line.to]);
        let last = line.to + 1 == paragraph.breaks.len();
        let on = here.column.line(here.slot + number);
        let inset = inset.unwrap_or(row.indent);
        place(here, &on, breaks, (inset, last), line.fit)
    });
    placed.collect()
}

/// Lines that end where a panel must, though the best lines from there on do not: divided anew in as many, or else the
/// last of them cut short. `breaks` are those between them.
fn cut_short(here: &ProseContext<'_>, breaks: Vec<usize>) -> Vec<ProseLine> {
    let (from, to) = (breaks[0], breaks[breaks.len() - 1]);
    let number = |at: usize| (from == 0).then_some(at);
    let breaks = lines_in(here, (from, to), number(0), breaks.len() - 1).unwrap_or(breaks);
    let lines = breaks.windows(2).enumerate().filter_map(|(at, pair)| {
        let inset = inset_of(here, number(at));
        line_between(here, (pair[0], pair[1]), inset, false)
    });
    lines.collect()
}

/// Places a line between two breaks that stands in so far, as its paragraph's last or not.
pub(super) fn place(
    here: &ProseContext<'_>,
    setting: &Setting,
    (from, to): (ParagraphBreak, ParagraphBreak),
    (inset, last): (Length, bool),
    fit: LineFit,
) -> ProseLine {
    let row = here.row;
    // As in a mirror where the part reads from right to left: there a line begins at the left, too.
    let style = mirror::style_seen(here.style, here.reads);
    let setting = &mirror::setting_seen(setting, here.reads);
    let shaped = &row.shaped;
    let text = from.next..to.end;
    let hyphen = to.parts.adds_hyphen();
    let hanging = Hanging::new(here.shaper, shaped, &style, here.reads);
    let words = shaped.set(here.shaper, text.clone());
    let mut width = shaped.width_of(here.shaper, &words);
    let mut right = hanging.behind(text.end);
    if hyphen {
        let added = hyphen_width(here, text.end);
        right = hanging.hyphen(added);
        width += added;
    }
    let left = hanging.before(text.start).min(setting.hang_left);
    let right = right.min(setting.hang_right);
    let measure = setting.measure - inset - far_inset(row);
    let net = width - left - right;
    let slack = || shaped.slack(here.shaper, &words);
    let fills = style.align == Align::Justified && !last;
    let spread = match measure - net {
        // What is a hair too long for the measure, its words kerned otherwise than foreseen, is taken in.
        over if over < Length::ZERO => over.max(-slack().shrink),
        free if fills && slack().stretch > Length::ZERO => free,
        _ => Length::ZERO,
    };
    let free = measure - net - spread;
    let before = room_before(row, style.align, inset, free);
    let (x, width) = (setting.left + before - left, width + spread);
    ProseLine {
        text,
        words: Arc::clone(&words),
        x: if here.reads.is_right_to_left() {
            setting.left * 2 + setting.measure - x - width
        } else {
            x
        },
        width,
        measure,
        spread,
        hyphen,
        glued: !last && to.end == to.next,
        last,
        poor: match fit {
            _ if to.parts == Parts::WordByForce => Some(Poor::Broken),
            LineFit::Overfull => Some(Poor::Broken),
            _ if fills && is_loose(measure - net, slack().stretch) => Some(Poor::Loose),
            _ => None,
        },
    }
}

/// Whether a line lacks so much that its spaces, which have so much stretch, become more than three times as wide: a
/// space stretches by half its width.
fn is_loose(lacks: Length, stretch: Length) -> bool {
    lacks > Length::ZERO && lacks > stretch * 4
}

/// How far from the edge of the measure a line begins that stands in so far and has so much room left.
fn room_before(row: &Row, align: Align, inset: Length, free: Length) -> Length {
    match (align, &row.shaped.drop) {
        // A large initial stands before the line, and needs its room there.
        (Align::Right, Some(_)) => free + inset - row.indent,
        (Align::Right, None) => free,
        (Align::Centre, _) => inset + free / 2,
        (Align::Left | Align::Justified | Align::LongestLine | Align::UsualLongest, _) => inset,
    }
}

/// How wide the hyphen is that is added behind a byte.
fn hyphen_width(here: &ProseContext<'_>, end: usize) -> Length {
    let shaped = &here.row.shaped;
    let before = shaped.text[..end].char_indices().next_back();
    let before = before.map_or(0, |(from, _)| from);
    let voice = shaped.voice_at(before).unwrap_or(here.row.voice);
    let context = shaped.context_at(before);
    here.shaper.word("-", voice, context, context.script).width
}
