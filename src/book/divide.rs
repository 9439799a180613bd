//! Dividing parts: what gives way where not everything can be kept.

use std::sync::Arc;

use super::advice::{self, PlanText};
use super::plan_file::vary::Variation;
use super::{PreparedBook, Workbench};
use crate::division::{
    self, Division, Limits, PanelFacts, PartDivision, Pattern, Problem, RememberedSearches,
    Together, best_back_to_back, divide_again,
};
use crate::names::{Faults, Source};
use crate::plan::RuleName;

impl Workbench {
    /// Divides a prepared book, whose plan is this text.
    pub(super) fn divide_all(
        &mut self,
        prepared: &PreparedBook,
        plan_source: &Arc<Source>,
    ) -> Result<Division, Faults> {
        let mut faults = Faults::new();
        let text = PlanText {
            source: plan_source,
            variation: Variation::default(),
        };
        self.divided.begin();
        self.searched.begin();
        let (known, searched) = (&mut self.divided, &mut self.searched);
        let division = divide_book(prepared, |problems, find| {
            known.answer(problems, |problems| find(problems, searched))
        });
        division.map_err(|groups| {
            for group in groups {
                faults.push(advice::no_way(
                    prepared,
                    text,
                    (&self.fonts, &self.remembered),
                    &group,
                ));
            }
            faults
        })
    }
}

/// How parts are divided: those that are divided at once.
type Find<'a> = &'a dyn Fn(&[&Problem], &mut RememberedSearches) -> Option<Vec<PartDivision>>;

/// Divides a prepared book. `answer` finds the division of some parts, or remembers it.
///
/// # Errors
/// The groups of parts that cannot be divided.
pub(super) fn divide_book(
    prepared: &PreparedBook,
    mut answer: impl FnMut(&[Arc<Problem>], Find<'_>) -> Option<Vec<PartDivision>>,
) -> Result<Division, Vec<Vec<usize>>> {
    let mut parts: Vec<Option<PartDivision>> = vec![None; prepared.problems.len()];
    let mut without = Vec::new();
    for groups in prepared.groups_back_to_back() {
        let together: Vec<usize> = groups.concat();
        let sizes: Vec<usize> = groups.iter().map(Vec::len).collect();
        let find = |problems: &[&Problem], searched: &mut RememberedSearches| match sizes.len() {
            1 => settle_again(problems, searched).map(|settled| settled.parts),
            _ => divide_back_to_back(problems, &sizes, searched),
        };
        match answer(&prepared.shared_problems_of(&together), &find) {
            Some(found) => {
                for (&at, part) in together.iter().zip(found) {
                    parts[at] = Some(part);
                }
            }
            None => {
                let divided = |group: &Vec<usize>| divide(&prepared.problems_of(group)).is_some();
                without.extend(groups.into_iter().filter(|group| !divided(group)));
            }
        }
    }
    match without.is_empty() {
        true => Ok(Division {
            parts: parts.into_iter().flatten().collect(),
        }),
        false => Err(without),
    }
}

/// Divides groups of so many parts each, which lie back to back.
fn divide_back_to_back(
    problems: &[&Problem],
    sizes: &[usize],
    searched: &mut RememberedSearches,
) -> Option<Vec<PartDivision>> {
    let mut problems = problems;
    let groups = sizes.iter().map(|&size| {
        let (group, rest) = problems.split_at(size);
        problems = rest;
        Some(settle_again(group, searched)?.together(group))
    });
    let groups: Option<Vec<Together>> = groups.collect();
    let best = best_back_to_back(&groups?, Limits::default(), Pattern::Coarse, 1);
    best.ways.into_iter().next()
}

/// Divides a part, or two that are paired. `undivided` is the first rule to give way, unless the author says it
/// must hold. What is printed keeps no rule from holding elsewhere.
pub(crate) fn divide(problems: &[&Problem]) -> Option<Vec<PartDivision>> {
    let settled = settle_again(problems, &mut RememberedSearches::none())?;
    Some(settled.parts)
}

/// How parts were divided in the end.
struct Settled {
    /// What they were asked, where that is not what they ask of themselves.
    asked: Option<Vec<Problem>>,
    /// What gave way.
    soft: Vec<RuleName>,
    parts: Vec<PartDivision>,
}

impl Settled {
    /// What parts that ask this of themselves were asked in the end.
    fn together(self, problems: &[&Problem]) -> Together {
        let own = || problems.iter().map(|&problem| problem.clone()).collect();
        Together {
            problems: self.asked.unwrap_or_else(own),
            soft: self.soft,
        }
    }
}

/// Divides as [`divide`] does, with what is remembered of earlier searches.
fn settle_again(problems: &[&Problem], searched: &mut RememberedSearches) -> Option<Settled> {
    let has = |what: fn(&PanelFacts) -> bool| {
        let mut panels = problems.iter().flat_map(|problem| &problem.panels);
        panels.any(what)
    };
    if has(|panel| panel.chosen.is_some()) {
        return divide_as_chosen(problems, searched);
    }
    let mut with = |problems: &[&Problem]| {
        let mut with = |soft: Vec<RuleName>| settled(problems, soft, searched);
        with(Vec::new()).or_else(|| with(vec![may_give_way(problems)?]))
    };
    with(problems).or_else(|| {
        let printed = has(|panel| panel.passed.is_some());
        let printed = printed.then(|| problems.iter().map(|problem| problem.as_printed()));
        let printed: Vec<Problem> = printed?.collect();
        let settled = with(&printed.iter().collect::<Vec<_>>())?;
        Some(Settled {
            asked: Some(printed),
            ..settled
        })
    })
}

/// Divides parts of which panels are chosen: all of them as chosen, and if that cannot be, as many as can be. What was
/// chosen goes before whole stanzas.
fn divide_as_chosen(problems: &[&Problem], searched: &mut RememberedSearches) -> Option<Settled> {
    let printed = problems.iter().map(|problem| problem.as_printed());
    let printed: Vec<Problem> = printed.collect();
    let as_chosen: Vec<Problem> = printed.iter().map(all_as_chosen).collect();
    let soft: Vec<RuleName> = may_give_way(&printed.iter().collect::<Vec<_>>())
        .into_iter()
        .collect();
    let mut with = |asked: &[Problem], soft: &[RuleName]| {
        let problems: Vec<&Problem> = asked.iter().collect();
        settled(&problems, soft.to_vec(), searched)
    };
    let found = with(&as_chosen, &[]).or_else(|| with(&as_chosen, &soft));
    let (asked, found) = match found {
        Some(found) => (as_chosen, found),
        None => {
            let found = with(&printed, &soft)?;
            (printed, found)
        }
    };
    let mut found = Settled {
        asked: Some(asked),
        ..found
    };
    for part in &mut found.parts {
        let costs = part.panels.iter().flat_map(|panel| &panel.costs);
        let paid: Vec<RuleName> = costs.map(|(rule, _)| *rule).collect();
        part.gave_way.retain(|rule| paid.contains(rule));
    }
    Some(found)
}

fn settled(
    problems: &[&Problem],
    soft: Vec<RuleName>,
    searched: &mut RememberedSearches,
) -> Option<Settled> {
    let parts = divide_again(problems, &soft, Limits::default(), searched)?;
    Some(Settled {
        asked: None,
        soft,
        parts,
    })
}

/// Parts as they are divided where nothing else helps: what is printed or chosen then goes before hard rules.
pub(crate) fn at_last(problems: &[&Problem]) -> Vec<Problem> {
    let mut panels = problems.iter().flat_map(|problem| &problem.panels);
    let kept = panels.any(|panel| panel.chosen.is_some() || panel.passed.is_some());
    let at_last = problems.iter().map(|problem| match kept {
        true => problem.as_printed(),
        false => (*problem).clone(),
    });
    at_last.collect()
}

/// Whether [`divide`] finds a division, which is known sooner than which it is.
pub(crate) fn is_possible(problems: &[&Problem]) -> bool {
    let soft: Vec<RuleName> = may_give_way(problems).into_iter().collect();
    let problems = at_last(problems);
    let problems: Vec<&Problem> = problems.iter().collect();
    division::is_possible(&problems, &soft, Limits::default())
}

/// A part whose panels must carry what was chosen for them.
fn all_as_chosen(problem: &Problem) -> Problem {
    let mut problem = problem.clone();
    let weights = &mut problem.rules.weights;
    weights.entry(RuleName::ChosenBreaks).or_default().hard = Some(true);
    problem
}

/// The rule that gives way where no division keeps all.
pub(crate) fn may_give_way(problems: &[&Problem]) -> Option<RuleName> {
    let rules = &problems[0].rules;
    let must = rules.weight(RuleName::Undivided).hard == Some(true);
    (!must && rules.is_hard(RuleName::Undivided)).then_some(RuleName::Undivided)
}
