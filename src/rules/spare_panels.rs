//! `spare-panels`: where panels stay blank that nothing asks for.
//!
//! None is within a section, the words of a part from one heading to the next, nor before the first words, unless
//! nothing else is possible: each there costs 10 000, more than all that fullness and pictures ask of a part. In a part
//! of several sections one between two of them costs nothing, and behind the last words 1. One that is pinned may stand
//! anywhere, and so may one before the first words where `blanks` asks for some there, and any in the section of a
//! picture that asks for a blank panel before it; those before the first words count to the first section.

use super::{
    About, BlanksAt, Clause, Declared, Group, Judges, PanelView, Problem, Rule, Rules, Verdict,
};
use crate::names::Role;

/// What a blank panel costs within a section or before the first words, and behind the last.
const WITHIN: u64 = 10_000;
const BEHIND: u64 = 1;

pub struct SparePanels;

impl Declared for SparePanels {
    const ABOUT: About = About {
        name: "spare-panels",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "Panels that nothing is there for stay blank between sections or at the end, none elsewhere.",
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
        let Some(below) = problem.words_from(at) else {
            let sections = problem.sections_between(0, problem.rows.len()) > 0;
            let words = problem.words_before(at).is_some();
            return Verdict::allowed(if sections && words { BEHIND } else { 0 });
        };
        let section = problem.rows[below].section;
        let blanks = problem.rules.blanks.map(|blanks| blanks.at);
        let elsewhere = match problem.words_before(at) {
            None => blanks != Some(BlanksAt::Start),
            Some(above) => problem.rows[above].section == section,
        };
        let pinned = problem.panels[reading.panel].role == Some(Role::Blank);
        match elsewhere && !pinned && !asked_in(problem, section) {
            true => Verdict::broken(WITHIN),
            false => Verdict::KEPT,
        }
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "no panel stays blank before the first words or within a section".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause {
            from: WITHIN,
            ..Clause::new(
                "stays blank before the first words or in the midst of a section",
                "stay blank before the first words or in the midst of a section",
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
