//! Where a row is set: at a setting, or on slots.

use std::cell::{Cell, OnceCell, RefCell};

use rustc_hash::FxHashMap;

use super::Setting;
use super::on_slots::OnSlots;
use super::turnover::Break;
use super::usual::Usual;
use crate::names::Length;

/// What is found of a row once, however often it is set.
#[derive(Default)]
pub(super) struct Known {
    /// Where it may be broken.
    pub breaks: OnceCell<Vec<Break>>,
    /// The widths of its stretches.
    pub widths: RefCell<FxHashMap<(usize, usize), Length>>,
}

/// Where a row is set.
pub(super) struct LineContext<'a> {
    pub setting: &'a Setting,
    /// The slots that it stands on, one line on each; nothing where all its lines have the setting.
    pub slots: Option<OnSlots<'a>>,
    /// What has been found of the row already.
    pub known: &'a Known,
    /// What it may ask of the part's other rows.
    pub others: Others<'a>,
    /// Where the verse line above ended, from the panel's left edge.
    pub run_end: Length,
    /// How far the large initial pushes the row in, and over how many more lines.
    pub drop: Length,
    pub drop_lines: u32,
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
    /// Of a part with this deepest ordinary indent, whose lines usually run as wide as that.
    pub(super) fn new(deepest: Length, usual: &'a Usual) -> Others<'a> {
        Others {
            deepest,
            usual,
            asked_deepest: Cell::new(false),
            asked_usual: RefCell::default(),
        }
    }

    /// The deepest ordinary indent of the part.
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
        match &self.slots {
            Some(slots) => slots.line(number),
            None if number < self.drop_lines.max(1) as usize => narrowed(*self.setting, self.drop),
            None => *self.setting,
        }
    }

    /// How many lines the row may have: on slots no more than its box has left.
    pub(super) fn most_lines(&self) -> usize {
        self.slots.as_ref().map_or(usize::MAX, OnSlots::room)
    }

    /// How many lines from the first on are not set as the last of all.
    pub(super) fn lines_that_differ(&self) -> usize {
        match &self.slots {
            Some(slots) => slots.left(),
            None => self.drop_lines.max(1) as usize,
        }
    }
}

/// A setting whose lines begin farther in.
pub(super) fn narrowed(setting: Setting, by: Length) -> Setting {
    Setting {
        left: setting.left + by,
        measure: setting.measure - by,
        ..setting
    }
}
