//! `spare-panels`: where panels stay blank that nothing asks for.
//!
//! None is within a section, the words of a part from one heading to the next, unless nothing else is possible: each there
//! costs 10 000, more than all that fullness and pictures ask of a part. In a part of several sections one between two of
//! them costs nothing, behind the last words 1, and before the first words 2. One that is pinned may stand within a section, and so may one in the
//! section of a picture that asks for a blank panel before it.

use super::{About, Clause, Declared, Group, Judges, PanelView, Problem, Rule, Rules, Verdict};
use crate::names::Role;

/// What a blank panel costs within a section, behind the last words, and before the first.
const WITHIN: u64 = 10_000;
const BEHIND: u64 = 1;
const BEFORE: u64 = 2;

pub struct SparePanels;

impl Declared for SparePanels {
    const ABOUT: About = About {
        name: "spare-panels",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "Panels that nothing is there for stay blank between sections or at the end, none within a section.",
    };
}

impl Rule for SparePanels {
    fn idle(&self, problem: &Problem) -> bool {
        problem.rows.is_empty()
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        if reading.role != Role::Blank {
            return Verdict::KEPT;
        }
        let (problem, at) = (reading.problem, reading.from);
        let sections = problem.sections_between(0, problem.rows.len()) > 0;
        match (problem.words_before(at), problem.words_from(at)) {
            (None, Some(_)) if sections => Verdict::allowed(BEFORE),
            (Some(_), None) if sections => Verdict::allowed(BEHIND),
            (Some(above), Some(below)) => {
                let section = problem.rows[above].section;
                let pinned = problem.panels[reading.panel].role == Some(Role::Blank);
                match section == problem.rows[below].section {
                    true if !pinned && !asked_in(problem, section) => Verdict::broken(WITHIN),
                    _ => Verdict::KEPT,
                }
            }
            _ => Verdict::KEPT,
        }
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "no panel stays blank within a section".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause {
            from: WITHIN,
            ..Clause::new(
                "stays blank in the midst of a section",
                "stay blank in the midst of a section",
            )
        })
    }
}

/// Whether the words of a picture that asks for a blank panel before it are of a section.
fn asked_in(problem: &Problem, section: usize) -> bool {
    problem.pictures.iter().any(|picture| {
        let words = picture.word_row.and_then(|row| problem.rows.get(row));
        picture.blank_before && words.is_some_and(|row| row.section == section)
    })
}
