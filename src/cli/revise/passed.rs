//! Which of the client's changes are on panels that are passed for press.

use crate::layout::{LaidPanel, Layout};
use crate::names::PanelName;
use crate::text::revise::Change;

/// The lines of the manuscript whose words stand on panels that are passed for press and are otherwise now.
#[derive(Default)]
pub(super) struct PassedLines {
    /// Each panel with the lines, from 1, that its words begin and end on.
    panels: Vec<(PanelName, Vec<(usize, usize)>)>,
}

impl PassedLines {
    /// Those of a new layout that the old one has otherwise. `text` is the new manuscript.
    pub(super) fn of(old: &Layout, new: &Layout, text: &str) -> PassedLines {
        let ends: Vec<usize> = text.match_indices('\n').map(|(at, _)| at).collect();
        let line = |byte: usize| ends.partition_point(|end| *end < byte) + 1;
        let changed = new.panels.iter().filter(|panel| {
            let before = old.panels.iter().find(|own| own.panel == panel.panel);
            panel.passed && before.is_none_or(|before| words(before) != words(panel))
        });
        let lines = |panel: &LaidPanel| {
            let sources = panel.lines.iter().flat_map(|line| &line.sources);
            sources.map(|&(from, to)| (line(from), line(to))).collect()
        };
        PassedLines {
            panels: changed.map(|panel| (panel.panel, lines(panel))).collect(),
        }
    }

    /// The panels on which a change is.
    pub(super) fn names(&self, change: &Change) -> Vec<String> {
        let there = |(_, lines): &&(PanelName, Vec<(usize, usize)>)| {
            let mut lines = lines.iter();
            lines.any(|(from, to)| (*from..=*to).contains(&change.line))
        };
        let panels = self.panels.iter().filter(there);
        panels.map(|(panel, _)| panel.to_string()).collect()
    }

    /// The panels on which any of these changes is.
    pub(super) fn all(&self, changes: &[Change]) -> Vec<String> {
        let panels = self.panels.iter().map(|(panel, _)| panel.to_string());
        let named: Vec<String> = changes
            .iter()
            .flat_map(|change| self.names(change))
            .collect();
        panels.filter(|panel| named.contains(panel)).collect()
    }
}

fn words(panel: &LaidPanel) -> Vec<&str> {
    panel.lines.iter().map(|line| line.text.as_str()).collect()
}
