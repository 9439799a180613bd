//! The book made again with something changed, exactly as the author would change it.

use std::cell::RefCell;
use std::sync::Arc;

use super::steps::Step;
use crate::book::plan_file::change::{Change, changed};
use crate::book::plan_file::vary::Variation;
use crate::book::{PreparedBook, at_last, divide, is_possible, read_manuscript};
use crate::division::{PartDivision, Problem};
use crate::names::{Role, Source};
use crate::paper::Strip;
use crate::plan::Plan;
use crate::setting::{self, Remembered, SetLines};
use crate::text::Manuscript;
use crate::typeface::FontLibrary;

/// What the plan of a book is read from.
#[derive(Clone, Copy)]
pub(crate) struct PlanText<'a> {
    /// The author's file.
    pub source: &'a Arc<Source>,
    /// What is otherwise than in the file.
    pub variation: Variation,
}

/// A book of which some parts cannot be divided.
pub(super) struct Stuck<'a> {
    /// The book.
    pub prepared: &'a PreparedBook,
    /// Those parts, which are divided at once.
    pub group: &'a [usize],
    text: PlanText<'a>,
    fonts: &'a FontLibrary,
    /// What its lines came to.
    known: Remembered,
    /// The same of the last of other lines.
    remembered: RefCell<Remembered>,
}

/// The book with something changed, and how those parts are then divided.
pub(super) struct Freed {
    /// The book.
    pub prepared: PreparedBook,
    /// The divisions, in the order of the parts.
    pub parts: Vec<PartDivision>,
}

impl<'a> Stuck<'a> {
    pub fn new(
        prepared: &'a PreparedBook,
        group: &'a [usize],
        text: PlanText<'a>,
        (fonts, remembered): (&'a FontLibrary, &Remembered),
    ) -> Stuck<'a> {
        Stuck {
            prepared,
            group,
            text,
            fonts,
            known: remembered.of_whole_parts(),
            remembered: RefCell::default(),
        }
    }

    /// The problems of the parts as conflicts are found in them: panels that are closed to words have the room that
    /// they would have if their pins were lifted.
    pub fn problems(&self) -> Vec<Problem> {
        let opened = self.opened().and_then(|plan| {
            let set = self.set(&self.prepared.manuscript, &plan, &self.prepared.strip)?;
            self.pose(
                &self.prepared.manuscript,
                Arc::clone(&self.prepared.plan),
                set,
                &[],
            )
        });
        let prepared = opened.as_ref().unwrap_or(self.prepared);
        let problems = prepared.problems_of(self.group);
        at_last(&problems)
    }

    /// The plan with every panel open to words that is pinned blank and would have room; nothing where there is none.
    fn opened(&self) -> Option<Plan> {
        let mut plan = (*self.prepared.plan).clone();
        let mut opens = false;
        for at in 0..plan.panels.len() {
            if plan.panels[at].role != Some(Role::Blank) {
                continue;
            }
            plan.panels[at].role = None;
            let areas = setting::areas(
                &self.prepared.manuscript,
                &plan,
                &self.prepared.strip,
                self.fonts,
            );
            match areas {
                Ok(_) => opens = true,
                Err(_) => plan.panels[at].role = Some(Role::Blank),
            }
        }
        opens.then_some(plan)
    }

    /// The book with some steps taken; nothing where it is then wrong.
    pub fn with(&self, steps: &[Step]) -> Option<PreparedBook> {
        let changes = steps.iter().filter_map(|step| match step {
            Step::Plan(change) => Some(change.clone()),
            _ => None,
        });
        let changes: Vec<Change> = changes.collect();
        let plan = match changes.is_empty() {
            true => Arc::clone(&self.prepared.plan),
            false => Arc::new(changed(self.text.source, self.text.variation, &changes).ok()?),
        };
        let manuscript = self.manuscript(&plan, steps)?;
        let set = self.set(&manuscript, &plan, &Strip::new(plan.paper))?;
        self.pose(&manuscript, plan, set, steps)
    }

    /// The manuscript without callouts that steps take out.
    fn manuscript(&self, plan: &Plan, steps: &[Step]) -> Option<Arc<Manuscript>> {
        let taken = |name: &str| {
            let mut steps = steps.iter();
            steps.any(|step| matches!(step, Step::Caption(picture) if picture == name))
        };
        let manuscript = &self.prepared.manuscript;
        let parts = manuscript.parts().iter();
        let calls = parts.flat_map(|part| &part.captions);
        let mut calls: Vec<_> = calls.filter(|call| taken(&call.name)).collect();
        if calls.is_empty() {
            return Some(Arc::clone(manuscript));
        }
        let source = manuscript.source();
        let mut text = source.text.clone();
        calls.sort_by_key(|call| std::cmp::Reverse(call.place.span.start));
        for call in calls {
            let from = text[..call.place.span.start]
                .rfind('\n')
                .map_or(0, |at| at + 1);
            let to = text[call.place.span.end..].find('\n');
            let to = to.map_or(text.len(), |at| call.place.span.end + at + 1);
            text.replace_range(from..to, "");
        }
        let source = Source::new(source.name.as_str(), text);
        read_manuscript(&source, plan).ok().map(Arc::new)
    }

    fn set(&self, manuscript: &Manuscript, plan: &Plan, strip: &Strip) -> Option<SetLines> {
        let remembered = &mut self.remembered.borrow_mut();
        // Most changes leave the lines as they are.
        remembered.take_whole_parts(&self.known);
        setting::set_again(manuscript, plan, strip, self.fonts, remembered).ok()
    }

    fn pose(
        &self,
        manuscript: &Arc<Manuscript>,
        plan: Arc<Plan>,
        set: SetLines,
        steps: &[Step],
    ) -> Option<PreparedBook> {
        let strip = Strip::new(plan.paper);
        let mut posed =
            PreparedBook::new(Arc::clone(manuscript), plan, strip, Arc::new(set)).ok()?;
        if let Some(keeps) = &self.prepared.keeps {
            let mut kept = keeps.breaks.clone();
            for panel in &mut kept.panels {
                if steps.contains(&Step::Release(panel.panel)) {
                    panel.passed = None;
                }
            }
            posed.keep(kept).ok()?;
        }
        Some(posed)
    }

    /// The book with some steps taken, if these parts can then be divided, and all others that could be can be still.
    pub fn opens(&self, steps: &[Step]) -> Option<PreparedBook> {
        let changed = self.with(steps)?;
        self.opened_by(&changed, &|group| is_possible(&changed.problems_of(group)))
            .then_some(changed)
    }

    /// Whether these parts can be divided in a changed book, which `can_be` tells of a group of theirs, and all others
    /// that could be can be still.
    fn opened_by(&self, changed: &PreparedBook, can_be: &dyn Fn(&[usize]) -> bool) -> bool {
        let groups = changed.groups();
        let ours = |group: &Vec<usize>| group.iter().any(|at| self.group.contains(at));
        let possible =
            |book: &PreparedBook, group: &Vec<usize>| is_possible(&book.problems_of(group));
        let as_before = |group: &Vec<usize>| {
            let same = |at: &usize| self.prepared.problems.get(*at) == changed.problems.get(*at);
            group.iter().all(same)
        };
        // Parts that stand in the way by themselves do not spoil what helps these.
        let mattered = |group: &Vec<usize>| {
            let before = self.prepared.groups();
            !before.contains(group) || possible(self.prepared, group)
        };
        groups.iter().all(|group| match ours(group) {
            true => can_be(group),
            false => as_before(group) || possible(changed, group) || !mattered(group),
        })
    }

    /// The same, divided.
    pub fn divided(&self, steps: &[Step]) -> Option<Freed> {
        let prepared = self.with(steps)?;
        if !self.opened_by(&prepared, &|_| true) {
            return None;
        }
        let mut parts: Vec<Option<PartDivision>> = vec![None; self.group.len()];
        for group in prepared.groups() {
            if !group.iter().any(|at| self.group.contains(at)) {
                continue;
            }
            let found = divide(&prepared.problems_of(&group))?;
            for (at, part) in group.iter().zip(found) {
                if let Some(own) = self.group.iter().position(|own| own == at) {
                    parts[own] = Some(part);
                }
            }
        }
        let parts = parts.into_iter().collect::<Option<Vec<_>>>()?;
        Some(Freed { prepared, parts })
    }
}
