//! The two largest sizes: at which no line turns over, and at which the words fit the panels.
//!
//! Neither is monotone (a smaller size may break a line worse, or need one panel more), so sizes are tried from the
//! largest that a plan may have down, a tenth of a point each, and the first that is right is the answer. Sizes that
//! surely cannot be right are passed over by [`Bounds`]; these are never used to say that a size is right.

use std::sync::Arc;

use rayon::prelude::*;

use super::bounds::Bounds;
use super::{book, book::Book};
use crate::book::PreparedBook;
use crate::names::Length;
use crate::paper::Strip;
use crate::plan::Plan;
use crate::setting::Remembered;

/// The smallest and the largest size that a plan may have.
pub(super) const SMALLEST: Length = Length::pt(3);
pub(super) const LARGEST: Length = Length::pt(144);
/// Smaller type is not looked for unless the plan has it: it would not be read.
const SMALLEST_READ: Length = Length::pt(6);
/// How many sizes are tried at once.
const AT_ONCE: usize = 2;

/// A largest size.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Largest {
    /// The size.
    pub size: Length,
    /// The leading that goes with it.
    pub leading: Length,
    /// How many lines then turn over.
    pub turned_over: usize,
    /// How many stanzas then stand on more than one panel.
    pub stanzas_divided: usize,
}

/// A largest size, and what its lines came to.
pub(super) type Found = (Largest, Remembered);

/// Looks for the largest sizes.
pub(super) struct Search<'a> {
    book: &'a Book<'a>,
    bounds: Bounds,
}

impl<'a> Search<'a> {
    pub fn new(book: &'a Book<'a>, prepared: &PreparedBook) -> Search<'a> {
        Search {
            book,
            bounds: Bounds::new(prepared),
        }
    }

    /// The largest size at which no line of verse turns over on panels of words alone.
    pub fn whole_lines(&self) -> Option<Found> {
        let could = |plan: &Plan| !self.bounds.surely_turns(plan);
        self.first_right(could, |plan, remembered| {
            let strip = Strip::new(plan.paper);
            let set = self.book.set(plan, &strip, remembered);
            let turned_over = book::turned_over_on_plain_panels(&set.ok()?, plan);
            (turned_over == 0).then_some((0, 0))
        })
    }

    /// The largest size that fits the plan's panels.
    pub fn fits(&self) -> Option<Found> {
        let could = |plan: &Plan| self.bounds.could_fit(self.book, plan);
        self.first_right(could, |plan, remembered| {
            let plan = Arc::new(plan.clone());
            let prepared = self.book.pose_plan(plan, remembered);
            let prepared = prepared.ok()?;
            let parts = book::division(&prepared)?;
            let figures = book::figures(&prepared, &parts, None);
            Some((figures.turned_over, figures.stanzas_divided))
        })
    }

    /// The first size from the largest down that is right, of those that could be.
    fn first_right(
        &self,
        could: impl Fn(&Plan) -> bool,
        right: impl Fn(&Plan, &mut Remembered) -> Option<(usize, usize)> + Sync,
    ) -> Option<Found> {
        let tenth = Length::pt(1) / 10;
        let smallest = match self.book.plan.text.size < SMALLEST_READ {
            true => SMALLEST,
            false => SMALLEST_READ,
        };
        let tenths = (smallest.units() / tenth.units())..=(LARGEST.units() / tenth.units());
        let sizes = tenths.rev().map(|tenths| tenth * tenths);
        let plans = sizes.filter_map(|size| self.book.plan_at(size).ok());
        let mut plans = plans.filter(|plan| could(plan));
        loop {
            let next: Vec<Arc<Plan>> = plans.by_ref().take(AT_ONCE).collect();
            if next.is_empty() {
                return None;
            }
            let tried = next.par_iter().map(|plan| {
                let mut remembered = Remembered::default();
                let (turned_over, stanzas_divided) = right(plan, &mut remembered)?;
                let largest = Largest {
                    size: plan.text.size,
                    leading: plan.text.leading,
                    turned_over,
                    stanzas_divided,
                };
                Some((largest, remembered.of_whole_parts()))
            });
            let tried: Vec<Option<Found>> = tried.collect();
            if let Some(found) = tried.into_iter().flatten().next() {
                return Some(found);
            }
        }
    }
}
