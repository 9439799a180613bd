//! Shaped text areas put into random books: slots in boxes, where rows are higher on some than on others, find no room
//! on a few, and paragraphs fall into other lines from each.

use versefold::division::{AreaFacts, Problem, RowFacts};
use versefold::names::HalfLines;
use versefold::stack::{Boxes, Filled, Line, Start, Takes};

use super::brute::{Carried, area};
use super::generator::Dice;

/// A quarter of the books, more of those with paragraphs, get one or two shapes, in which the words of some of their
/// panels stand.
pub fn add(mut problem: Problem, dice: &mut Dice) -> Problem {
    let prose = problem.rows.iter().any(|row| row.prose);
    if problem.rows.is_empty() || !dice.chance(if prose { 35 } else { 20 }) {
        return problem;
    }
    // An even share of the words in whole lines.
    let whole = problem.depth(0, 0, problem.rows.len()).count() as usize;
    let share = whole / problem.panels.len() / 2 + 1;
    for _ in 0..dice.one_of(&[1, 1, 2]) {
        let column = problem.stack.columns.len();
        let slots = (share * dice.between(14, 56) / 10).clamp(1, 12);
        let boxes = boxes(dice, slots);
        let shape = AreaFacts {
            column,
            capacity: HalfLines::lines(boxes.slots()),
        };
        let high = dice.between(0, 30);
        let height = |row: &RowFacts| match row.prose {
            true => 0,
            false => 1 + usize::from(dice.chance(high)),
        };
        let heights: Vec<usize> = problem.rows.iter().map(height).collect();
        let filled = filled(dice, &problem.rows, &heights, boxes);
        problem.stack.columns.push(filled);
        let chance = dice.between(30, 100);
        for panel in &mut problem.panels {
            for area in panel
                .area
                .iter_mut()
                .chain(panel.shared.iter_mut().flatten())
            {
                if dice.chance(chance) {
                    *area = shape;
                }
            }
        }
    }
    problem
}

/// The same words without the shape: as they stand on the first slot and beyond the last.
pub fn unshape(problem: &mut Problem, column: usize) {
    let shaped = &problem.stack.columns[column];
    if shaped.boxes.is_plain() {
        return;
    }
    let mut plain = Filled::default();
    for start in &shaped.starts {
        plain.starts.push(match *start {
            Start::Row(_) => Start::Row(plain.takes.len() as u32),
            within => within,
        });
        if let Start::Row(first) = *start {
            let first = first as usize;
            plain.takes.push(Takes {
                skip: HalfLines::ZERO,
                height: shaped.takes[first + shaped.boxes.slots()].height,
                line: shaped.takes[first].line,
            });
        }
    }
    let height = HalfLines::LINE;
    let lines = shaped.lines.iter().map(|line| Line { height, ..*line });
    plain.lines = lines.collect();
    problem.stack.columns[column] = plain;
}

/// Whether the words of a panel stand in a shape, and in which.
pub fn shape<'a>(problem: &'a Problem, panel: usize, carried: &Carried) -> Option<&'a Filled> {
    let area = area(problem, panel, carried).filter(|_| !carried.rows.is_empty())?;
    let column = &problem.stack.columns[area.column];
    (!column.boxes.is_plain()).then_some(column)
}

/// Whether words of a book stand in a shape.
pub fn has_words(problem: &Problem, book: &[Carried]) -> bool {
    let mut panels = book.iter().enumerate();
    panels.any(|(panel, carried)| shape(problem, panel, carried).is_some())
}

/// So many slots in boxes.
fn boxes(dice: &mut Dice, slots: usize) -> Boxes {
    let most = if dice.chance(25) { slots } else { 4 };
    let mut boxes = Vec::new();
    let mut left = slots;
    while left > 0 {
        boxes.push(dice.between(1, most.min(left)));
        left -= boxes[boxes.len() - 1];
    }
    Boxes::of(boxes)
}

/// How rows stand on slots in boxes, those that are no paragraphs so many lines high beyond the last.
fn filled(dice: &mut Dice, rows: &[RowFacts], heights: &[usize], boxes: Boxes) -> Filled {
    let mut filled = Filled {
        boxes,
        ..Filled::default()
    };
    let mut place = 0;
    while place < rows.len() {
        filled.starts.push(Start::Row(filled.takes.len() as u32));
        if !rows[place].prose {
            let takes = row(dice, heights[place], &filled.boxes);
            filled.takes.extend(takes);
            place += 1;
            continue;
        }
        let inner = rows[place + 1..].iter().take_while(|row| row.inner).count();
        let end = place + 1 + inner;
        let mut paragraph = Paragraph {
            lines: &mut filled.lines,
            known: Vec::new(),
            end,
        };
        let here = paragraph.takes(dice, place, filled.boxes.slots());
        filled.takes.extend(here);
        for inner in place + 1..end {
            filled
                .starts
                .push(Start::Within(paragraph.break_lines(dice, inner)));
        }
        place = end;
    }
    filled
}

/// A row that is no paragraph: it stands on the next slot that is not too narrow for it and has room for it in its box.
fn row(dice: &mut Dice, lines: usize, boxes: &Boxes) -> Vec<Takes> {
    let (higher, narrow) = (dice.between(0, 50), dice.between(0, 30));
    let stands = |lines: usize| Takes {
        height: HalfLines::lines(lines),
        ..Takes::default()
    };
    let mut takes = vec![stands(lines)];
    let mut behind = takes[0];
    for (slot, end) in boxes.ends().iter().enumerate().rev() {
        let lines = lines + usize::from(dice.chance(higher));
        let has_room = slot + lines <= *end;
        behind = match has_room && !dice.chance(narrow) {
            true => stands(lines),
            false => Takes {
                skip: behind.skip + HalfLines::LINE,
                ..behind
            },
        };
        takes.push(behind);
    }
    takes.reverse();
    takes
}

/// A paragraph that falls into lines.
struct Paragraph<'a> {
    lines: &'a mut Vec<Line>,
    /// Lines that begin at places, each with its place.
    known: Vec<(usize, u32)>,
    /// The place behind it.
    end: usize,
}

impl Paragraph<'_> {
    /// What it takes when it comes to each slot and beyond all.
    fn takes(&mut self, dice: &mut Dice, from: usize, slots: usize) -> Vec<Takes> {
        let mut takes: Vec<Takes> = Vec::new();
        for _ in 0..=slots {
            let behind = takes.last().filter(|_| dice.chance(15));
            let here = match behind {
                Some(behind) => Takes {
                    skip: behind.skip + HalfLines::LINE,
                    ..*behind
                },
                None => Takes {
                    line: Some(self.break_lines(dice, from)),
                    ..Takes::default()
                },
            };
            takes.push(here);
        }
        takes.reverse();
        takes
    }

    /// New lines from a place on, and the first of them. Each ends at some later place, or between two; they may go on
    /// as others do that come to the same place. The last may be higher than its words.
    fn break_lines(&mut self, dice: &mut Dice, from: usize) -> u32 {
        let first = self.lines.len() as u32;
        let mut at = from;
        let mut new = vec![(from, first)];
        while at < self.end {
            let between = dice.chance(25);
            if !between {
                at = dice.between(at + 1, self.end.min(at + 3));
            }
            let number = self.lines.len() as u32;
            let alike = self.known.iter().find(|known| known.0 == at);
            let alike = alike.filter(|_| !between && dice.chance(30));
            let ends = at == self.end;
            self.lines.push(Line {
                to: (!between).then_some(at as u32),
                next: alike.map(|known| known.1).or((!ends).then_some(number + 1)),
                height: HalfLines::new(if ends && dice.chance(10) { 4 } else { 2 }),
            });
            if alike.is_some() {
                break;
            }
            if !between {
                new.push((at, number + 1));
            }
        }
        new.retain(|(place, _)| *place < self.end);
        self.known.extend(new);
        first
    }
}
