//! How the bound counts pictures.

use super::part_search::PartSearch;
use crate::plan::RuleName;

/// How many that wait are told apart where any number may.
const REACH: usize = 4;

/// How the bound counts pictures of the queue.
#[derive(Default)]
pub(super) enum Count {
    /// Not at all.
    #[default]
    Not,
    /// From those whose words stand before a place: so many of these may wait yet, and so many others may have
    /// come before their words.
    Near {
        /// By place: how many have their words before it.
        called: Vec<usize>,
        /// The most that wait: each must come within so many panels, on one of its own.
        latest: usize,
        /// The most that came early.
        early: usize,
    },
    /// The same where any number may wait or have come: those beyond `reach` are not told apart.
    Around { called: Vec<usize>, reach: usize },
    /// All of them.
    All {
        called: Vec<usize>,
        /// How many there are.
        pictures: usize,
    },
}

impl Count {
    pub fn lanes(&self) -> usize {
        match self {
            Count::Not => 1,
            Count::Near { latest, early, .. } => latest + early + 1,
            Count::Around { reach, .. } => 2 * reach + 1,
            Count::All { pictures, .. } => pictures + 1,
        }
    }

    /// How many more have their words before a place than have been placed there, in a lane; below nought where more
    /// have been placed. Of those that are not told apart, the fewest.
    pub fn waiting(&self, lane: usize, place: usize) -> i64 {
        let lane = lane as i64;
        match self {
            Count::Not => 0,
            Count::Near { latest, .. } => *latest as i64 - lane,
            Count::Around { reach, .. } => *reach as i64 - lane,
            Count::All { called, .. } => called[place] as i64 - lane,
        }
    }

    /// The lane of so many placed before a place; nothing where that cannot be.
    pub fn lane(&self, placed: usize, place: usize) -> Option<usize> {
        match self {
            Count::Not => Some(0),
            Count::Near {
                called,
                latest,
                early,
            } => {
                let lane = (placed + latest).checked_sub(called[place])?;
                (lane <= latest + early).then_some(lane)
            }
            Count::Around { called, reach } => {
                let lane = (placed + reach).saturating_sub(called[place]);
                Some(lane.min(2 * reach))
            }
            Count::All { .. } => Some(placed),
        }
    }

    /// The lanes, from one to another, that may lie behind a panel that words stand on and a picture may begin on;
    /// nothing where that cannot be.
    pub fn next(
        &self,
        lane: usize,
        begins: usize,
        from: usize,
        to: usize,
    ) -> Option<(usize, usize)> {
        let one = |lane: usize| (lane, lane);
        match self {
            Count::Not => Some((0, 0)),
            Count::Near {
                called,
                latest,
                early,
            } => {
                let here = called[to] - called[from];
                let next = (lane + begins).checked_sub(here)?;
                let waits = latest.saturating_sub(next);
                let came = next.saturating_sub(*latest);
                // Within one panel, only those of this one can wait on or have come.
                let may = next <= latest + early
                    && (*latest > 1 || waits <= here)
                    && (*early > 1 || came <= begins);
                may.then_some(one(next))
            }
            Count::Around { called, reach } => {
                let last = 2 * reach;
                let here = called[to] - called[from];
                let next = (lane + begins).saturating_sub(here).min(last);
                Some(match lane {
                    // More may wait, or have come, than the lane says.
                    0 => (0, next),
                    _ if lane == last => (next, last),
                    _ => one(next),
                })
            }
            Count::All { pictures, .. } => {
                Some(lane + begins).filter(|next| next <= pictures).map(one)
            }
        }
    }
}

impl PartSearch<'_> {
    /// How pictures can be counted, the best way first: near their words, if each of them must stand there.
    pub(super) fn counts_of_pictures(&self) -> Vec<Count> {
        let pictures = || self.queue.iter().map(|&at| &self.problem.pictures[at]);
        if self.queue.is_empty() {
            return Vec::new();
        }
        let windows: Option<Vec<_>> = pictures().map(|picture| picture.comes).collect();
        let words = pictures().map(|picture| picture.word_row.unwrap_or(0));
        let words: Vec<usize> = words.collect();
        let before = |place: usize| words.partition_point(|&word| word < place);
        let called: Vec<usize> = (0..=self.problem.rows.len()).map(before).collect();
        let known = pictures().all(|picture| picture.word_row.is_some());
        let hard = known && self.is_hard(RuleName::PictureComes);
        let (Some(windows), true) = (windows, hard) else {
            let all = Count::All {
                called: called.clone(),
                pictures: self.queue.len(),
            };
            let around = |reach: usize| Count::Around {
                called: called.clone(),
                reach,
            };
            let near = self.is_in_use(RuleName::Nearness) && self.queue.len() > 2 * REACH;
            let mut counts: Vec<Count> = (1..=REACH).rev().map(around).collect();
            counts.insert(if near { counts.len() } else { 0 }, all);
            return counts;
        };
        let latest = windows.iter().map(|window| window.latest).max();
        let soonest = windows.iter().map(|window| window.soonest).min();
        let panels = |count: Option<i8>| usize::try_from(count.unwrap_or(0)).unwrap_or(0);
        vec![Count::Near {
            called,
            latest: panels(latest),
            early: panels(soonest.map(i8::saturating_neg)),
        }]
    }
}
