//! A book with its lines set and its problems prepared: all that dividing it needs.

use std::ops::Range;
use std::sync::Arc;

use super::{ActiveBreaks, build_problem};
use crate::division::{Problem, show_through};
use crate::names::{Faults, Source};
use crate::paper::Strip;
use crate::plan::Plan;
use crate::setting::{SetLines, SetPart};
use crate::text::{Manuscript, has_readings};

/// A book, ready to be divided.
#[derive(Clone, Debug)]
pub struct PreparedBook {
    /// The manuscript.
    pub manuscript: Arc<Manuscript>,
    /// The plan.
    pub plan: Arc<Plan>,
    /// The folded strip.
    pub strip: Strip,
    /// The set lines.
    pub set: Arc<SetLines>,
    /// The problem of each part, in the order of the set parts.
    pub problems: Vec<Arc<Problem>>,
    /// What the author chose and passed, and what came of asking it.
    pub keeps: Option<Arc<ActiveBreaks>>,
}

impl PreparedBook {
    /// Poses the problem of each part.
    ///
    /// # Errors
    /// What plan and text together have wrong, such as first words that no line begins with.
    pub fn new(
        manuscript: Arc<Manuscript>,
        plan: Arc<Plan>,
        strip: Strip,
        set: Arc<SetLines>,
    ) -> Result<PreparedBook, Faults> {
        let mut faults = Faults::new();
        let mut problems = Vec::new();
        for part in &set.parts {
            match build_problem(&manuscript, &plan, &strip, &set, part) {
                Ok(problem) => problems.push(Arc::new(problem)),
                Err(found) => faults.extend(found),
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        Ok(PreparedBook {
            manuscript,
            plan,
            strip,
            set,
            problems,
            keeps: None,
        })
    }

    /// The parts that are divided at once: two that are paired, else one alone, by their place among all.
    pub fn groups(&self) -> Vec<Vec<usize>> {
        let planned = |at: usize| &self.plan.parts[self.set.parts[at].plan_index];
        let partner = |at: usize| {
            let mut others = 0..self.problems.len();
            others.find(|&other| {
                let pairs = |one: usize, other: usize| {
                    let with = planned(one).pairs.as_ref().map(|pairs| pairs.with.as_str());
                    with == Some(planned(other).name.as_str())
                };
                pairs(at, other) || pairs(other, at)
            })
        };
        let mut groups = Vec::new();
        for at in 0..self.problems.len() {
            match partner(at) {
                None => groups.push(vec![at]),
                Some(other) if at < other => groups.push(vec![at, other]),
                Some(_) => {}
            }
        }
        groups
    }

    /// The groups of [`PreparedBook::groups`], those together that heavy pictures show through to each other.
    pub fn groups_back_to_back(&self) -> Vec<Vec<Vec<usize>>> {
        let mut all: Vec<Vec<Vec<usize>>> = Vec::new();
        for group in self.groups() {
            let problems = self.problems_of(&group);
            let meets = |groups: &Vec<Vec<usize>>| {
                let known = self.problems_of(&groups.concat());
                show_through(&known, &problems)
            };
            let (meeting, others): (Vec<_>, Vec<_>) = all.into_iter().partition(meets);
            let mut together: Vec<Vec<usize>> = meeting.concat();
            together.push(group);
            all = others;
            all.push(together);
        }
        all
    }

    /// The problems of some parts.
    pub fn problems_of(&self, group: &[usize]) -> Vec<&Problem> {
        group.iter().map(|&at| &*self.problems[at]).collect()
    }

    /// The same, to be kept.
    pub(super) fn shared_problems_of(&self, group: &[usize]) -> Vec<Arc<Problem>> {
        let problems = group.iter().map(|&at| &self.problems[at]);
        problems.map(Arc::clone).collect()
    }

    /// All words between two places of a part.
    pub fn words_of(&self, part: usize, places: Range<usize>) -> String {
        let set = &self.set.parts[part];
        let words: Vec<&str> = places.map(|place| words_at(set, place)).collect();
        words.join(" ")
    }

    /// The first words from a place of a part on, at most so many.
    pub fn words_from(&self, part: usize, place: usize, most: usize) -> String {
        let set = &self.set.parts[part];
        let mut words: Vec<&str> = Vec::new();
        for at in place..set.places.len() {
            if words.len() >= most {
                break;
            }
            words.extend(words_at(set, at).split_whitespace());
        }
        words.truncate(most);
        words.join(" ")
    }

    /// The last words before a place of a part, at most so many.
    pub fn words_before(&self, part: usize, place: usize, most: usize) -> String {
        let set = &self.set.parts[part];
        let mut words: Vec<&str> = Vec::new();
        for at in (0..place).rev() {
            if words.len() >= most {
                break;
            }
            words.extend(words_at(set, at).split_whitespace().rev());
        }
        words.truncate(most);
        words.reverse();
        words.join(" ")
    }
}

/// A manuscript, read as a plan says.
pub(crate) fn read_manuscript(source: &Arc<Source>, plan: &Plan) -> Result<Manuscript, Faults> {
    let readings = |part: &str| {
        let part = plan.part(part).map(|part| &part.language);
        has_readings(part.unwrap_or(&plan.language))
    };
    Manuscript::read_as(source, plan.set_as, readings)
}

/// The words from a place to the next.
fn words_at(set: &SetPart, place: usize) -> &str {
    let at = &set.places[place];
    let row = &set.rows[at.row];
    let text = &row.shaped.text;
    let Some(paragraph) = &row.paragraph else {
        return text;
    };
    let begin = if at.at > 0 {
        paragraph.breaks[at.at].next
    } else {
        0
    };
    let next = set.places.get(place + 1).filter(|next| next.row == at.row);
    let end = next.map_or(text.len(), |next| paragraph.breaks[next.at].next);
    &text[begin..end]
}
