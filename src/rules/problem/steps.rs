//! How far down a panel words reach: line by line of paragraphs, row by row of all else, and on the slots of a shaped
//! area as the rows stand there.

use super::Problem;

impl Problem {
    /// The half lines that rows `from..to` take on one panel at a setting.
    pub fn depth(&self, setting: usize, from: usize, to: usize) -> u32 {
        self.stop(setting, from, to).used
    }

    /// How far down a panel that begins at `from` the words before `to` reach at a setting.
    pub(crate) fn stop(&self, setting: usize, from: usize, to: usize) -> Stop {
        let steps = self.steps(setting, from).take_while(|stop| stop.to <= to);
        steps.last().unwrap_or(Stop {
            to: from,
            used: 0,
            foot: 0,
        })
    }

    /// Where a panel that begins at `from` may end, each place with the half lines that its words then
    /// take, from the top down.
    pub fn ends(&self, setting: usize, from: usize) -> impl Iterator<Item = (usize, u32)> + '_ {
        let stops = self.stops(setting, from);
        stops.map(|stop| (stop.to, stop.used))
    }

    /// The same, with how many lines of the last paragraph stand there.
    pub(crate) fn stops(&self, setting: usize, from: usize) -> impl Iterator<Item = Stop> + '_ {
        let steps = self.steps(setting, from);
        steps.filter(|stop| self.may_end(stop.to))
    }

    /// Every place that lies at the end of a line of the setting from `from`.
    pub(crate) fn steps(&self, setting: usize, from: usize) -> Steps<'_> {
        Steps {
            problem: self,
            setting,
            from,
            place: from,
            used: 0,
            foot: 0,
            line: None,
            ends: None,
        }
    }

    /// The first place between two others at which panels were chosen or printed to end.
    fn kept_between(&self, above: usize, below: usize) -> Option<usize> {
        let first = |ends: &[usize]| ends.get(ends.partition_point(|&end| end <= above)).copied();
        let kept = [first(&self.chosen_ends), first(&self.printed_ends)];
        kept.into_iter().flatten().min().filter(|&end| end < below)
    }
}

/// How the paragraphs fall into lines at one setting, as far as panels care.
#[derive(Clone, Debug, Default, PartialEq, Hash)]
pub struct Falls {
    /// By place: the first of the lines that a panel beginning there has; nothing where no paragraph is.
    /// Shorter than the places are where the last rows are of no paragraph.
    pub first: Vec<Option<u32>>,
    /// Lines of paragraphs. Settings from different places may share their last lines.
    pub lines: Vec<FallenLine>,
    /// How rows stand on slots, if the setting is that of a shaped area. Then `first` is for panels that begin at the
    /// place, on the first slot.
    pub on_slots: Option<OnSlots>,
}

/// How rows stand on the slots of a shaped text area. A slot takes two half lines, whether words stand on it or not:
/// what is used is how far down its slots the words reach.
#[derive(Clone, Debug, Default, PartialEq, Hash)]
pub struct OnSlots {
    /// For each slot the first one behind its box: the words of a row that is no paragraph stay within one.
    pub ends: Vec<usize>,
    /// By place: which of `stands` has the row on the first slot; those on the others follow it, and last the one
    /// beyond all. Nothing for places within a paragraph.
    pub first: Vec<Option<u32>>,
    /// How rows stand when they come to a slot.
    pub stands: Vec<StandsOn>,
}

/// How a row stands when it comes to a slot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct StandsOn {
    /// How many half lines are left empty above it.
    pub skip: u32,
    /// Its height in half lines, if it is no paragraph.
    pub height: u32,
    /// The first of its lines, if it is one.
    pub line: Option<u32>,
}

impl OnSlots {
    /// How the row at a place stands when it comes so many half lines down.
    fn stand(&self, place: usize, used: u32) -> Option<StandsOn> {
        let first = self.first.get(place).copied().flatten()? as usize;
        let slot = (used / 2) as usize;
        self.stands.get(first + slot.min(self.ends.len())).copied()
    }

    /// How far down the words reach with a space of so many half lines below them; it vanishes where a box begins.
    fn spaced(&self, used: u32, space: u32) -> u32 {
        let slot = slot_below(&self.ends, (used / 2) as usize, space);
        u32::try_from(slot).unwrap_or(u32::MAX / 2) * 2
    }
}

/// The slot that follows a space of so many half lines above slot `slot`, where `ends` has for each slot the first one
/// behind its box. Spaces take whole slots, rounded up; they vanish at the head of a box, and at its foot.
pub fn slot_below(ends: &[usize], slot: usize, space: u32) -> usize {
    let lines = space.div_ceil(2) as usize;
    let heads = slot == 0 || ends.get(slot - 1).is_some_and(|&end| end == slot);
    match ends.get(slot) {
        Some(_) if heads => slot,
        Some(&end) => (slot + lines).min(end),
        None => slot + lines,
    }
}

impl Falls {
    /// The first of the lines from a place, by its number.
    pub fn first(&self, place: usize) -> Option<usize> {
        self.first
            .get(place)
            .copied()
            .flatten()
            .map(|at| at as usize)
    }
}

/// A line of a paragraph.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct FallenLine {
    /// The place where it ends; nothing where no panel may end.
    pub to: Option<u32>,
    /// The line below it; nothing at the paragraph's end.
    pub next: Option<u32>,
    /// Its height in half lines of the grid.
    pub height: u32,
}

/// A place where a line ends.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stop {
    /// The place.
    pub to: usize,
    /// The half lines down to it.
    pub used: u32,
    /// The lines of the paragraph that ends or is divided there, as far as they stand above it.
    pub foot: u32,
}

/// Goes down the lines from a place.
pub(crate) struct Steps<'a> {
    problem: &'a Problem,
    setting: usize,
    from: usize,
    place: usize,
    used: u32,
    /// How many lines of the paragraph have been gone through.
    foot: u32,
    /// The next line of the paragraph that is being gone through.
    line: Option<usize>,
    /// Where the line ends that is being gone through, if places lie within it at which panels end as they were kept:
    /// there it is cut short, however the paragraph falls into lines since it was corrected.
    ends: Option<usize>,
}

impl Iterator for Steps<'_> {
    type Item = Stop;

    fn next(&mut self) -> Option<Stop> {
        let falls = &self.problem.falls[self.setting];
        if let Some(to) = self.ends {
            let kept = self.problem.kept_between(self.place, to);
            self.place = kept.unwrap_or(to);
            self.ends = kept.map(|_| to);
            return Some(self.stop());
        }
        loop {
            if let Some(at) = self.line {
                let line = falls.lines[at];
                self.used = self.used.saturating_add(line.height);
                self.foot += 1;
                self.line = line.next.map(|next| next as usize);
                if let Some(to) = line.to {
                    let to = to as usize;
                    let kept = match falls.on_slots {
                        Some(_) => None,
                        None => self.problem.kept_between(self.place, to),
                    };
                    self.place = kept.unwrap_or(to);
                    self.ends = kept.map(|_| to);
                    return Some(self.stop());
                }
                continue;
            }
            let row = self.problem.rows.get(self.place)?;
            let spaced = self.place > self.from;
            self.foot = 0;
            if let Some(on_slots) = &falls.on_slots {
                if spaced {
                    self.used = on_slots.spaced(self.used, row.space_above);
                }
                if let Some(stand) = on_slots.stand(self.place, self.used) {
                    self.used = self.used.saturating_add(stand.skip);
                    self.line = stand.line.map(|line| line as usize);
                    if self.line.is_some() {
                        continue;
                    }
                    self.used = self.used.saturating_add(stand.height);
                    self.place += 1;
                    return Some(self.stop());
                }
            } else if spaced {
                self.used = self.used.saturating_add(row.space_above);
            }
            self.line = falls.first(self.place);
            if self.line.is_none() {
                let height = self.problem.heights[self.setting][self.place];
                self.used = self.used.saturating_add(height);
                self.place += 1;
                return Some(self.stop());
            }
        }
    }
}

impl Steps<'_> {
    /// Whether more of the paragraph follows that is being gone through.
    pub(crate) fn within_paragraph(&self) -> bool {
        self.line.is_some() || self.ends.is_some()
    }

    fn stop(&self) -> Stop {
        Stop {
            to: self.place,
            used: self.used,
            foot: self.foot,
        }
    }
}
