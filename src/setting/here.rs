//! Where a row is set: in a column, from a slot on.

use std::cell::{Cell, OnceCell, RefCell};

use rustc_hash::FxHashMap;

use super::turnover::Break;
use super::usual::Usual;
use super::{Column, Setting};
use crate::names::{HalfLines, Length};

/// What is found of a row once, however often it is set.
#[derive(Default)]
pub(super) struct RowFindings {
    /// Where it may be broken.
    pub breaks: OnceCell<Vec<Break>>,
    /// The widths of its stretches.
    pub widths: RefCell<FxHashMap<(usize, usize), Length>>,
}

/// A large initial beside which lines stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Beside {
    /// How far down it still reaches.
    pub reach: HalfLines,
    /// Where lines beside it begin.
    pub edge: Length,
}

impl Beside {
    /// How many whole lines stand beside it.
    pub fn lines(self) -> usize {
        self.reach.whole_lines()
    }
}

/// Where a row is set.
pub(super) struct LineContext<'a> {
    pub column: &'a Column,
    /// The slot of its first line.
    pub slot: usize,
    /// The large initial that it stands beside.
    pub beside: Option<Beside>,
    /// What has been found of the row already.
    pub findings: &'a RowFindings,
    /// What it may ask of the part's other rows.
    pub others: &'a Others<'a>,
}

/// What a row may ask of the part's other rows, and what it has asked: only on that does its setting hang.
pub(super) struct Others<'a> {
    deepest: Length,
    usual: &'a Usual,
    asked_deepest: Cell<bool>,
    asked_usual: RefCell<Vec<(Length, Length)>>,
}

/// What a row has asked of the part's other rows, with the answers.
pub(super) struct OfOthers {
    deepest: Option<Length>,
    /// How wide lines usually run, by measure.
    usual: Vec<(Length, Length)>,
}

impl<'a> Others<'a> {
    /// The other rows of a part, whose indents are this deep as far as turned-over pieces clear them, and whose lines
    /// usually run as wide as `usual` says.
    pub(super) fn new(deepest: Length, usual: &'a Usual) -> Others<'a> {
        Others {
            deepest,
            usual,
            asked_deepest: Cell::new(false),
            asked_usual: RefCell::default(),
        }
    }

    /// How deep the indents are that turned-over pieces clear.
    pub(super) fn deepest(&self) -> Length {
        self.asked_deepest.set(true);
        self.deepest
    }

    /// How wide lines usually run within a measure.
    pub(super) fn usual(&self, measure: Length) -> Length {
        let width = self.usual.within(measure);
        self.asked_usual.borrow_mut().push((measure, width));
        width
    }

    /// What has been asked until now.
    pub(super) fn asked(&self) -> OfOthers {
        OfOthers {
            deepest: self.asked_deepest.get().then_some(self.deepest),
            usual: self.asked_usual.borrow().clone(),
        }
    }
}

impl OfOthers {
    /// Whether the same questions would have the same answers now.
    pub(super) fn hold(&self, others: &Others<'_>) -> bool {
        let mut usual = self.usual.iter();
        self.deepest.is_none_or(|deepest| deepest == others.deepest)
            && usual.all(|(measure, width)| others.usual.within(*measure) == *width)
    }
}

impl LineContext<'_> {
    /// The setting of the row's line of this number; beside a large initial what that leaves of it.
    pub(super) fn line(&self, number: usize) -> Setting {
        let setting = self.column.line(self.slot + number);
        match self.beside {
            Some(beside) if number < beside.lines().max(1) => {
                setting.narrowed(beside.edge - setting.left)
            }
            _ => setting,
        }
    }

    /// Whether the row comes beyond the last slot, where it is set whatever comes of it.
    pub(super) fn is_beyond(&self) -> bool {
        self.slot >= self.column.slots()
    }

    /// How many lines the row may have: on slots no more than its box has left.
    pub(super) fn most_lines(&self) -> usize {
        self.column
            .boxes()
            .end_of(self.slot)
            .saturating_sub(self.slot)
    }

    /// How many lines from the first on are not set as the last of all.
    pub(super) fn lines_that_differ(&self) -> usize {
        match self.is_beyond() {
            false => self.most_lines().saturating_sub(1),
            true => self.beside.map_or(0, Beside::lines).max(1),
        }
    }
}
