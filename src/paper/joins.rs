//! Where the strip is joined: the best of all ways to cut it into as few sheets as can be.

use super::Strip;
use crate::names::{Direction, JoinKind, Length, PanelName, Side};
use crate::plan::SheetsPlan;

/// Words keep at least this far from the edge of a tab.
const CLEAR: Length = Length::mm(1);

/// What the strip's panels carry, as far as it concerns joins.
pub struct StripContents<'a> {
    /// Whether words lie on a side between two lengths along the strip, seen from the front.
    pub words: &'a dyn Fn(Side, Length, Length) -> bool,
    /// Whether a panel shows nothing.
    pub blank: &'a dyn Fn(PanelName) -> bool,
}

impl StripContents<'static> {
    /// A strip that carries nothing.
    pub fn nothing() -> StripContents<'static> {
        StripContents {
            words: &|_, _, _| false,
            blank: &|_| true,
        }
    }
}

/// A join of two sheets at a fold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Join {
    /// How many panels lie before it, from the left as seen from the front.
    pub before: u16,
    /// The front panel after which it lies, in the order of reading.
    pub after: PanelName,
    /// How far it lies from the strip's left edge, seen from the front.
    pub along: Length,
    /// How it is made.
    pub kind: JoinKind,
    /// Whether the sheet at the left of it has the tab; otherwise the one at the right has it.
    pub tab_at_left: bool,
    /// How wide the tab is, or the tissue.
    pub width: Length,
    /// The side that a tissue is pasted on.
    pub tissue_on: Side,
    /// Whether words lie under it.
    pub over_words: bool,
}

impl Join {
    /// How wide a tab one of the two sheets has here: the one at the left, or that at the right.
    pub fn tab(&self, of_left: bool) -> Length {
        match self.kind != JoinKind::Hinge && self.tab_at_left == of_left {
            true => self.width,
            false => Length::ZERO,
        }
    }

    /// The stretch of the strip that it covers: the tab behind its neighbour, or the tissue about the fold.
    pub fn zone(&self) -> (Length, Length) {
        match (self.kind, self.tab_at_left) {
            (JoinKind::Hinge, _) => (self.along - self.width / 2, self.along + self.width / 2),
            (_, true) => (self.along, self.along + self.width),
            (_, false) => (self.along - self.width, self.along),
        }
    }
}

/// A strip that is to be cut, and into what.
pub(super) struct CuttingTask<'a> {
    pub strip: &'a Strip,
    pub plan: &'a SheetsPlan,
    pub carried: &'a StripContents<'a>,
    /// How long the paper of a sheet may be.
    pub room: Length,
}

/// What a way of cutting costs, the weightiest first: joins over words, sheets, neighbouring joins at one edge of the book,
/// joins not beside blank panels, unevenness, tabs on the right-hand sheet.
type CutCost = [u64; 6];

/// The best way to cut the panels up to a join.
#[derive(Clone, Copy)]
struct ReachedJoin {
    cost: CutCost,
    /// The panels before the sheet that ends here, and whether the left-hand sheet has the tab there.
    from: (usize, usize),
}

/// The joins of the best way to cut a strip, from the left; nothing where no sheet is long enough. A sheet more is taken rather than
/// words in a join.
pub(super) fn best(cut: &CuttingTask<'_>) -> Option<Vec<Join>> {
    let count = usize::from(cut.strip.paper().panels.per_side);
    let anyhow = cut.ways(1, usize::MAX)?;
    let [over_words, sheets, ..] = anyhow.0;
    let as_good = |found: &(CutCost, Vec<Join>)| found.0[..2] == [over_words, sheets];
    let sheets = sheets as usize;
    let (least, most) = (count / sheets, count.div_ceil(sheets));
    // Sheets are as even as can be if the joins then lie where they should; otherwise one panel more or less is allowed, and
    // failing that any number.
    let even = cut.ways(least, most).filter(as_good);
    let nearly = || cut.ways((least - 1).max(2), most + 1).filter(as_good);
    let found = match even {
        Some(even) if even.0[2] == 0 => even,
        even => nearly().or(even).unwrap_or(anyhow),
    };
    Some(found.1)
}

impl CuttingTask<'_> {
    /// The best way with at least and at most so many panels on each sheet, and what it costs.
    fn ways(&self, least: usize, most: usize) -> Option<(CutCost, Vec<Join>)> {
        let count = usize::from(self.strip.paper().panels.per_side);
        let joins: Vec<[Option<Join>; 2]> = (0..=count).map(|at| self.joins_at(at)).collect();
        // The best way by the panels before a join, and by which sheet has the tab there.
        let mut reached: Vec<[Option<ReachedJoin>; 2]> = vec![[None, None]; count + 1];
        reached[0][0] = Some(ReachedJoin {
            cost: [0; 6],
            from: (0, 0),
        });
        for first in 0..count {
            for owner in 0..2 {
                let Some(here) = reached[first][owner] else {
                    continue;
                };
                let before = joins[first][owner].as_ref();
                for last in first + least.max(1)..=count.min(first.saturating_add(most)) {
                    if self.own(first, last) > self.room {
                        break;
                    }
                    for next in 0..2 {
                        let after = joins[last][next].as_ref();
                        if last < count && after.is_none() || last == count && next > 0 {
                            continue;
                        }
                        let Some(sheet) = self.sheet_cost((first, last), (before, after)) else {
                            continue;
                        };
                        let cost: CutCost = std::array::from_fn(|at| here.cost[at] + sheet[at]);
                        let known = &mut reached[last][next];
                        if known.is_none_or(|known| cost < known.cost) {
                            *known = Some(ReachedJoin {
                                cost,
                                from: (first, owner),
                            });
                        }
                    }
                }
            }
        }
        let mut at = (count, 0);
        let cost = reached[count][0]?.cost;
        let mut found = Vec::new();
        while at.0 > 0 {
            at = reached[at.0][at.1]?.from;
            found.extend(joins[at.0][at.1].clone());
        }
        found.reverse();
        Some((cost, found))
    }

    /// What a sheet of these panels costs, with the joins at its two ends; nothing where there is no room for it.
    fn sheet_cost(
        &self,
        (first, last): (usize, usize),
        (before, after): (Option<&Join>, Option<&Join>),
    ) -> Option<CutCost> {
        let tab =
            |join: Option<&Join>, of_left| join.map_or(Length::ZERO, |join| join.tab(of_left));
        let tabs = tab(before, false) + tab(after, true);
        // The tabs of both neighbours, behind it, must have room beside each other.
        let covered = tab(before, true) + tab(after, false);
        if self.own(first, last) + tabs > self.room || covered > self.panels(first, last) {
            return None;
        }
        let panels = last - first;
        let between = before.is_some() && after.is_some();
        let at_join = |worth: &dyn Fn(&Join) -> u64| after.map_or(0, worth);
        Some([
            at_join(&|join| u64::from(join.over_words)),
            1,
            u64::from(between && panels.is_multiple_of(2)),
            at_join(&|join| self.beside(join)),
            (panels * panels) as u64,
            at_join(&|join| u64::from(!join.tab_at_left)),
        ])
    }

    /// How long the panels between two joins are.
    fn panels(&self, first: usize, last: usize) -> Length {
        let paper = self.strip.paper();
        let along = |panels: usize| paper.along(u16::try_from(panels).unwrap_or(u16::MAX));
        along(last) - along(first)
    }

    /// How long the paper of the panels between two joins is, with what is spare and without tabs.
    fn own(&self, first: usize, last: usize) -> Length {
        let paper = self.strip.paper();
        let count = usize::from(paper.panels.per_side);
        let has_last = match paper.reads {
            Direction::LeftToRight => last == count,
            Direction::RightToLeft => first == 0,
        };
        let spare = if has_last {
            self.plan.spare
        } else {
            Length::ZERO
        };
        self.panels(first, last) + spare
    }

    /// The joins that may be made after so many panels: with the tab on the left-hand sheet, and on the other.
    fn joins_at(&self, before: usize) -> [Option<Join>; 2] {
        let count = self.strip.paper().panels.per_side;
        let before = u16::try_from(before).unwrap_or(count);
        if before == 0 || before >= count {
            return [None, None];
        }
        match self.plan.join {
            JoinKind::Hinge => [Some(self.join_at(before, true)), None],
            _ => [true, false].map(|at_left| Some(self.join_at(before, at_left))),
        }
    }

    /// The join after so many panels, with the tab on the left-hand sheet or on the other.
    fn join_at(&self, before: u16, tab_at_left: bool) -> Join {
        let paper = self.strip.paper();
        let along = paper.along(before);
        let covered = match tab_at_left {
            true => paper.along(before + 1) - along,
            false => along - paper.along(before - 1),
        };
        let kind = self.plan.join;
        let mut join = Join {
            before,
            after: PanelName::front(match paper.reads {
                Direction::LeftToRight => before,
                Direction::RightToLeft => paper.panels.per_side - before,
            }),
            along,
            kind,
            tab_at_left,
            width: match kind {
                JoinKind::Doubled => covered,
                JoinKind::Tab | JoinKind::Hinge => self.plan.tab,
            },
            tissue_on: Side::Back,
            over_words: false,
        };
        (join.over_words, join.tissue_on) = self.words_under(&join);
        join
    }

    /// Whether words lie under a join, and which side a tissue is then pasted on.
    fn words_under(&self, join: &Join) -> (bool, Side) {
        let (from, to) = join.zone();
        match join.kind {
            // A whole panel is carried by the one sheet, with its words.
            JoinKind::Doubled => (false, Side::Back),
            JoinKind::Tab => {
                // At the fold itself words keep their own distance.
                let (from, to) = match join.tab_at_left {
                    true => (from, to + CLEAR),
                    false => (from - CLEAR, to),
                };
                ((self.carried.words)(Side::Back, from, to), Side::Back)
            }
            JoinKind::Hinge => {
                let words = |side| (self.carried.words)(side, from - CLEAR, to + CLEAR);
                match (words(Side::Back), words(Side::Front)) {
                    (false, _) => (false, Side::Back),
                    (true, false) => (false, Side::Front),
                    (true, true) => (true, Side::Back),
                }
            }
        }
    }

    /// How far a join is from lying beside blank panels: where the edge of its tab is seen it counts most.
    fn beside(&self, join: &Join) -> u64 {
        let strip = self.strip;
        let front = |before: u16| match strip.paper().reads {
            Direction::LeftToRight => PanelName::front(before),
            Direction::RightToLeft => PanelName::front(strip.paper().panels.per_side + 1 - before),
        };
        let (left, right) = (front(join.before), front(join.before + 1));
        let covered = if join.tab_at_left { right } else { left };
        let is_blank =
            |panel: PanelName| !strip.paper().panels.contains(panel) || (self.carried.blank)(panel);
        let behind = |panel| strip.behind(panel).is_none_or(is_blank);
        let edge = u64::from(join.kind != JoinKind::Hinge && !behind(covered));
        let seam = u64::from(!is_blank(left) && !is_blank(right));
        let seam_behind = u64::from(!behind(left) && !behind(right));
        edge * 2 + seam + seam_behind
    }
}
