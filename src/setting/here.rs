//! Where a row is set: at a setting, or on slots.

use std::cell::{OnceCell, RefCell};

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
    /// The deepest ordinary indent of the part.
    pub deepest: Length,
    /// How wide lines usually run.
    pub usual: &'a Usual,
    /// Where the verse line above ended, from the panel's left edge.
    pub run_end: Length,
    /// How far the large initial pushes the row in, and over how many more lines.
    pub drop: Length,
    pub drop_lines: u32,
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
