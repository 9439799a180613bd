//! Shaped text areas put into random books: slots in boxes, where rows are higher on some than on others, find no room
//! on a few, and paragraphs fall into other lines from each.

use versefold::division::{AreaFacts, FallenLine, Falls, OnSlots, Problem, RowFacts, StandsOn};

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
    let whole = problem.depth(0, 0, problem.rows.len()) as usize;
    let share = whole / problem.panels.len() / 2 + 1;
    for _ in 0..dice.one_of(&[1, 1, 2]) {
        let setting = problem.falls.len();
        let slots = (share * dice.between(14, 56) / 10).clamp(1, 12);
        let ends = boxes(dice, slots);
        let shape = AreaFacts {
            setting,
            capacity: 2 * ends.len() as u32,
        };
        let high = dice.between(0, 30);
        let height = |row: &RowFacts| match row.prose {
            true => 0,
            false => 2 + 2 * u32::from(dice.chance(high)),
        };
        let heights: Vec<u32> = problem.rows.iter().map(height).collect();
        let falls = on_slots(dice, &problem.rows, &heights, ends);
        problem.heights.push(heights);
        problem.falls.push(falls);
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
pub fn unshape(problem: &mut Problem, setting: usize) {
    let falls = &mut problem.falls[setting];
    if falls.on_slots.take().is_some() {
        falls.lines.iter_mut().for_each(|line| line.height = 2);
    }
}

/// Whether the words of a panel stand in a shape, and in which.
pub fn shape<'a>(problem: &'a Problem, panel: usize, carried: &Carried) -> Option<&'a OnSlots> {
    let area = area(problem, panel, carried).filter(|_| !carried.rows.is_empty())?;
    problem.falls[area.setting].on_slots.as_ref()
}

/// Whether words of a book stand in a shape.
pub fn has_words(problem: &Problem, book: &[Carried]) -> bool {
    let mut panels = book.iter().enumerate();
    panels.any(|(panel, carried)| shape(problem, panel, carried).is_some())
}

/// So many slots in boxes: for each the first behind its box.
fn boxes(dice: &mut Dice, slots: usize) -> Vec<usize> {
    let most = if dice.chance(25) { slots } else { 4 };
    let mut ends = Vec::new();
    while ends.len() < slots {
        let end = ends.len() + dice.between(1, most.min(slots - ends.len()));
        ends.resize(end, end);
    }
    ends
}

/// How rows stand on slots in boxes, those that are no paragraphs as high beyond the last as told.
fn on_slots(dice: &mut Dice, rows: &[RowFacts], heights: &[u32], ends: Vec<usize>) -> Falls {
    let mut falls = Falls::default();
    let mut first = Vec::new();
    let mut stands = Vec::new();
    let mut place = 0;
    while place < rows.len() {
        first.push(Some(stands.len() as u32));
        if !rows[place].prose {
            stands.extend(row(dice, heights[place], &ends));
            falls.first.push(None);
            place += 1;
            continue;
        }
        let inner = rows[place + 1..].iter().take_while(|row| row.inner).count();
        let end = place + 1 + inner;
        let mut paragraph = Paragraph {
            lines: &mut falls.lines,
            known: Vec::new(),
            end,
        };
        let here = paragraph.stands(dice, place, ends.len());
        falls.first.push(here[0].line);
        stands.extend(here);
        for inner in place + 1..end {
            falls.first.push(Some(paragraph.fall(dice, inner)));
            first.push(None);
        }
        place = end;
    }
    falls.on_slots = Some(OnSlots {
        ends,
        first,
        stands,
    });
    falls
}

/// A row that is no paragraph: it stands on the next slot that is not too narrow for it and has room for it in its box.
fn row(dice: &mut Dice, height: u32, ends: &[usize]) -> Vec<StandsOn> {
    let (higher, narrow) = (dice.between(0, 50), dice.between(0, 30));
    let mut stands = vec![StandsOn {
        skip: 0,
        height,
        line: None,
    }];
    let mut behind = stands[0];
    for (slot, end) in ends.iter().enumerate().rev() {
        let height = height + 2 * u32::from(dice.chance(higher));
        let has_room = slot + height as usize / 2 <= *end;
        behind = match has_room && !dice.chance(narrow) {
            true => StandsOn {
                skip: 0,
                height,
                line: None,
            },
            false => StandsOn {
                skip: behind.skip + 2,
                ..behind
            },
        };
        stands.push(behind);
    }
    stands.reverse();
    stands
}

/// A paragraph that falls into lines.
struct Paragraph<'a> {
    lines: &'a mut Vec<FallenLine>,
    /// Lines that begin at places, each with its place.
    known: Vec<(usize, u32)>,
    /// The place behind it.
    end: usize,
}

impl Paragraph<'_> {
    /// How it stands when it comes to each slot and beyond all.
    fn stands(&mut self, dice: &mut Dice, from: usize, slots: usize) -> Vec<StandsOn> {
        let mut stands: Vec<StandsOn> = Vec::new();
        for _ in 0..=slots {
            let behind = stands.last().filter(|_| dice.chance(15));
            let here = match behind {
                Some(behind) => StandsOn {
                    skip: behind.skip + 2,
                    ..*behind
                },
                None => StandsOn {
                    skip: 0,
                    height: 0,
                    line: Some(self.fall(dice, from)),
                },
            };
            stands.push(here);
        }
        stands.reverse();
        stands
    }

    /// New lines from a place on, and the first of them. Each ends at some later place, or between two; they may go on
    /// as others do that come to the same place. The last may be higher than its words.
    fn fall(&mut self, dice: &mut Dice, from: usize) -> u32 {
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
            self.lines.push(FallenLine {
                to: (!between).then_some(at as u32),
                next: alike.map(|known| known.1).or((!ends).then_some(number + 1)),
                height: if ends && dice.chance(10) { 4 } else { 2 },
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
