//! Why a panel ends where it does: what every other end within reach would cost the whole book.

use super::{BreaksPolicy, PreparedBook, Workbench, may_give_way};
use crate::book::advice;
use crate::division::{
    Demand, Division, Limits, PanelDivision, PanelFacts, PartDivision, Problem, against, among,
    broken_here, divide_together,
};
use crate::names::{Fault, Faults, PanelName, Role, nearest};
use crate::plan::RuleName;

/// Ends farther from the chosen one than this, counted in places, are not tried.
const REACH: usize = 24;

/// Why a panel carries what it carries.
#[derive(Clone)]
#[non_exhaustive]
pub struct Why {
    /// The book.
    pub prepared: PreparedBook,
    /// The part that has the panel, by its place among the set parts.
    pub part: usize,
    /// What the panel carries in the best division.
    pub panel: PanelDivision,
    /// The best division of the part, or of the two that are paired, as [`Why::group`] has them.
    pub best: Vec<PartDivision>,
    /// The parts that are divided at once.
    pub group: Vec<usize>,
    /// Whether the division is proved to be the best.
    pub proved: bool,
    /// Rules that gave way.
    pub gave_way: Vec<RuleName>,
    /// What the author chose for the panel, and whether it is passed.
    pub kept: Kept,
    /// The other ends within reach, from the top down; none where the panel has no words.
    pub ends: Vec<Otherwise<usize>>,
    /// The other roles it might have; none where its role is pinned.
    pub roles: Vec<Otherwise<Role>>,
}

impl Why {
    /// Where a rule costs most more in other divisions of the same parts than in the best, with a figure.
    pub fn rises(&self, name: RuleName, parts: &[PartDivision]) -> Option<String> {
        advice::rises(&self.prepared, &self.group, name, (parts, &self.best))
    }
}

/// What is kept of a panel in `breaks.toml`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kept {
    /// Nothing: it is divided by the rules.
    Nothing,
    /// It is as the author chose.
    AsChosen,
    /// The author chose otherwise, and not all panels can be as chosen.
    NotAsChosen,
    /// It is passed for press.
    Passed,
}

/// Something that the panel might do otherwise, and what comes of it.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Otherwise<T> {
    /// What it would do: end at another place, or have another role.
    pub what: T,
    /// What comes of it.
    pub outcome: Outcome,
}

/// What comes of doing otherwise.
#[derive(Clone, Debug)]
pub enum Outcome {
    /// The whole book could still be divided.
    Costs {
        /// What the whole book would pay more, or less where the author chose something dearer; panels that are not
        /// as chosen are no part of it.
        more: i64,
        /// What it would pay more or less under each rule, those that rise most first.
        rules: Vec<(RuleName, i64)>,
        /// How many other panels more would not stay as the author chose them.
        unlike: usize,
        /// The book.
        parts: Vec<PartDivision>,
    },
    /// Demands that stand against it.
    Against(Vec<Demand>),
}

impl Workbench {
    /// Why a panel carries what it carries.
    ///
    /// # Errors
    /// As [`Workbench::lay_out`]; a panel that no part has.
    pub fn why(&mut self, panel: PanelName) -> Result<Why, Faults> {
        let texts = self.read_files()?;
        let prepared = self.prepare_book(&texts, BreaksPolicy::All)?;
        let division = self.divide_all(&prepared, &texts.plan)?;
        let has = |problem: &Problem| problem.panels.iter().position(|facts| facts.name == panel);
        let found = prepared.problems.iter().enumerate();
        let Some((part, index)) = found
            .filter_map(|(part, problem)| Some((part, has(problem)?)))
            .next()
        else {
            return Err(no_part(&prepared, panel).into());
        };
        let groups = prepared.groups();
        let group = groups.into_iter().find(|group| group.contains(&part));
        let group = group.unwrap_or_else(|| vec![part]);
        let (problems, best) = among_others(&prepared, &group, &division);
        let kept = kept(
            &prepared.problems[part].panels[index],
            &best[group.iter().position(|&at| at == part).unwrap_or(0)].panels[index],
        );
        let request = WhyRequest {
            problems: problems.iter().collect(),
            at: group.iter().position(|&at| at == part).unwrap_or(0),
            panel: index,
            best: &best,
        };
        Ok(Why {
            panel: request.here().clone(),
            ends: if kept == Kept::Passed {
                Vec::new()
            } else {
                request.ends()
            },
            roles: if kept == Kept::Passed {
                Vec::new()
            } else {
                request.roles()
            },
            kept,
            part,
            proved: best.iter().all(|part| part.proved),
            gave_way: best[0].gave_way.clone(),
            group,
            best,
            prepared,
        })
    }
}

/// The parts of a group as they are divided, while the other parts stay as they are: what those put behind their panels is
/// charged to these.
fn among_others(
    prepared: &PreparedBook,
    group: &[usize],
    division: &Division,
) -> (Vec<Problem>, Vec<PartDivision>) {
    let parts = prepared.problems.iter().zip(&division.parts).enumerate();
    let others = parts.filter(|(at, _)| !group.contains(at));
    let others = others.map(|(_, (problem, part))| (&**problem, part));
    let others: Vec<(&Problem, &PartDivision)> = others.collect();
    let group = group.iter();
    group
        .map(|&at| among(&prepared.problems[at], &division.parts[at], &others))
        .unzip()
}

fn kept(facts: &PanelFacts, found: &PanelDivision) -> Kept {
    if facts.passed.is_some() {
        Kept::Passed
    } else if facts.chosen.is_none() {
        Kept::Nothing
    } else if unlike(found) {
        Kept::NotAsChosen
    } else {
        Kept::AsChosen
    }
}

/// Whether a panel is not as the author chose.
fn unlike(panel: &PanelDivision) -> bool {
    let mut costs = panel.costs.iter();
    costs.any(|(rule, _)| *rule == RuleName::ChosenBreaks)
}

fn no_part(prepared: &PreparedBook, panel: PanelName) -> Fault {
    let known: Vec<String> = prepared
        .strip
        .panels()
        .map(|panel| panel.to_string())
        .collect();
    let read = panel.to_string();
    if known.contains(&read) {
        let what =
            format!("no part has the panel {panel}: it carries what is pinned to it, or nothing");
        return Fault::new("no-words", what);
    }
    Fault::new("wrong-panel", format!("the strip has no panel {panel}"))
        .allowed(format!("{} to {}", known[0], known[known.len() - 1]))
        .meant(nearest(&read, known.iter().map(String::as_str)))
}

/// A panel that is asked about, among the parts that are divided with its own.
struct WhyRequest<'a> {
    problems: Vec<&'a Problem>,
    /// Which of them has the panel.
    at: usize,
    panel: usize,
    best: &'a [PartDivision],
}

impl WhyRequest<'_> {
    fn here(&self) -> &PanelDivision {
        &self.best[self.at].panels[self.panel]
    }

    /// Every other place near the end at which a line ends that would fit.
    fn ends(&self) -> Vec<Otherwise<usize>> {
        let here = self.here();
        let problem = self.problems[self.at];
        let facts = &problem.panels[self.panel];
        let area = match (here.role, here.picture) {
            (Role::Text, _) => facts.area,
            (Role::Shared, Some(picture)) => facts.shared[picture],
            _ => None,
        };
        let Some(area) = area else { return Vec::new() };
        let ends = problem.ends(area.column, here.rows.start);
        let fitting = ends.take_while(|(_, used)| *used <= area.capacity);
        let near = |end: &usize| *end != here.rows.end && end.abs_diff(here.rows.end) <= REACH;
        let places: Vec<usize> = fitting.map(|(to, _)| to).filter(near).collect();
        let outcome = |end: usize| {
            self.outcome(
                |problem| problem.panels[self.panel].ends = Some(end),
                |demand| matches!(demand, Demand::Ends { panel, .. } if *panel == self.panel),
                Some(end),
            )
        };
        places
            .into_iter()
            .map(|what| Otherwise {
                what,
                outcome: outcome(what),
            })
            .collect()
    }

    /// Every other role that the panel might have.
    fn roles(&self) -> Vec<Otherwise<Role>> {
        let facts = &self.problems[self.at].panels[self.panel];
        if facts.role.is_some() {
            return Vec::new();
        }
        let problem = &self.problems[self.at];
        let named = !problem.pictures.is_empty();
        let alone = named || problem.unnamed_pictures() > 0;
        let roles = [Role::Text, Role::Shared, Role::Picture, Role::Blank];
        roles
            .into_iter()
            .filter(|role| *role != self.here().role)
            .filter(|role| match role {
                Role::Shared => named,
                Role::Picture => alone,
                _ => true,
            })
            .filter(|role| facts.picture.is_none() || role.has_picture())
            .map(|what| Otherwise {
                what,
                outcome: self.outcome(
                    |problem| problem.panels[self.panel].role = Some(what),
                    |demand| matches!(demand, Demand::Role { panel, .. } if *panel == self.panel),
                    None,
                ),
            })
            .collect()
    }

    fn outcome(
        &self,
        change: impl Fn(&mut Problem),
        is_change: impl Fn(&Demand) -> bool,
        end: Option<usize>,
    ) -> Outcome {
        let mut changed: Vec<Problem> = self.problems.iter().map(|p| (*p).clone()).collect();
        let mut panels = changed.iter().flat_map(|problem| &problem.panels);
        if panels.any(|panel| panel.chosen.is_some()) {
            // The book itself is divided so where panels are chosen.
            changed = changed.iter().map(Problem::as_printed).collect();
        }
        lift(&mut changed[self.at], self.panel);
        change(&mut changed[self.at]);
        let changed: Vec<&Problem> = changed.iter().collect();
        let mut soft: Vec<RuleName> = self.best[0].gave_way.clone();
        let limits = Limits::default();
        let mut found = divide_together(&changed, &soft, limits).0;
        if let Some(rule) =
            may_give_way(&changed).filter(|rule| found.is_none() && !soft.contains(rule))
        {
            // Where nothing else is possible it gives way for the book itself too.
            soft.push(rule);
            found = divide_together(&changed, &soft, limits).0;
        }
        if let Some(parts) = found {
            let rules = differences(&parts, self.best);
            let others = |parts: &[PartDivision]| {
                let panels = parts.iter().enumerate().flat_map(|(part, found)| {
                    let panels = found.panels.iter().enumerate();
                    panels.map(move |(index, panel)| ((part, index), panel))
                });
                let others = panels.filter(|(at, _)| *at != (self.at, self.panel));
                others.filter(|(_, panel)| unlike(panel)).count()
            };
            return Outcome::Costs {
                more: rules.iter().map(|(_, more)| more).sum(),
                unlike: others(&parts).saturating_sub(others(self.best)),
                rules,
                parts,
            };
        }
        // What one panel breaks by itself needs no search.
        let here = self.here();
        if let Some(end) = end {
            let carried = (here.role, here.picture, here.rows.start..end);
            let broken = broken_here(changed[self.at], &soft, self.panel, carried);
            if !broken.is_empty() {
                return Outcome::Against(broken.into_iter().map(Demand::Rule).collect());
            }
        }
        let against = against(&changed, &soft, limits);
        let against = against.unwrap_or_default().into_iter();
        Outcome::Against(against.filter(|demand| !is_change(demand)).collect())
    }
}

/// Asks no more of a panel what the author chose for it, nor where the next words begin: those end as she chose.
fn lift(problem: &mut Problem, panel: usize) {
    problem.panels[panel].chosen = None;
    let anywhere = (0, problem.rows.len());
    for facts in &mut problem.panels[panel + 1..] {
        if let Some(words) = facts
            .chosen
            .as_mut()
            .and_then(|chosen| chosen.words.as_mut())
        {
            words.begins = anywhere;
            break;
        }
    }
}

/// What one book pays more than another under each rule, those that rise most first. What was chosen is no rule of
/// the book.
fn differences(one: &[PartDivision], other: &[PartDivision]) -> Vec<(RuleName, i64)> {
    let paid = |parts: &[PartDivision], name: RuleName| -> i64 {
        let panels = parts.iter().flat_map(|part| &part.panels);
        let costs = panels.flat_map(|panel| &panel.costs);
        costs
            .filter(|(rule, _)| *rule == name)
            .map(|(_, cost)| *cost as i64)
            .sum()
    };
    let rules = RuleName::ALL.iter().map(|(name, ..)| *name);
    let rules = rules.filter(|name| *name != RuleName::ChosenBreaks);
    let mut changed: Vec<(RuleName, i64)> = rules
        .map(|name| (name, paid(one, name) - paid(other, name)))
        .filter(|(_, more)| *more != 0)
        .collect();
    changed.sort_by_key(|(_, more)| std::cmp::Reverse(*more));
    changed
}
