//! The product: for each point its first line, and for each line the one that follows it.

use super::BreakCost;

/// No line.
pub(super) const NONE: u32 = u32::MAX;

/// How a paragraph falls into lines, from every point on. Divisions from different places share their ends.
#[derive(Clone, Debug)]
pub struct LineBreaks {
    /// The first line from each point but the last.
    pub(super) first: Vec<u32>,
    /// What all lines from there cost.
    pub(super) costs: Vec<BreakCost>,
    /// The first line from the paragraph's beginning on each slot, and what all lines from there cost.
    pub(super) begins: Vec<(u32, BreakCost)>,
    pub(super) lines: Vec<Kept>,
}

/// A line, as it is kept. What follows a line is always kept before it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Kept {
    /// The point that it ends at.
    pub(super) to: u32,
    /// The line that follows.
    pub(super) next: u32,
    pub(super) fit: LineFit,
}

/// Whether a line fits its measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineFit {
    /// It does.
    Within,
    /// Its spaces have to become wider than the tolerance allows (justified lines only).
    Loose,
    /// It is too long, even with its spaces as narrow as can be.
    Overfull,
}

/// A line of a division.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BrokenLine {
    /// The point that it begins at.
    pub from: usize,
    /// The point that it ends at, where the next line begins.
    pub to: usize,
    /// Its number among [`LineBreaks::kept`] lines. All that follows a line of one number is the same, whatever stood
    /// before it.
    pub id: usize,
    /// Whether it fits its measure.
    pub fit: LineFit,
}

impl LineBreaks {
    /// The lines of the best division from a point to the paragraph's end; none from the end itself.
    pub fn lines_from(&self, point: usize) -> impl Iterator<Item = BrokenLine> + '_ {
        self.follow(point, self.first.get(point).copied().unwrap_or(NONE))
    }

    /// The lines of the best division of the whole paragraph where its first line stands on a slot; where there are
    /// no more, on the last.
    pub fn lines_on(&self, slot: usize) -> impl Iterator<Item = BrokenLine> + '_ {
        let begun = self.begins.get(slot).or(self.begins.last());
        self.follow(0, begun.map_or(NONE, |begun| begun.0))
    }

    /// What they cost together.
    pub fn cost_on(&self, slot: usize) -> BreakCost {
        let begun = self.begins.get(slot).or(self.begins.last());
        begun.map_or(BreakCost::default(), |begun| begun.1)
    }

    /// A line and those that follow it.
    fn follow(&self, mut from: usize, mut id: u32) -> impl Iterator<Item = BrokenLine> + '_ {
        std::iter::from_fn(move || {
            let kept = self.lines.get(id as usize)?;
            let line = BrokenLine {
                from,
                to: kept.to as usize,
                id: id as usize,
                fit: kept.fit,
            };
            (from, id) = (line.to, kept.next);
            Some(line)
        })
    }

    /// What the lines from a point cost together; nothing from the end itself.
    pub fn cost_from(&self, point: usize) -> BreakCost {
        self.costs.get(point).copied().unwrap_or_default()
    }

    /// How many different lines all divisions are made of.
    pub fn kept(&self) -> usize {
        self.lines.len()
    }

    /// Forgets the lines that no division came to use.
    pub(super) fn tidy(mut self) -> LineBreaks {
        let mut used = vec![false; self.lines.len()];
        let begins = self.begins.iter().map(|begun| begun.0);
        for id in self.first.iter().copied().chain(begins) {
            if let Some(used) = used.get_mut(id as usize) {
                *used = true;
            }
        }
        for id in (0..self.lines.len()).rev() {
            let next = self.lines[id].next;
            if used[id] && next != NONE {
                used[next as usize] = true;
            }
        }
        let mut renamed = vec![NONE; self.lines.len()];
        let mut kept = Vec::with_capacity(used.iter().filter(|&&used| used).count());
        for (id, &line) in self.lines.iter().enumerate() {
            if used[id] {
                renamed[id] = kept.len() as u32;
                let next = renamed.get(line.next as usize).copied().unwrap_or(NONE);
                kept.push(Kept { next, ..line });
            }
        }
        let begins = self.begins.iter_mut().map(|begun| &mut begun.0);
        for id in self.first.iter_mut().chain(begins) {
            *id = renamed.get(*id as usize).copied().unwrap_or(NONE);
        }
        self.lines = kept;
        self
    }
}
