//! Trials: the best ways that really differ, and the best at other sizes and with other numbers of panels.

use std::sync::Arc;

use super::{BookTexts, BreaksPolicy, PreparedBook, Workbench, cannot, may_give_way};
use crate::book::advice::{self, PlanText};
use crate::book::plan_file::vary::{Variation, vary};
use crate::division::{
    BestDivisions, Cost, Division, Limits, PartDivision, Pattern, Together, best_back_to_back,
    best_divisions,
};
use crate::layout::breaks::WayName;
use crate::layout::{LaidPanel, Layout};
use crate::names::{Faults, Length};
use crate::outputs::{self, OutputFile};
use crate::paper::Strip;
use crate::plan::RuleName;

/// What trials are asked for.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TrialsRequest {
    /// How many of the plan as it is; at least 1.
    pub most: usize,
    /// What makes one different from another.
    pub pattern: Pattern,
    /// Other type sizes to try.
    pub sizes: Vec<Length>,
    /// Other numbers of panels on a side to try.
    pub panels: Vec<u16>,
}

/// One way to divide the book.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Trial {
    /// The book, laid out that way.
    pub layout: Layout,
    /// What is otherwise than in the plan.
    pub variation: Variation,
    /// The division, where nothing is otherwise.
    pub division: Option<Division>,
    /// The name by which it is kept, if it is.
    pub kept_as: Option<WayName>,
}

impl Trial {
    /// What to call it, by its place among the trials.
    pub fn name(&self, at: usize) -> String {
        let name = match (self.variation == Variation::default(), at) {
            (true, 0) => "the best under your rules".to_string(),
            (true, _) => "another way".to_string(),
            (false, _) => format!("the best {}", self.variation.name()),
        };
        match (&self.kept_as, at) {
            (None, _) => name,
            (Some(way), 0) => format!("{name}, kept as {way}"),
            (Some(way), _) => format!("the way kept as {way}"),
        }
    }
}

/// The trials.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Trials {
    /// Those of the plan as it is, the best first; then the best of each variation.
    pub trials: Vec<Trial>,
    /// Variations of which none is possible, and why.
    pub none: Vec<(Variation, Faults)>,
    /// Whether there may be more ways that differ, behind all that were looked through.
    pub more: bool,
    /// Ways that are kept by name and are no more possible, and why.
    pub gone: Vec<(WayName, Faults)>,
    /// The texts that the book was made from.
    pub texts: BookTexts,
    /// The book as the plan has it.
    pub prepared: Option<PreparedBook>,
}

impl Workbench {
    /// The best trials of the book.
    ///
    /// # Errors
    /// As [`Workbench::lay_out`]; but where other variations are asked for too, it is told beside them that the plan
    /// as it is cannot be divided.
    pub fn trials(&mut self, asked: &TrialsRequest) -> Result<Trials, Faults> {
        let texts = self.read_files()?;
        let plan_source = Arc::clone(&texts.plan);
        // Trials show what else could be: what was chosen is not asked of them.
        let prepared = self.prepare_book(&texts, BreaksPolicy::Passed)?;
        let mut trials = Trials {
            trials: Vec::new(),
            none: Vec::new(),
            more: false,
            gone: Vec::new(),
            texts,
            prepared: None,
        };
        let plain = Variation::default();
        let text = |variation| PlanText {
            source: &plan_source,
            variation,
        };
        match self.best_of(&prepared, text(plain), asked.pattern, asked.most) {
            Ok((divisions, complete)) => {
                trials.more = !complete;
                for division in divisions {
                    trials.trials.push(Trial {
                        layout: self.compose(&prepared, &division)?,
                        variation: plain,
                        division: Some(division),
                        kept_as: None,
                    });
                }
            }
            Err(faults) if asked.sizes.is_empty() && asked.panels.is_empty() => return Err(faults),
            Err(faults) => trials.none.push((plain, faults)),
        }
        self.add_kept(&mut trials);
        for variation in variations(asked, &prepared) {
            let tried = vary(&plan_source, variation).and_then(|plan| {
                let plan = Arc::new(plan);
                let strip = Strip::new(plan.paper);
                let manuscript = Arc::clone(&prepared.manuscript);
                let set = crate::setting::set(&manuscript, &plan, &strip, &self.fonts)?;
                let prepared = PreparedBook::new(manuscript, plan, strip, Arc::new(set))?;
                let (divisions, _) = self.best_of(&prepared, text(variation), asked.pattern, 1)?;
                self.compose(&prepared, &divisions[0])
            });
            match tried {
                Ok(layout) => trials.trials.push(Trial {
                    layout,
                    variation,
                    division: None,
                    kept_as: None,
                }),
                Err(faults) => trials.none.push((variation, faults)),
            }
        }
        trials.prepared = Some(prepared);
        Ok(trials)
    }

    /// Adds the ways that are kept by name to the trials; one that is among them already only gets its name.
    fn add_kept(&mut self, trials: &mut Trials) {
        for way in self.ways() {
            let laid = self.read_files_with(&way).and_then(|texts| {
                let prepared = self.prepare_book(&texts, BreaksPolicy::All)?;
                let division = self.divide_all(&prepared, &texts.plan)?;
                Ok((self.compose(&prepared, &division)?, division))
            });
            let (layout, division) = match laid {
                Ok(laid) => laid,
                Err(faults) => {
                    trials.gone.push((way, faults));
                    continue;
                }
            };
            let same = trials
                .trials
                .iter_mut()
                .find(|trial| trial.kept_as.is_none() && is_same_way(&trial.layout, &layout));
            match same {
                Some(trial) => trial.kept_as = Some(way),
                None => trials.trials.push(Trial {
                    layout,
                    variation: Variation::default(),
                    division: Some(division),
                    kept_as: Some(way),
                }),
            }
        }
    }

    /// The file that shows trials side by side.
    ///
    /// # Errors
    /// A font that cannot be subset.
    pub fn trials_file(&self, trials: &Trials) -> Result<OutputFile, Faults> {
        let named = trials.trials.iter().enumerate();
        let named: Vec<_> = named
            .map(|(at, trial)| (trial.name(at), &trial.layout))
            .collect();
        let typeface = self.label_typeface()?;
        let bytes = outputs::trials(&named, &typeface).map_err(|error| cannot(&error))?;
        Ok(OutputFile {
            name: "trials.pdf".to_string(),
            bytes,
        })
    }

    /// The best divisions of distinct pattern, never none; and whether there are no more, where they are fewer than were
    /// asked for.
    fn best_of(
        &self,
        prepared: &PreparedBook,
        text: PlanText<'_>,
        pattern: Pattern,
        most: usize,
    ) -> Result<(Vec<Division>, bool), Faults> {
        let mut complete = true;
        let mut best: Vec<(Cost, Vec<(usize, PartDivision)>)> = vec![(0, Vec::new())];
        let mut faults = Faults::new();
        for groups in prepared.groups_back_to_back() {
            let ways = match best_of_groups(prepared, &groups, pattern, most) {
                Ok(ways) => ways,
                Err(without) => {
                    for group in without {
                        faults.push(advice::no_way(
                            prepared,
                            text,
                            (&self.fonts, &self.remembered),
                            &group,
                        ));
                    }
                    continue;
                }
            };
            let group = groups.concat();
            complete &= ways.complete;
            let joined = best.iter().flat_map(|(cost, known)| {
                let group = &group;
                ways.ways.iter().map(move |parts| {
                    let more: Cost = parts.iter().map(|part| part.cost).sum();
                    let mut all = known.clone();
                    all.extend(group.iter().copied().zip(parts.iter().cloned()));
                    (cost + more, all)
                })
            });
            let mut joined: Vec<_> = joined.collect();
            // Among equals those of the better ways with the parts before come first.
            joined.sort_by_key(|(cost, _)| *cost);
            joined.truncate(most);
            best = joined;
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let divisions = best.into_iter().map(|(_, mut parts)| {
            parts.sort_by_key(|(at, _)| *at);
            let parts = parts.into_iter().map(|(_, part)| part);
            Division {
                parts: parts.collect(),
            }
        });
        Ok((divisions.collect(), complete))
    }
}

/// The best ways of a group of parts, or of some that lie back to back, in the order of all their parts.
///
/// # Errors
/// The groups that cannot be divided.
fn best_of_groups(
    prepared: &PreparedBook,
    groups: &[Vec<usize>],
    pattern: Pattern,
    most: usize,
) -> Result<BestDivisions, Vec<Vec<usize>>> {
    let limits = Limits::default();
    let best = |group: &Vec<usize>, most: usize| {
        let problems = prepared.problems_of(group);
        let with = |soft: Vec<RuleName>| {
            let ways = best_divisions(&problems, &soft, limits, pattern, most);
            (!ways.ways.is_empty()).then_some((ways, soft))
        };
        with(Vec::new()).or_else(|| with(vec![may_give_way(&problems)?]))
    };
    if let [group] = groups {
        let found = best(group, most).map(|(ways, _)| ways);
        return found.ok_or_else(|| vec![group.clone()]);
    }
    let found = groups.iter().map(|group| (group, best(group, 1)));
    let found: Vec<_> = found.collect();
    let without = found.iter().filter(|(_, best)| best.is_none());
    let without: Vec<Vec<usize>> = without.map(|(group, _)| (*group).clone()).collect();
    if !without.is_empty() {
        return Err(without);
    }
    let together = found.into_iter().filter_map(|(group, best)| {
        let problems = prepared.problems_of(group).into_iter().cloned();
        Some(Together {
            problems: problems.collect(),
            soft: best?.1,
        })
    });
    let together: Vec<Together> = together.collect();
    Ok(best_back_to_back(&together, limits, pattern, most))
}

/// Whether two layouts put the same on every panel.
fn is_same_way(one: &Layout, other: &Layout) -> bool {
    let alike = |(one, other): (&LaidPanel, &LaidPanel)| {
        let carries = |panel: &LaidPanel| (panel.role, panel.picture.clone(), panel.words());
        carries(one) == carries(other)
    };
    one.panels.len() == other.panels.len() && one.panels.iter().zip(&other.panels).all(alike)
}

/// Every size with every number of panels that is not as in the plan.
fn variations(asked: &TrialsRequest, prepared: &PreparedBook) -> Vec<Variation> {
    let size = prepared.plan.text.size;
    let panels = prepared.plan.paper.panels.per_side;
    let others = |size: &Length| (*size != prepared.plan.text.size).then_some(*size);
    let mut sizes: Vec<Option<Length>> = asked.sizes.iter().map(others).collect();
    let mut counts: Vec<Option<u16>> = asked
        .panels
        .iter()
        .map(|&count| (count != panels).then_some(count))
        .collect();
    if sizes.is_empty() || !asked.panels.is_empty() && !asked.sizes.contains(&size) {
        sizes.push(None);
    }
    if counts.is_empty() || !asked.sizes.is_empty() && !asked.panels.contains(&panels) {
        counts.push(None);
    }
    let mut found: Vec<Variation> = Vec::new();
    for &panels in &counts {
        for &size in &sizes {
            let variation = Variation { size, panels };
            if variation != Variation::default() && !found.contains(&variation) {
                found.push(variation);
            }
        }
    }
    found
}
