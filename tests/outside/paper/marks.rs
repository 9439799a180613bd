//! The marks of a print sheet, found in its pixels alone.
//!
//! Beside the two edges that folds run to, a mark is a column of pixels that is dark over 40 % of a mark's 5 mm or more:
//! dashes are, the triangles that tell where to score and small letters are not.

use super::grey::Grey;
use super::said::Edges;

pub const DPI: f64 = 150.0;
pub const MM: f64 = DPI / 25.4;
pub const PT: f64 = DPI / 72.0;
/// How long a mark is, and how dark.
const MARK: f64 = 5.0 * MM;
const DARK: u8 = 160;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// An unbroken line: where paper is cut, or the upright of a register cross.
    Whole,
    Valley,
    Mountain,
}

#[derive(Clone, Debug)]
pub struct Mark {
    pub x: f64,
    pub kind: Kind,
    /// Whether a triangle beside it says that it is scored on this side.
    pub scored: bool,
}

/// What is seen of a side's marks, all in pixels.
pub struct Seen {
    pub trim: Edges,
    pub head: Vec<Mark>,
    pub foot: Vec<Mark>,
    /// Level lines beyond the left and the right of the paper, by their heights.
    pub level: [Vec<f64>; 2],
    /// Upright ones there: crosses.
    pub upright: [Vec<f64>; 2],
}

/// The middles of all stretches of positions that are hit.
fn middles(hits: impl Iterator<Item = bool>) -> Vec<f64> {
    let mut found: Vec<(usize, usize)> = Vec::new();
    for (at, _) in hits.enumerate().filter(|hit| hit.1) {
        match found.last_mut() {
            Some(last) if last.1 + 1 >= at => last.1 = at,
            _ => found.push((at, at)),
        }
    }
    let middle = |(from, to): (usize, usize)| (from + to) as f64 / 2.0;
    found.into_iter().map(middle).collect()
}

fn longest_run(pixels: impl Iterator<Item = u8>) -> usize {
    let (mut longest, mut run) = (0, 0);
    for pixel in pixels {
        run = if pixel < DARK { run + 1 } else { 0 };
        longest = longest.max(run);
    }
    longest
}

/// The marks in a band of rows, from one height on.
fn in_band(page: &Grey, from: f64) -> Vec<Mark> {
    let rows = from.round() as usize..(from + MARK).round() as usize;
    let column = |x: usize| rows.clone().map(move |y| page.at(x, y));
    let dark = |x: usize| column(x).filter(|&pixel| pixel < DARK).count() as f64;
    let is_mark = |x: usize| dark(x) >= 0.4 * MARK;
    let marks = middles((0..page.wide).map(is_mark)).into_iter().map(|x| {
        let columns = [x.floor(), x.ceil()].map(|x| x as usize);
        let runs = columns.map(|x| longest_run(column(x)) as f64);
        let run = runs[0].max(runs[1]);
        let middle = (from + MARK / 2.0) as usize;
        // A triangle is solid from half a millimetre to two beside its mark.
        let beside = (x + 1.0 * MM) as usize..(x + 1.8 * MM) as usize;
        let scored = beside.clone().all(|x| page.at(x, middle) < DARK);
        Mark {
            x,
            kind: match run {
                run if run > 0.85 * MARK => Kind::Whole,
                run if run > 3.0 * PT => Kind::Mountain,
                _ => Kind::Valley,
            },
            scored,
        }
    });
    marks.collect()
}

pub fn seen(page: &Grey, trim: Edges, bleed: f64) -> Seen {
    let off = bleed.max(2.0 * MM);
    // Beside the paper and its bleed, without what stands above the head and below the foot.
    let rows = (trim.head - off).round() as usize..(trim.foot + off).round() as usize;
    let beside = [
        0..(trim.left - off - 1.0) as usize,
        (trim.right + off + 2.0) as usize..page.wide,
    ];
    let long = |run: usize| run as f64 > 0.9 * MARK;
    let level = beside.clone().map(|columns| {
        let row = |y: usize| columns.clone().map(move |x| page.at(x, y));
        middles((0..page.high).map(|y| rows.contains(&y) && long(longest_run(row(y)))))
    });
    let upright = beside.map(|columns| {
        let column = |x: usize| rows.clone().map(move |y| page.at(x, y));
        middles((0..page.wide).map(|x| columns.contains(&x) && long(longest_run(column(x)))))
    });
    Seen {
        trim,
        head: in_band(page, trim.head - off - MARK),
        foot: in_band(page, trim.foot + off),
        level,
        upright,
    }
}

pub fn folds(marks: &[Mark]) -> impl Iterator<Item = &Mark> {
    marks.iter().filter(|mark| mark.kind != Kind::Whole)
}

pub fn places(marks: &[Mark]) -> impl Iterator<Item = f64> {
    marks.iter().map(|mark| mark.x)
}
