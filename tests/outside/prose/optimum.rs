//! Justified prose beside the plain optimum: the article's sum of demerits over the same words and the same places to
//! divide them, found by a plain table, without any wall and with no price but the article's own (D. E. Knuth and M.
//! F. Plass, "Breaking Paragraphs into Lines", 1981; from memory: a hyphen costs π = 50, and α = 3000 after another).

use versefold::names::Length;
use versefold::setting::line_breaks::{Point, ratio};
use versefold::setting::{ProseLine, Row};
use versefold::typeface::Hyphenator;

use super::SIZE_PT;
use super::ours::SetSample;
use super::sample::samples;

const MEASURES_MM: [f64; 3] = [60.0, 83.0, 110.0];
/// What a hyphen costs, and one after another.
const HYPHEN: f64 = 50.0;
const IN_A_ROW: f64 = 3_000.0;
/// Breaks with a penalty from here on are made only where a word is wider than the measure.
const EMERGENCY: i32 = 900_000;

/// What can be counted of the spaces of filled lines.
#[derive(Clone, Copy, Debug, Default)]
struct Spaces {
    lines: usize,
    hyphens: usize,
    /// Those more than twice as wide as the face's own.
    wide: usize,
    /// The widest, by the face's own.
    loosest: f64,
    /// Last lines of one word, and those shorter than the next indent.
    one_word_last: usize,
    short_last: usize,
}

impl Spaces {
    fn add(&mut self, wide: f64, spaces: usize, hyphen: bool) {
        self.lines += 1;
        self.hyphens += usize::from(hyphen);
        if spaces > 0 {
            self.loosest = self.loosest.max(wide);
            self.wide += if wide > 2.001 { spaces } else { 0 };
        }
    }

    fn count(&mut self, other: Spaces) {
        self.lines += other.lines;
        self.hyphens += other.hyphens;
        self.wide += other.wide;
        self.loosest = self.loosest.max(other.loosest);
        self.one_word_last += other.one_word_last;
        self.short_last += other.short_last;
    }
}

/// How wide the spaces of a line are, by the face's own; a space may take half of its width once to be stretched by one.
fn wide(points: &[Point], (from, to): (usize, usize), measure: Length) -> Option<f64> {
    let found = ratio(points, from, to, measure)?;
    let part = found.part.units() as f64 / found.of.units() as f64;
    Some(if part < 0.0 {
        1.0 + part / 3.0
    } else {
        1.0 + part / 2.0
    })
}

/// The article's demerits of a line; nothing where it is too long.
fn demerits(points: &[Point], (from, to): (usize, usize), measure: Length) -> Option<f64> {
    let last = to + 1 == points.len();
    let badness = match ratio(points, from, to, measure) {
        Some(ratio) => {
            let part = ratio.part.units() as f64 / ratio.of.units() as f64;
            if part < -1.0 {
                return None;
            }
            100.0 * part.abs().powi(3)
        }
        None if points[to].end - points[from].start > measure => return None,
        None => 1e9,
    };
    let penalty = match points[to].penalty {
        _ if last => 0.0,
        forced if forced >= EMERGENCY => 1e9,
        _ if points[to].hyphen => HYPHEN,
        _ => 0.0,
    };
    Some((1.0 + badness + penalty).powi(2))
}

/// Where the lines of the plain optimum end; nothing where the words do not go into the measure.
fn optimum(points: &[Point], first: Length, rest: Length) -> Option<Vec<usize>> {
    let mut best: Vec<Option<(f64, usize)>> = vec![None; points.len()];
    best[0] = Some((0.0, 0));
    for from in 0..points.len() - 1 {
        let Some((sum, _)) = best[from] else { continue };
        let measure = if from == 0 { first } else { rest };
        for to in from + 1..points.len() {
            let Some(mut cost) = demerits(points, (from, to), measure) else {
                if points[to].end - points[from].start > measure * 2 {
                    break;
                }
                continue;
            };
            if points[from].hyphen && points[to].hyphen {
                cost += IN_A_ROW;
            }
            if best[to].is_none_or(|(known, _)| sum + cost < known) {
                best[to] = Some((sum + cost, from));
            }
        }
    }
    let mut ends = vec![points.len() - 1];
    while let Some(&at) = ends.last().filter(|at| **at > 0) {
        ends.push(best[at]?.1);
    }
    ends.reverse();
    Some(ends)
}

/// The spaces of the plain optimum, and how wide the widest is.
fn plainly(points: &[Point], first: Length, rest: Length) -> Option<Spaces> {
    let mut spaces = Spaces::default();
    for pair in optimum(points, first, rest)?.windows(2) {
        let measure = if pair[0] == 0 { first } else { rest };
        spaces_of(points, (pair[0], pair[1]), measure, &mut spaces);
    }
    Some(spaces)
}

/// Counts a line.
fn spaces_of(points: &[Point], (from, to): (usize, usize), measure: Length, spaces: &mut Spaces) {
    let count = points[to].words_to_end - points[from].words_to_start;
    if to + 1 < points.len() {
        let wide = wide(points, (from, to), measure).unwrap_or(0.0);
        spaces.add(wide, count as usize, points[to].hyphen);
    } else if from > 0 {
        spaces.one_word_last += usize::from(count == 0);
        let is_short = points[to].end - points[from].start < Length::pt(SIZE_PT as i64);
        spaces.short_last += usize::from(is_short);
    }
}

/// The spaces of our own lines.
fn counted(lines: &[ProseLine], row: &Row, space: Length) -> Spaces {
    let mut spaces = Spaces::default();
    for line in lines {
        let count = row.shaped.text[line.text.clone()].matches(' ').count();
        if !line.last {
            let wide = 1.0 + line.spread.as_pt() / count.max(1) as f64 / space.as_pt();
            spaces.add(wide, count, line.hyphen);
        } else if lines.len() > 1 {
            spaces.one_word_last += usize::from(count == 0);
            spaces.short_last += usize::from(line.width < row.voice.size);
        }
    }
    spaces
}

/// Ours and those of the optimum in one column, and the paragraphs where ours have a hole that need not be.
fn beside_optimum(set: &SetSample, measure: f64, holes: &mut Vec<String>) -> (Spaces, Spaces) {
    let number = set.column(measure);
    let setting = set.part.columns[number].line(0);
    let (mut all, mut all_plain) = (Spaces::default(), Spaces::default());
    for (lines, row) in set.lines(number).iter().zip(set.part.rows.iter()) {
        let paragraph = row.paragraph.as_ref().expect("all is prose");
        let points = paragraph.points_at(setting.hang_left, setting.hang_right);
        let (first, rest) = (setting.measure - row.first_indent, setting.measure);
        let Some(plain) = plainly(&points, first, rest) else {
            continue;
        };
        let ours = counted(lines, row, set.space());
        if ours.loosest > plain.loosest.max(4.0) + 0.01 {
            holes.push(format!(
                "{} against {}: {}",
                ours.loosest, plain.loosest, row.shaped.text
            ));
        }
        all.count(ours);
        all_plain.count(plain);
    }
    (all, all_plain)
}

/// At each measure; of few and short texts a few lines are left to chance.
#[test]
fn justified_prose_has_hardly_more_holes_than_an_optimum_without_walls() {
    let mut holes = Vec::new();
    let mut totals = [(Spaces::default(), Spaces::default()); MEASURES_MM.len()];
    for sample in samples() {
        if !Hyphenator::knows(&sample.language) {
            continue;
        }
        let set = SetSample::of(&sample, &MEASURES_MM, "align = \"justified\"");
        for (measure, total) in MEASURES_MM.iter().zip(&mut totals) {
            let (ours, plain) = beside_optimum(&set, *measure, &mut holes);
            println!("{} {measure}\n  {ours:?}\n  {plain:?}", sample.name);
            total.0.count(ours);
            total.1.count(plain);
        }
    }
    for (measure, (ours, plain)) in MEASURES_MM.iter().zip(&totals) {
        let told = format!("{measure} mm\n  ours  {ours:?}\n  plain {plain:?}");
        println!("{told}");
        assert!(ours.lines > 200, "{told}");
        assert!(ours.wide * 10 <= plain.wide * 13 + 200, "{told}");
        assert!(ours.hyphens * 100 <= plain.hyphens * 90, "{told}");
        assert!(ours.one_word_last <= plain.one_word_last, "{told}");
        assert!(ours.short_last <= plain.short_last, "{told}");
    }
    assert_eq!(holes, Vec::<String>::new());
}
