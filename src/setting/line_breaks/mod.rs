//! Falls: how a paragraph falls into lines at one measure, from every place in it.
//!
//! A panel may end wherever a line ends, and the next panel begins there with a new best setting of the rest. So
//! [`best_breaks`] finds the best division into lines not of the whole paragraph alone, but of what follows each
//! [`Point`], in one pass from the end to the beginning (optimum division of paragraphs: D. E. Knuth and M. F.
//! Plass, "Breaking Paragraphs into Lines", 1981; there the pass runs forward, from one beginning). It knows no
//! fonts and no words: points, lengths and costs are whole numbers, so that every machine divides alike.
//!
//! # What is best
//!
//! The division of least [`BreakCost`]. What a line and its neighbour cost is told by [`Ragged`] or [`Justified`]. Of
//! divisions that cost the same the one with the latest breaks is taken: the first line as full as can be, then the
//! second, and so on.
//!
//! # Walls
//!
//! Some things are walls:
//!
//! - more than two hyphenated lines in a row, once for each line past the second;
//! - a hyphen at the end of the last line but one;
//! - a last line of one word or the rest of one (words are what spaces part), unless all that is divided is one word.
//!
//! Ragged lines breach them only where nothing else is possible, and then as seldom as possible, whatever that would
//! save: each is counted in [`BreakCost::breaches`], the last as one, the others as two. Justified lines breach them
//! rather than have a hole: each has a price. That of the first ([`Justified::ladder`]) is less than that of a line with
//! spaces three times as wide as usual, that of the others ([`Justified::wall`]) less than of one with spaces twice as wide.
//!
//! A line that is too long for its measure is worse than all of these ([`BreakCost::overfull`]). It is made only where
//! no line from its beginning would fit, and then it is the narrowest there is.
//!
//! A division begins afresh at the place it is asked from: no line and no hyphen stands before it.
//!
//! # Measures that change
//!
//! In a shaped text area each line has the measure of the slot that it stands on ([`SlotMeasures`]). What follows a line then
//! depends on its slot too, so that the pass lists lines by point and slot. Costs and walls are the same; edges are
//! compared by what each line lacks of its own measure, and by a share of the widest.
//!
//! # Time and memory
//!
//! Both grow with the number of points, times the number of points on one line.

mod best;
mod justified;
mod pass;
mod ragged;
mod reach;

pub use best::{BrokenLine, LineBreaks, LineFit};
pub use justified::{Justified, Ratio, ratio};
pub use ragged::Ragged;

use std::ops::{Add, Sub};

use crate::names::Length;

/// A place where a paragraph may be broken; the first is its beginning, the last its end.
///
/// Lengths and counts grow along the paragraph; only an added hyphen may make an `end` pass the next one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Point {
    /// Where a line that ends here ends, along the unbroken paragraph at its natural width: with an added hyphen
    /// counted, without what hangs out.
    pub end: Length,
    /// Where a line that begins here begins, along the same unbroken line.
    pub start: Length,
    /// What all word spaces before `end` may give.
    pub slack_to_end: Slack,
    /// What all word spaces before `start` may give; those that a break here passes over lie between the two.
    pub slack_to_start: Slack,
    /// How many word spaces lie before `end`.
    pub words_to_end: u32,
    /// How many word spaces lie before `start`.
    pub words_to_start: u32,
    /// What a break here costs besides: see [`Ragged`] and [`Justified`]. Of no account at the paragraph's end.
    pub penalty: i32,
    /// Whether a line that ends here ends in a hyphen, added or hard.
    pub hyphen: bool,
}

/// What word spaces may give.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Slack {
    /// How much wider they may become.
    pub stretch: Length,
    /// How much narrower.
    pub shrink: Length,
}

impl Sub for Slack {
    type Output = Slack;
    fn sub(self, other: Slack) -> Slack {
        Slack {
            stretch: self.stretch - other.stretch,
            shrink: self.shrink - other.shrink,
        }
    }
}

/// How long lines may be.
#[derive(Clone, Copy, Debug)]
pub struct Measures<'a> {
    /// The measures of the paragraph's first lines, beside an indent or a large initial: of those that are set from
    /// its very beginning. From every later place all lines have the measure `rest`.
    pub first: &'a [Length],
    /// The measure of all other lines.
    pub rest: Length,
}

/// How long lines may be on the slots of a shaped text area, which words fill one after the other.
///
/// A division from a place within the paragraph begins on the first slot, as a panel does; only the paragraph's own
/// beginning may stand on any of them.
#[derive(Clone, Copy, Debug)]
pub struct SlotMeasures<'a> {
    /// The measure of each slot; lines beyond the last have that of the last. Never empty.
    pub measures: &'a [Length],
    /// For each slot that the paragraph may begin on: how far its first lines then stand in, beside an indent or a
    /// large initial.
    pub insets: &'a [Vec<Length>],
}

impl SlotMeasures<'_> {
    /// The measure of a line on a slot.
    fn measure(&self, slot: usize) -> Length {
        let measure = self.measures.get(slot).or(self.measures.last());
        measure.copied().unwrap_or_default()
    }

    /// The widest measure: what is wide among these lines is told by it.
    fn widest(&self) -> Length {
        let first = self.measures.first().copied().unwrap_or_default();
        self.measures.iter().copied().fold(first, Length::max)
    }

    /// The widest measure that the line of this number of the whole paragraph may have.
    fn widest_first(&self, number: usize) -> Length {
        let first = self.insets.iter().enumerate().map(|(slot, insets)| {
            let inset = insets.get(number).copied().unwrap_or_default();
            self.measure(slot + number) - inset
        });
        let widest = first.reduce(Length::max);
        widest.unwrap_or_default()
    }

    /// The first slot of the last stretch of slots that are all of one measure.
    fn last_that_differs(&self) -> usize {
        let last = self.measures.last();
        let alike = self.measures.iter().rev();
        let alike = alike.take_while(|measure| Some(*measure) == last).count();
        self.measures.len().saturating_sub(alike.max(1))
    }
}

/// How lines are set, and so what they cost.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// At their natural width.
    Ragged(Ragged),
    /// Filled to the measure, the last line apart.
    Justified(Justified),
}

/// What a division costs. Less is better, and the first field counts most.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct BreakCost {
    /// Lines too long for their measure.
    pub overfull: u32,
    /// How often another wall is breached.
    pub breaches: u32,
    /// The sum of the ordinary costs. A line's are held below 2⁴², so that sums stay far from the end of the numbers.
    pub ordinary: i64,
}

impl BreakCost {
    /// An ordinary cost.
    fn ordinary(ordinary: i64) -> BreakCost {
        BreakCost {
            ordinary,
            ..BreakCost::default()
        }
    }
}

impl Add for BreakCost {
    type Output = BreakCost;
    fn add(self, other: BreakCost) -> BreakCost {
        BreakCost {
            overfull: self.overfull + other.overfull,
            breaches: self.breaches + other.breaches,
            ordinary: self.ordinary.saturating_add(other.ordinary),
        }
    }
}

/// What a line costs by itself, whatever stands before and after it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LineCost {
    /// The cost, with the walls that the line breaches alone.
    pub cost: BreakCost,
    /// Whether it fits its measure.
    pub fit: LineFit,
    /// What the line beside it compares itself with: see [`Way::between`].
    look: i32,
}

/// A way of setting, as the pass sees it.
trait Way {
    /// Where a line that ends here ends when it is as narrow as can be.
    fn narrow_end(&self, point: &Point) -> Length;

    /// Where a line that begins here begins, along the same unbroken line.
    fn narrow_start(&self, point: &Point) -> Length;

    /// What a line costs by itself, its penalty counted: the ordinary cost, whether it fits, its look.
    fn line(&self, line: &Line<'_>) -> (i64, LineFit, i32);

    /// What two neighbouring lines cost together, by their looks; never below nothing.
    fn between(&self, earlier: i32, later: i32, later_is_last: bool) -> i64;

    /// What a hyphen costs that follows on a hyphen; the paragraph's end counts as one.
    fn hyphens_in_a_row(&self) -> i64;

    /// What a wall costs that is breached.
    fn breach(&self, wall: Wall) -> BreakCost;

    /// The most that neighbours ever cost together; nothing where that is not little.
    fn most_between(&self) -> Option<i64>;

    /// Less than any line costs that is not longer than this and has no more slack, set to `measure`, where no penalty is
    /// below nothing.
    fn least(&self, longest: Length, slack: Slack, measure: Length) -> i64;
}

/// What is done only where little else is possible.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Wall {
    /// A hyphen after two others.
    HyphensInARow,
    /// A hyphen before the last line.
    HyphenBeforeLast,
    /// A last line of one word.
    OneWordLast,
}

/// A line between two points, at its natural width.
struct Line<'a> {
    to: &'a Point,
    /// Whether it is the paragraph's last.
    last: bool,
    measure: Length,
    natural: Length,
    slack: Slack,
}

impl<'a> Line<'a> {
    /// The line from one point to a later one.
    fn new(points: &'a [Point], from: usize, to: usize, measure: Length) -> Line<'a> {
        let (start, end) = (&points[from], &points[to]);
        Line {
            to: end,
            last: to + 1 == points.len(),
            measure,
            natural: end.end - start.start,
            slack: end.slack_to_end - start.slack_to_start,
        }
    }
}

/// What the line from point `from` to the later point `to` costs by itself, set to `measure`.
fn line_cost_by<W: Way>(
    points: &[Point],
    from: usize,
    to: usize,
    measure: Length,
    way: &W,
) -> LineCost {
    let (ordinary, fit, look) = way.line(&Line::new(points, from, to, measure));
    let mut cost = BreakCost {
        overfull: u32::from(fit == LineFit::Overfull),
        ..BreakCost::ordinary(ordinary)
    };
    if to + 1 < points.len() && is_one_word(points, to) && !is_one_word(points, from) {
        cost = cost + way.breach(Wall::OneWordLast);
    }
    LineCost { cost, fit, look }
}

/// Whether no space lies between a point and the paragraph's end.
fn is_one_word(points: &[Point], from: usize) -> bool {
    let end = points.last().map_or(0, |last| last.words_to_end);
    points[from].words_to_start >= end
}

/// What the line from point `from` to the later point `to` costs by itself, set to `measure`.
///
/// Nothing where there are no such points.
pub fn line_cost(
    points: &[Point],
    from: usize,
    to: usize,
    measure: Length,
    how: &How,
) -> Option<LineCost> {
    if from >= to || to >= points.len() {
        return None;
    }
    Some(match how {
        How::Ragged(ragged) => line_cost_by(points, from, to, measure, &ragged.way(measure)),
        How::Justified(justified) => line_cost_by(points, from, to, measure, justified),
    })
}

/// Divides a paragraph into lines, from every point on.
pub fn best_breaks(points: &[Point], measures: &Measures<'_>, how: &How) -> LineBreaks {
    let first = measures.first.iter();
    let insets = first.map(|&measure| measures.rest - measure).collect();
    let along = SlotMeasures {
        measures: &[measures.rest],
        insets: &[insets],
    };
    best_breaks_along(points, &along, how)
}

/// Divides a paragraph into lines on the slots of a shaped area: from every point on, beginning on the first slot,
/// and the whole of it from every slot ([`LineBreaks::lines_on`]).
pub fn best_breaks_along(points: &[Point], along: &SlotMeasures<'_>, how: &How) -> LineBreaks {
    match how {
        How::Ragged(ragged) => pass::run(points, along, &ragged.way(along.widest())),
        How::Justified(justified) => pass::run(points, along, justified),
    }
}
