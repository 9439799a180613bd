//! What the workbench remembers of its stations' products, each with what it was made from.
//!
//! What a product was made from is compared as it is, first by where it lies in memory: most of it is the very same.

use std::sync::Arc;

use crate::division::{PartDivision, Problem};
use crate::names::Length;
use crate::plan::{Plan, WrapperPlan};
use crate::setting::SetLines;
use crate::text::Manuscript;

/// A product, and what it was made from.
pub(super) struct Cached<From, Product> {
    pub from: From,
    pub product: Arc<Product>,
}

/// The product that was made from this, if any is known.
pub(super) fn known<From: PartialEq, Product>(
    cached: &Option<Cached<From, Product>>,
    from: &From,
) -> Option<Arc<Product>> {
    let cached = cached.as_ref().filter(|cached| cached.from == *from);
    cached.map(|cached| Arc::clone(&cached.product))
}

/// What lines are set from.
#[derive(Clone)]
pub(super) struct LinesFrom {
    pub manuscript: Arc<Manuscript>,
    pub plan: Arc<Plan>,
    /// The bytes of every mask that the plan names; nothing for one that cannot be read.
    pub masks: Vec<Option<Vec<u8>>>,
}

impl PartialEq for LinesFrom {
    fn eq(&self, other: &LinesFrom) -> bool {
        let same_plan = || {
            Arc::ptr_eq(&self.plan, &other.plan) || of_lines(&self.plan) == of_lines(&other.plan)
        };
        // The plan says how a manuscript is read.
        let same_words = Arc::ptr_eq(&self.manuscript, &other.manuscript)
            || self.manuscript.source() == other.manuscript.source();
        same_words && self.masks == other.masks && same_plan()
    }
}

/// A plan without what has no say in how lines are set.
fn of_lines(plan: &Plan) -> Plan {
    let mut plan = Plan {
        rules: Default::default(),
        blank_before: Vec::new(),
        reveal: Vec::new(),
        ..without_press(plan)
    };
    for picture in &mut plan.pictures {
        (picture.comes, picture.with) = (None, None);
    }
    for pin in &mut plan.panels {
        (pin.begins, pin.fullness) = (None, None);
    }
    plan.without_places()
}

/// A plan without what has no say in how words are set and divided: paper, sheets and scans.
fn without_press(plan: &Plan) -> Plan {
    let mut plan = Plan {
        stock: Default::default(),
        score: Default::default(),
        boards: Default::default(),
        wrapper: WrapperPlan::Folded { flap: Length::ZERO },
        sheets: Default::default(),
        crossovers: Vec::new(),
        ..plan.clone()
    };
    for picture in &mut plan.pictures {
        picture.art = None;
        picture.runs_over = Default::default();
    }
    plan
}

/// The set lines of the last time.
pub(super) type KnownLines = Option<Cached<LinesFrom, SetLines>>;

/// For how many runs a division is remembered that none of them asks for.
const RUNS: usize = 4;

/// The divisions of the last runs, each with the problems that it answers.
#[derive(Default)]
pub(super) struct Divided {
    known: Vec<Answer>,
    run: usize,
}

struct Answer {
    problems: Vec<Arc<Problem>>,
    parts: Vec<PartDivision>,
    /// The last run that asked for it.
    asked: usize,
}

impl Divided {
    /// Begins a run: what the last ones did not ask for is forgotten.
    pub fn begin(&mut self) {
        self.run += 1;
        self.known.retain(|answer| answer.asked + RUNS >= self.run);
    }

    /// The answer to these problems, remembered or found; nothing where there is none.
    pub fn answer(
        &mut self,
        problems: &[Arc<Problem>],
        find: impl FnOnce(&[&Problem]) -> Option<Vec<PartDivision>>,
    ) -> Option<Vec<PartDivision>> {
        let alike = |answer: &&mut Answer| answer.problems == problems;
        if let Some(answer) = self.known.iter_mut().find(alike) {
            answer.asked = self.run;
            return Some(answer.parts.clone());
        }
        let asked: Vec<&Problem> = problems.iter().map(|problem| &**problem).collect();
        let parts = find(&asked)?;
        self.known.push(Answer {
            problems: problems.to_vec(),
            parts: parts.clone(),
            asked: self.run,
        });
        Some(parts)
    }
}
