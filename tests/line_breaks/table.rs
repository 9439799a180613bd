//! Longer random paragraphs against a plain table of all lines: each line with the best of all that may follow it,
//! nothing left out, nothing forgotten.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use proptest::prelude::*;
use versefold::setting::line_breaks::How;

use crate::line_breaks::plain::{Line, Paragraph, Score};
use crate::line_breaks::random::{breaks_from, fall_of, paragraphs, runner};

/// The number of a line in the paragraph (for its measure), where it begins, and how many hyphens stand before it.
type Location = (usize, usize, usize);

/// A line from a place: where it ends, itself, what it costs with all that follows, and which line that is.
type Entry = (usize, Line, Score, Option<usize>);

/// All lines from all places.
struct Table<'a> {
    paragraph: &'a Paragraph,
    entries: BTreeMap<Location, Vec<Entry>>,
}

impl<'a> Table<'a> {
    fn new(paragraph: &'a Paragraph) -> Table<'a> {
        let mut table = Table {
            paragraph,
            entries: BTreeMap::new(),
        };
        for number in (0..=paragraph.first.len()).rev() {
            for from in (0..paragraph.end()).rev() {
                for hyphens in 0..=2 {
                    let place = (number, from, hyphens);
                    let entries = table.lines_at(place);
                    table.entries.insert(place, entries);
                }
            }
        }
        table
    }

    /// The lines of a place, when those of all later places are known.
    fn lines_at(&self, (number, from, hyphens): Location) -> Vec<Entry> {
        let paragraph = self.paragraph;
        let measure = paragraph
            .first
            .get(number)
            .copied()
            .unwrap_or(paragraph.rest);
        let ends = paragraph.ends(from, measure).into_iter();
        let entries = ends.map(|to| {
            let line = paragraph.line(from, to, measure);
            let last = to == paragraph.end();
            let hyphen = paragraph.points[to].hyphen;
            let mut cost = line.cost;
            if hyphens > 0 && (hyphen || last) {
                cost += i128::from(match &paragraph.how {
                    How::Ragged(ragged) => ragged.hyphens_in_a_row,
                    How::Justified(justified) => justified.hyphens_in_a_row,
                });
            }
            let leaves_word = !last && paragraph.is_one_word(to) && !paragraph.is_one_word(from);
            let third = hyphens == 2 && hyphen;
            let before_last = hyphens > 0 && last;
            let (walls, price) = paragraph.walls(
                u32::from(third),
                u32::from(before_last),
                u32::from(leaves_word),
            );
            let behind = if hyphen { (hyphens + 1).min(2) } else { 0 };
            let next = ((number + 1).min(paragraph.first.len()), to, behind);
            let best = self.best(next, Some(line));
            let (more, walls_more, cost_more) = best.map_or((0, 0, 0), |(score, _)| score);
            let score = (
                u32::from(line.overfull) + more,
                walls + walls_more,
                cost + price + cost_more,
            );
            (to, line, score, best.map(|(_, to)| to))
        });
        entries.collect()
    }

    /// The best line from a place, behind a line or none: what it costs, with all that follows; where it ends.
    fn best(&self, place: Location, behind: Option<Line>) -> Option<(Score, usize)> {
        let entries = self.entries.get(&place)?.iter();
        let ways = entries.map(|&(to, line, (overfull, walls, cost), _)| {
            let last = to == self.paragraph.end();
            let between = behind.map_or(0, |behind| self.paragraph.between(behind, line, last));
            ((overfull, walls, cost + between), to)
        });
        ways.min_by_key(|&(score, to)| (score, Reverse(to)))
    }

    /// The best division from a point, with its score.
    fn best_from(&self, start: usize) -> Option<(Score, Vec<usize>)> {
        let usual = self.paragraph.first.len();
        let mut number = if start == 0 { 0 } else { usual };
        let (score, mut to) = self.best((number, start, 0), None)?;
        let (mut from, mut hyphens) = (start, 0);
        let mut breaks = Vec::new();
        loop {
            breaks.push(to);
            let entries = self.entries.get(&(number, from, hyphens))?;
            let (.., next) = entries.iter().find(|entry| entry.0 == to)?;
            let Some(next) = *next else {
                return Some((score, breaks));
            };
            hyphens = if self.paragraph.points[to].hyphen {
                (hyphens + 1).min(2)
            } else {
                0
            };
            number = (number + 1).min(usual);
            (from, to) = (to, next);
        }
    }
}

#[test]
fn a_plain_table_of_all_lines_finds_the_same() {
    let lines = std::cell::Cell::new(0);
    runner(150)
        .run(&paragraphs(60, 2), |paragraph| {
            let fall = fall_of(&paragraph);
            let table = Table::new(&paragraph);
            for start in 0..paragraph.end() {
                let breaks = breaks_from(&fall, start);
                let cost = fall.cost_from(start);
                let told = (cost.overfull, cost.breaches, i128::from(cost.ordinary));
                lines.set(lines.get() + breaks.len());
                // The plain score holds table and pass alike to the definitions.
                prop_assert_eq!(told, paragraph.score(start, &breaks), "from {}", start);
                prop_assert_eq!(
                    Some((told, breaks)),
                    table.best_from(start),
                    "from {}",
                    start
                );
            }
            Ok(())
        })
        .unwrap_or_else(|failure| panic!("{failure}"));
    assert!(lines.get() > 50_000, "only {} lines", lines.get());
}
