//! Going down a column: line by line of paragraphs, row by row of all else.

use super::{Filled, Start};
use crate::names::HalfLines;

/// A place where a line ends.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Stop {
    /// The place.
    pub to: usize,
    /// How far down it lies.
    pub used: HalfLines,
    /// The lines of the paragraph that ends or is divided there, as far as they stand above it.
    pub foot: u32,
}

impl Stop {
    /// Where no words stand.
    pub fn nothing(at: usize) -> Stop {
        Stop {
            to: at,
            ..Stop::default()
        }
    }
}

/// Where a row stands, or what a panel has of a paragraph.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Standing {
    /// The place that it begins at.
    pub place: usize,
    /// The slot that it comes to.
    pub slot: usize,
    /// How far down it stands: below what it leaves empty there.
    pub depth: HalfLines,
}

/// Goes down the lines of a column from a place at its head, where no space stands.
pub struct Walk<'a> {
    spaces: &'a [HalfLines],
    column: &'a Filled,
    from: usize,
    place: usize,
    used: HalfLines,
    /// How many lines of the paragraph have been gone through.
    foot: u32,
    /// The height of the row that has been come to, if it is no paragraph.
    row: Option<HalfLines>,
    /// The next line of the paragraph that is being gone through.
    line: Option<u32>,
}

impl<'a> Walk<'a> {
    pub(super) fn new(spaces: &'a [HalfLines], column: &'a Filled, from: usize) -> Walk<'a> {
        Walk {
            spaces,
            column,
            from,
            place: from,
            used: HalfLines::ZERO,
            foot: 0,
            row: None,
            line: None,
        }
    }

    /// Whether more of the paragraph follows that is being gone through.
    pub fn within_paragraph(&self) -> bool {
        self.line.is_some()
    }

    /// Where the rows before a place stand.
    pub(super) fn standing(mut self, to: usize) -> Vec<Standing> {
        let mut standing = Vec::new();
        while self.place < to {
            let Some(here) = self.come() else { break };
            standing.push(here);
            while self.place < to && self.go_on().is_some() {}
        }
        standing
    }

    /// Comes to the next row.
    fn come(&mut self) -> Option<Standing> {
        let start = *self.column.starts.get(self.place)?;
        if self.place > self.from {
            let space = self.spaces.get(self.place).copied().unwrap_or_default();
            self.used = self.column.boxes.below(self.used, space);
        }
        self.foot = 0;
        let slot = self.column.boxes.slot(self.used);
        match start {
            Start::Within(line) => self.line = Some(line),
            Start::Row(first) => {
                let takes = self.column.takes(first, slot);
                self.used += takes.skip;
                self.line = takes.line;
                self.row = self.line.is_none().then_some(takes.height);
            }
        }
        Some(Standing {
            place: self.place,
            slot,
            depth: self.used,
        })
    }

    /// Goes on to the next place at the end of a line of the row or paragraph that has been come to; nothing where all of
    /// it has been gone through.
    fn go_on(&mut self) -> Option<Stop> {
        if let Some(height) = self.row.take() {
            self.used += height;
            self.place += 1;
            return Some(self.stop());
        }
        while let Some(at) = self.line {
            let line = self.column.lines[at as usize];
            self.used += line.height;
            self.foot += 1;
            self.line = line.next;
            if let Some(to) = line.to {
                self.place = to as usize;
                return Some(self.stop());
            }
        }
        None
    }

    fn stop(&self) -> Stop {
        Stop {
            to: self.place,
            used: self.used,
            foot: self.foot,
        }
    }
}

impl Iterator for Walk<'_> {
    type Item = Stop;

    fn next(&mut self) -> Option<Stop> {
        loop {
            if let Some(stop) = self.go_on() {
                return Some(stop);
            }
            self.come()?;
        }
    }
}
