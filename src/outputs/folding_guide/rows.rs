//! How a side of the strip is cut into rows that a page has room for.

use crate::names::{FoldKind, Length, PanelName, Side};
use crate::paper::Strip;

/// Some panels of a side that follow each other.
pub(super) struct StripRow {
    pub side: Side,
    /// From left to right.
    pub panels: Vec<PanelName>,
    /// Where they begin and end, from the left edge of that side.
    pub from: Length,
    pub to: Length,
}

/// What a page has room for.
pub(super) struct Room {
    pub wide: Length,
    /// For all rows together.
    pub high: Length,
    /// What stands above and below each row.
    pub around: Length,
}

/// The rows of both sides and the scale they are drawn at.
pub(super) struct Rows {
    pub rows: Vec<StripRow>,
    /// In hundred thousandths.
    pub scale: i64,
}

/// What a scale is a share of.
pub(super) const WHOLE: i64 = 100_000;
/// The narrowest panel that is still easy to read, and of a long strip.
const EASY: Length = Length::mm(22);
const NARROW: Length = Length::mm(15);
/// From so many panels on a strip is long.
const LONG: u16 = 41;
/// How high a row may be, and one of panels that are much higher than wide.
const HIGH: Length = Length::mm(72);
const HIGHEST: Length = Length::mm(130);
/// Panels are never drawn larger than at half their size.
const LARGEST: i64 = WHOLE / 2;

impl Rows {
    /// The rows of the printed sides, on one page if that makes them only a little smaller.
    pub fn new(strip: &Strip, room: &Room) -> Rows {
        let paper = strip.paper();
        let count = paper.panels.per_side;
        let least = if count < LONG { EASY } else { NARROW };
        let mut rows = even(strip, count, panels_in(room.wide, least));
        let mut scale = scale_of(strip, &rows, room.wide);
        // Of high panels that are drawn so small, more stand in a row.
        let drawn = paper.widest().scaled(scale, WHOLE);
        if rows.len() > strip.sides().len() && drawn < least {
            rows = even(strip, count, panels_in(room.wide, drawn));
            scale = scale.min(scale_of(strip, &rows, room.wide));
        }
        let on_one = room.high / rows.len() as i64 - room.around;
        let on_one = by_height(strip, on_one);
        if on_one * 5 >= scale * 4 {
            scale = scale.min(on_one);
        }
        Rows { rows, scale }
    }
}

/// How many panels of a width stand in a row.
fn panels_in(width: Length, panel: Length) -> u16 {
    let panels = width.units() / panel.units().max(1);
    u16::try_from(panels.max(2)).unwrap_or(u16::MAX)
}

/// The scale at which panels are as high as that.
fn by_height(strip: &Strip, high: Length) -> i64 {
    high.units() * WHOLE / strip.paper().panel_height.units()
}

/// The largest scale at which rows have room in a width and are not too high.
fn scale_of(strip: &Strip, rows: &[StripRow], width: Length) -> i64 {
    let longest = rows.iter().map(|row| row.to - row.from);
    let longest = longest.fold(Length::mm(1), Length::max);
    let by_width = width.units() * WHOLE / longest.units();
    let mut scale = by_width.min(by_height(strip, HIGH));
    if strip.paper().narrowest().scaled(scale, WHOLE) < Length::mm(9) {
        scale = by_width.min(by_height(strip, HIGHEST));
    }
    scale.clamp(1, LARGEST)
}

/// As few rows as can be, about as long as each other.
fn even(strip: &Strip, count: u16, most: u16) -> Vec<StripRow> {
    let most = most.min(count);
    let least = count.div_ceil(count.div_ceil(most));
    let ways = (least..=most).map(|most| {
        let sides = strip.sides().iter();
        let rows = sides.flat_map(|&side| cut(strip, side, most));
        rows.collect::<Vec<StripRow>>()
    });
    ways.min_by_key(Vec::len).unwrap_or_default()
}

/// The rows of a side in the order of reading; what is seen at once is not parted while that is possible.
fn cut(strip: &Strip, side: Side, most: u16) -> Vec<StripRow> {
    let count = strip.paper().panels.per_side;
    let mut rows = Vec::new();
    let mut first = 1;
    while first <= count {
        let mut last = count.min(first + most - 1);
        let parts = strip.fold_seen(side, last) == Some(FoldKind::Valley);
        if last < count && parts && last > first {
            last -= 1;
        }
        let panels = (first..=last).map(|number| PanelName { side, number });
        let mut panels: Vec<PanelName> = panels.collect();
        panels.sort_by_key(|&panel| strip.left_of(panel));
        let edges = panels.iter().map(|&panel| {
            let left = strip.left_of(panel);
            (left, left + strip.width_of(panel))
        });
        let (from, to) = edges.fold((strip.length(), Length::ZERO), |(from, to), edge| {
            (from.min(edge.0), to.max(edge.1))
        });
        rows.push(StripRow {
            side,
            panels,
            from,
            to,
        });
        first = last + 1;
    }
    rows
}
