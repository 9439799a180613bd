//! Words that follow shapes: down the slots with them, one by one.

use std::ops::Range;

use versefold::division::Problem;
use versefold::stack::{Filled, Start};

use super::lines_from;

/// A row, or what a panel has of a paragraph, on the slots of a shape.
pub struct Standing {
    /// The row; of a paragraph the first that the panel has.
    pub row: usize,
    /// The first of its lines, if it is a paragraph.
    pub line: Option<u32>,
    /// The half lines left empty where it comes to.
    pub skip: u32,
    /// The slot behind its last.
    pub foot: usize,
}

/// How the rows of a panel stand on slots. The first comes to the first slot, each of the others to the slot behind
/// the row above it and the space between. A space takes whole slots, one for each two half lines begun; at the head
/// of a box there is none, and none goes on into the next box. What a row leaves empty where it comes to, and how many
/// slots it then takes, is told for each slot; a paragraph takes its lines' slots, and where a panel begins in its
/// midst it has the lines of the first slot.
pub fn standing(problem: &Problem, column: &Filled, rows: &Range<usize>) -> Vec<Standing> {
    let ends = column.boxes.ends();
    let heads = |slot: usize| slot == 0 || ends.get(slot - 1) == Some(&slot);
    let begins = |row: &usize| *row == rows.start || !problem.rows[*row].inner;
    let mut slot = 0;
    let mut standing = Vec::new();
    for row in rows.clone().filter(begins) {
        let facts = &problem.rows[row];
        let mut space = if row > rows.start {
            problem.stack.spaces[row].count()
        } else {
            0
        };
        while space > 0 && !heads(slot) {
            slot += 1;
            space = space.saturating_sub(2);
        }
        let mut skip = 0;
        let line = match column.starts[row] {
            Start::Within(line) => Some(line),
            Start::Row(first) => {
                let here = column.takes[first as usize + slot.min(ends.len())];
                skip = here.skip.count();
                slot += skip as usize / 2;
                if !facts.prose {
                    let foot = slot + here.height.count() as usize / 2;
                    let within = ends.get(slot).is_none_or(|end| foot <= *end);
                    assert!(within, "row {row} stands in two boxes");
                    slot = foot;
                }
                here.line
            }
        };
        let lines = lines_from(column, line, rows.end);
        slot += lines
            .iter()
            .map(|line| line.height.count() as usize / 2)
            .sum::<usize>();
        standing.push(Standing {
            row,
            line,
            skip,
            foot: slot,
        });
    }
    standing
}
