//! Where panels may end: at the ends of lines as the stack has them, and within a line where one was kept to end.

use super::Problem;
use crate::names::HalfLines;
use crate::stack::{Stop, Walk};

impl Problem {
    /// What rows `from..to` take on one panel in a column.
    pub fn depth(&self, column: usize, from: usize, to: usize) -> HalfLines {
        self.stop(column, from, to).used
    }

    /// How far down a panel that begins at `from` the words before `to` reach in a column.
    pub(crate) fn stop(&self, column: usize, from: usize, to: usize) -> Stop {
        let steps = self.steps(column, from).take_while(|stop| stop.to <= to);
        steps.last().unwrap_or(Stop::nothing(from))
    }

    /// Where a panel that begins at `from` may end, each place with what its words then take, from the top down.
    pub fn ends(
        &self,
        column: usize,
        from: usize,
    ) -> impl Iterator<Item = (usize, HalfLines)> + '_ {
        let stops = self.stops(column, from);
        stops.map(|stop| (stop.to, stop.used))
    }

    /// Where a panel that begins at `from` may end, each place with how many lines of the last paragraph stand there, too.
    pub(crate) fn stops(&self, column: usize, from: usize) -> impl Iterator<Item = Stop> + '_ {
        let steps = self.steps(column, from);
        steps.filter(|stop| self.may_end(stop.to))
    }

    /// Every place that lies at the end of a line of the column from `from`.
    pub(crate) fn steps(&self, column: usize, from: usize) -> Steps<'_> {
        let kept = !(self.chosen_ends.is_empty() && self.printed_ends.is_empty());
        Steps {
            problem: self,
            walk: self.stack.walk(column, from),
            place: from,
            cuts: kept && self.stack.columns[column].boxes.is_plain(),
            line: None,
        }
    }

    /// The first place between two others at which panels were chosen or printed to end.
    fn kept_between(&self, above: usize, below: usize) -> Option<usize> {
        let first = |ends: &[usize]| ends.get(ends.partition_point(|&end| end <= above)).copied();
        let kept = [first(&self.chosen_ends), first(&self.printed_ends)];
        kept.into_iter().flatten().min().filter(|&end| end < below)
    }
}

/// Goes down the lines from a place.
pub(crate) struct Steps<'a> {
    problem: &'a Problem,
    walk: Walk<'a>,
    place: usize,
    /// Whether a line is cut short at places within it at which panels end as they were kept, however the paragraph falls
    /// into lines since it was corrected. On slots none is.
    cuts: bool,
    /// The end of the line that is being cut short.
    line: Option<Stop>,
}

impl Iterator for Steps<'_> {
    type Item = Stop;

    fn next(&mut self) -> Option<Stop> {
        let stop = match self.line.take() {
            Some(stop) => stop,
            None => self.walk.next()?,
        };
        let kept = match self.cuts {
            true => self.problem.kept_between(self.place, stop.to),
            false => None,
        };
        self.line = kept.map(|_| stop);
        self.place = kept.unwrap_or(stop.to);
        Some(Stop {
            to: self.place,
            ..stop
        })
    }
}

impl Steps<'_> {
    /// Whether more of the paragraph follows that is being gone through.
    pub(crate) fn within_paragraph(&self) -> bool {
        self.line.is_some() || self.walk.within_paragraph()
    }
}
