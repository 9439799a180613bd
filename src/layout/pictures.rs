//! Where pictures stand, seen from their words.

use super::compose::ComposeInput;
use super::{LaidPanel, LaidPicture};
use crate::division::{PartDivision, Problem};
use crate::names::Role;
use crate::setting::Note;

/// Every picture of a part that has words, in the order of the part's pictures.
pub(super) fn of_part(problem: &Problem, division: &PartDivision) -> Vec<LaidPicture> {
    let panels = &division.panels;
    let pictures = problem.pictures.iter().enumerate();
    let laid = pictures.filter_map(|(index, picture)| {
        let row = picture.word_row?;
        let words = panels.iter().position(|panel| panel.rows.contains(&row))?;
        let stands = |panel: &crate::division::PanelDivision| panel.picture == Some(index);
        let first = panels.iter().position(stands)?;
        let last = panels.iter().rposition(stands)?;
        let sections = |from: usize, to: usize| problem.sections_between(from, to);
        let (from, to, headings) = if words < first {
            (words, first, sections(row + 1, panels[first].rows.end))
        } else if words > last {
            (last, words, sections(panels[last].rows.end, row + 1))
        } else {
            (words, words, 0)
        };
        let steps = problem.panels[from..=to].windows(2);
        let spreads: usize = steps
            .clone()
            .map(|pair| pair[0].spread.abs_diff(pair[1].spread))
            .sum();
        let turns = steps.filter(|pair| pair[0].name.side != pair[1].name.side);
        let sign = if words < first { 1 } else { -1 };
        Some(LaidPicture {
            name: picture.name.clone(),
            on: panels[first].panel,
            words: panels[words].panel,
            spreads_after: sign * spreads as i64,
            panels_after: first as i64 - words as i64,
            turns: turns.count(),
            headings: if spreads > 0 { headings as usize } else { 0 },
            comes: picture.comes,
            with: picture.with,
            reveal: picture.reveal,
        })
    });
    laid.collect()
}

/// How many of the pictures leave room for words, where there are any.
pub(super) fn rooms(ready: ComposeInput<'_>, panels: &[LaidPanel]) -> Option<Note> {
    let mut names: Vec<&str> = panels
        .iter()
        .filter_map(|panel| panel.picture.as_deref())
        .collect();
    names.sort_unstable();
    names.dedup();
    let shares = |name: &str| {
        let mut on = panels
            .iter()
            .filter(|panel| panel.picture.as_deref() == Some(name));
        let planned = ready.plan.picture(name);
        planned.is_some_and(|picture| picture.leaves.place.is_some())
            || on.any(|panel| panel.role == Role::Shared)
    };
    let with_room = names.iter().filter(|name| shares(name)).count();
    let what = match (names.len(), with_room) {
        (0, _) => return None,
        (1, 0) => "the picture leaves no room for words: it stands alone".to_string(),
        (1, _) => "the picture leaves room for words".to_string(),
        (all, 0) => format!("none of the {all} pictures leaves room for words: each stands alone"),
        (all, room) if all == room => format!("all {all} pictures leave room for words"),
        (all, 1) => format!("1 of {all} pictures leaves room for words"),
        (all, room) => format!("{room} of {all} pictures leave room for words"),
    };
    Some(Note {
        word: "picture-room",
        what,
        place: None,
    })
}

/// A part with far more panels than it needs: a third of them or more stay blank that nothing asks for.
pub(super) fn spare(name: &str, problem: &Problem, division: &PartDivision) -> Option<Note> {
    let panels = division.panels.iter().zip(&problem.panels);
    let unasked = panels.filter(|(panel, facts)| {
        panel.role == Role::Blank && facts.role.is_none() && facts.chosen.is_none()
    });
    let asked = problem
        .rules
        .blanks
        .map_or(0, |blanks| usize::from(blanks.count));
    let spare = unasked.count().saturating_sub(asked);
    let all = division.panels.len();
    (spare > 1 && spare * 3 >= all).then(|| Note {
        word: "spare-panels",
        what: format!(
            "the part `{name}` has {all} panels, {spare} more than its words and pictures take"
        ),
        place: None,
    })
}
