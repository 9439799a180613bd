//! The pass: from the paragraph's end to its beginning, the best way on from every line.
//!
//! What follows a line depends on where it ends, on its look, and on how many hyphenated lines in a row it ends. So
//! for each point, and each such count, all lines from there are listed with what they and all that follows them
//! cost. A line that ends there chooses among them. Lists are kept as far as a line can reach.

use std::cmp::Reverse;
use std::collections::VecDeque;

use super::best::{Kept, NONE};
use super::reach::Reach;
use super::{
    BreakCost, LineBreaks, LineCost, LineFit, Point, SlotMeasures, Wall, Way, line_cost_by,
};
use crate::names::Length;

/// More hyphenated lines in a row than these breach a wall; longer rows are counted as if they were as long.
const MOST_HYPHENS: usize = 2;

/// Divides a paragraph from every point on, and from its beginning on every slot.
pub(super) fn run<W: Way>(points: &[Point], along: &SlotMeasures<'_>, way: &W) -> LineBreaks {
    let end = points.len().saturating_sub(1);
    let reach = Reach::new(points, way, along.widest());
    let draws = points.iter().any(|point| point.penalty < 0);
    let mut pass = Pass {
        points,
        way,
        reach: &reach,
        between: way.most_between().filter(|_| !draws),
        lines: Vec::new(),
    };
    let reached = pass.reached_by_first(along);
    let needed = reached.last().copied().unwrap_or(0);
    // From here on all slots are of one measure, and one stands for all.
    let last = along.last_that_differs();
    let mut fall = LineBreaks {
        first: vec![NONE; end],
        costs: vec![BreakCost::default(); end],
        begins: Vec::with_capacity(along.insets.len()),
        lines: Vec::new(),
    };
    let mut ahead: Vec<Ahead> = (0..=last).map(|_| Ahead::new(end)).collect();
    for from in (0..end).rev() {
        let lists = (0..=last).map(|slot| {
            let behind = &mut ahead[(slot + 1).min(last)];
            pass.lists_at(from, along.measure(slot), behind)
        });
        let mut lists: Vec<Lists> = lists.collect();
        (fall.first[from], fall.costs[from]) = pass.begin(&mut lists[0]);
        let far = reach.farthest_to(from.saturating_sub(1)).max(needed);
        for (ahead, lists) in ahead.iter_mut().zip(lists) {
            ahead.lists.push_front(lists);
            ahead.first = from;
            ahead.lists.truncate(far + 1 - from);
        }
    }
    for (slot, insets) in along.insets.iter().enumerate() {
        let begun = pass.begin_on(slot, insets, &reached, along, &mut ahead);
        fall.begins.push(begun);
    }
    if let (Some(first), Some(&(line, cost))) = (fall.first.first_mut(), fall.begins.first()) {
        *first = line;
        fall.costs[0] = cost;
    }
    fall.lines = pass.lines;
    fall.tidy()
}

/// A line that may be chosen.
#[derive(Clone, Copy)]
struct Choice {
    /// What it and all that follows it cost.
    cost: BreakCost,
    /// The point that it ends at.
    to: u32,
    look: i32,
    /// The line that follows it, among those that are kept.
    next: u32,
    /// Itself among those that are kept, if it is.
    kept: u32,
    fit: LineFit,
}

/// The lines that begin at a point, the best first: after no, one, or more hyphenated lines in a row. Where no
/// hyphen can stand before, the first list is all.
#[derive(Default)]
struct Lists([Vec<Choice>; MOST_HYPHENS + 1]);

/// The lists of points that lines can still reach.
struct Ahead {
    /// The point whose lists come first.
    first: usize,
    lists: VecDeque<Lists>,
}

impl Ahead {
    fn new(first: usize) -> Ahead {
        Ahead {
            first,
            lists: VecDeque::new(),
        }
    }

    /// The lines from a point after so many hyphenated ones; none from the end.
    fn at(&mut self, point: usize, hyphens: usize) -> &mut [Choice] {
        let lists = point
            .checked_sub(self.first)
            .and_then(|index| self.lists.get_mut(index));
        lists.map_or(&mut [], |lists| &mut lists.0[hyphens])
    }
}

struct Pass<'a, W> {
    points: &'a [Point],
    way: &'a W,
    reach: &'a Reach<'a, W>,
    /// What a line may cost more than another, at most, and still be better for what stands before it; nothing where that
    /// cannot be said.
    between: Option<i64>,
    lines: Vec<Kept>,
}

impl<W: Way> Pass<'_, W> {
    /// The farthest points that the first lines may begin at, and then the one where those that do not stand in may.
    fn reached_by_first(&self, along: &SlotMeasures<'_>) -> Vec<usize> {
        let most = along.insets.iter().map(Vec::len).max().unwrap_or(0);
        let mut reached = vec![0];
        let mut last = 0;
        // Each line takes a point at least.
        for number in 0..most.min(self.points.len()) {
            let measure = along.widest_first(number);
            last = (0..=last).fold(0, |far, from| {
                self.reach.farthest(from, measure, far.max(from))
            });
            reached.push(last);
        }
        reached
    }

    /// Begins the paragraph on a slot: its first line, and what all cost. Its first lines stand in.
    fn begin_on(
        &mut self,
        slot: usize,
        insets: &[Length],
        reached: &[usize],
        along: &SlotMeasures<'_>,
        ahead: &mut [Ahead],
    ) -> (u32, BreakCost) {
        let end = self.points.len().saturating_sub(1);
        let last = ahead.len() - 1;
        let lines = insets.len().min(reached.len() - 1);
        let mut below: Option<Ahead> = None;
        for number in (0..lines).rev() {
            let measure = along.measure(slot + number) - insets[number];
            let mut here = Ahead::new(0);
            for from in (0..(reached[number] + 1).min(end)).rev() {
                let behind = match &mut below {
                    Some(below) => below,
                    None => &mut ahead[(slot + number + 1).min(last)],
                };
                let lists = self.lists_at(from, measure, behind);
                here.lists.push_front(lists);
            }
            below = Some(here);
        }
        let lists = match &mut below {
            Some(below) => below.lists.front_mut(),
            None => ahead[slot.min(last)].lists.front_mut(),
        };
        lists.map_or((NONE, BreakCost::default()), |lists| self.begin(lists))
    }

    /// All lines from a point that may be the best for what stands before them, with the best of what may follow each: from
    /// the longest on, as long as those that are shorter may be.
    fn lists_at(&mut self, from: usize, measure: Length, ahead: &mut Ahead) -> Lists {
        let mut lists = Lists::default();
        let ends = self.reach.ends(from, measure);
        let runs = if self.points[from].hyphen {
            MOST_HYPHENS
        } else {
            0
        };
        let many = ends.len() > 1;
        // What no line costs that is chosen, after so many hyphens in a row.
        let mut most: [Option<BreakCost>; MOST_HYPHENS + 1] = [None; MOST_HYPHENS + 1];
        for to in ends.rev() {
            let least = self.least(from, to, measure);
            if most[..=runs]
                .iter()
                .all(|most| most.is_some_and(|most| least > most))
            {
                break;
            }
            let own = line_cost_by(self.points, from, to, measure, self.way);
            // Among several ends one lets the line fit.
            if many && own.fit == LineFit::Overfull {
                continue;
            }
            for run in 0..=runs {
                if most[run].is_some_and(|most| own.cost > most) {
                    continue;
                }
                let choice = self.choice(to, run, own, ahead);
                add(&mut lists.0[run], choice, self.points.len() - 1);
                if let Some(between) = self.between {
                    let own = choice.cost + BreakCost::ordinary(between);
                    most[run] = Some(most[run].map_or(own, |known| known.min(own)));
                }
            }
        }
        for list in &mut lists.0 {
            list.sort_unstable_by_key(|choice| (choice.cost, Reverse(choice.to)));
        }
        lists
    }

    /// Less than any line costs from a point to another or to one before that.
    fn least(&self, from: usize, to: usize, measure: Length) -> BreakCost {
        let slack = self.points[to].slack_to_end - self.points[from].slack_to_start;
        let longest = self.reach.longest(from, to);
        BreakCost::ordinary(self.way.least(longest, slack, measure))
    }

    /// A line after so many hyphenated ones, with the best of what may follow it.
    fn choice(&mut self, to: usize, hyphens: usize, own: LineCost, ahead: &mut Ahead) -> Choice {
        let last = to + 1 == self.points.len();
        let hyphen = self.points[to].hyphen;
        let mut cost = own.cost;
        if hyphens > 0 && (hyphen || last) {
            cost.ordinary += self.way.hyphens_in_a_row();
        }
        let third = hyphens == MOST_HYPHENS && hyphen;
        let before_last = hyphens > 0 && last;
        if third {
            cost = cost + self.way.breach(Wall::HyphensInARow);
        } else if before_last {
            cost = cost + self.way.breach(Wall::HyphenBeforeLast);
        }
        let behind = if hyphen {
            (hyphens + 1).min(MOST_HYPHENS)
        } else {
            0
        };
        let (tail, next) = self.go_on(own.look, ahead.at(to, behind));
        Choice {
            cost: cost + tail,
            to: to as u32,
            look: own.look,
            next,
            kept: NONE,
            fit: own.fit,
        }
    }

    /// The best line of a list to follow one of this look: what it costs with all that follows, and its number.
    fn go_on(&mut self, look: i32, list: &mut [Choice]) -> (BreakCost, u32) {
        let end = self.points.len() - 1;
        let mut best: Option<(BreakCost, Reverse<u32>, usize)> = None;
        for (index, choice) in list.iter().enumerate() {
            // No later one is better: neighbours never cost less than nothing.
            if best.is_some_and(|(cost, ..)| choice.cost > cost) {
                break;
            }
            let last = choice.to as usize == end;
            let between = self.way.between(look, choice.look, last);
            let cost = choice.cost + BreakCost::ordinary(between);
            let found = (cost, Reverse(choice.to), index);
            if best.is_none_or(|known| found < known) {
                best = Some(found);
            }
        }
        match best {
            Some((cost, _, index)) => (cost, self.keep(&mut list[index])),
            None => (BreakCost::default(), NONE),
        }
    }

    /// Begins a division with the best of these lines, that no line stands before; and what it costs.
    fn begin(&mut self, lists: &mut Lists) -> (u32, BreakCost) {
        match lists.0[0].first_mut() {
            Some(best) => (self.keep(best), best.cost),
            None => (NONE, BreakCost::default()),
        }
    }

    /// The number of a line among those that are kept.
    fn keep(&mut self, choice: &mut Choice) -> u32 {
        if choice.kept == NONE {
            choice.kept = self.lines.len() as u32;
            self.lines.push(Kept {
                to: choice.to,
                next: choice.next,
                fit: choice.fit,
            });
        }
        choice.kept
    }
}

/// Lists a line, unless the one listed before it, which is longer, looks alike and is no worse. Lines that look alike mostly
/// end one after another. `last` is the paragraph's end.
fn add(list: &mut Vec<Choice>, choice: Choice, last: usize) {
    match list.last_mut() {
        Some(known) if known.look == choice.look && known.to as usize != last => {
            if choice.cost < known.cost {
                *known = choice;
            }
        }
        _ => list.push(choice),
    }
}
