//! Where the strip is joined: the best of all ways to cut it into as few sheets as can be.

use super::Strip;
use crate::names::Length;
use crate::names::{Direction, JoinKind, PanelName, Side};
use crate::plan::SheetsPlan;

/// Words keep at least this far from the edge of a tab.
const CLEAR: Length = Length::mm(1);

/// What the strip's panels carry, as far as joins ask.
pub struct Carried<'a> {
    /// Whether words lie on a side between two lengths along the strip, seen from the front.
    pub words: &'a dyn Fn(Side, Length, Length) -> bool,
    /// Whether a panel shows nothing.
    pub blank: &'a dyn Fn(PanelName) -> bool,
}

impl Carried<'static> {
    /// A strip that carries nothing.
    pub fn nothing() -> Carried<'static> {
        Carried {
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
    /// Where it lies along the strip.
    pub along: Length,
    /// How it is made.
    pub kind: JoinKind,
    /// Whether the sheet at the left of it has the tab; else that at the right.
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

    /// What of the strip it covers: the tab behind its neighbour, or the tissue about the fold.
    pub fn zone(&self) -> (Length, Length) {
        match (self.kind, self.tab_at_left) {
            (JoinKind::Hinge, _) => (self.along - self.width / 2, self.along + self.width / 2),
            (_, true) => (self.along, self.along + self.width),
            (_, false) => (self.along - self.width, self.along),
        }
    }
}

/// What is to be cut.
pub(super) struct Cut<'a> {
    pub strip: &'a Strip,
    pub plan: &'a SheetsPlan,
    pub carried: &'a Carried<'a>,
    /// How long the paper of a sheet may be.
    pub room: Length,
}

/// What a way of cutting costs, the weightiest first: joins over words, sheets, neighbouring joins at one edge of the book,
/// joins not beside blank panels, unevenness, tabs on the right-hand sheet.
type Cost = [u64; 6];

#[derive(Clone, Copy)]
struct Reached {
    cost: Cost,
    /// The panels before the sheet that ends here, and whether the left-hand sheet has the tab there.
    from: (usize, usize),
}

/// The joins of the best way, from the left; nothing where no sheet is long enough. A sheet more is taken rather than
/// words in a join.
pub(super) fn best(cut: &Cut<'_>) -> Option<Vec<Join>> {
    let count = usize::from(cut.strip.paper().panels.per_side);
    let anyhow = cut.ways(1, usize::MAX)?;
    let [over_words, sheets, ..] = anyhow.0;
    let as_good = |found: &(Cost, Vec<Join>)| found.0[..2] == [over_words, sheets];
    let sheets = sheets as usize;
    let (least, most) = (count / sheets, count.div_ceil(sheets));
    // As even as can be, if the joins then lie where they should; else with one panel more or less; else anyhow.
    let even = cut.ways(least, most).filter(as_good);
    let nearly = || cut.ways((least - 1).max(2), most + 1).filter(as_good);
    let found = match even {
        Some(even) if even.0[2] == 0 => even,
        even => nearly().or(even).unwrap_or(anyhow),
    };
    Some(found.1)
}

impl Cut<'_> {
    /// The best way with so many panels on each sheet.
    fn ways(&self, least: usize, most: usize) -> Option<(Cost, Vec<Join>)> {
        let paper = self.strip.paper();
        let count = usize::from(paper.panels.per_side);
        let joins: Vec<[Option<Join>; 2]> = (0..=count).map(|at| self.joins_at(at)).collect();
        // By panels before, and by which sheet has the tab of the join there.
        let mut reached: Vec<[Option<Reached>; 2]> = vec![[None, None]; count + 1];
        let start = Reached {
            cost: [0; 6],
            from: (0, 0),
        };
        reached[0][0] = Some(start);
        for first in 0..count {
            for owner in 0..2 {
                let Some(here) = reached[first][owner] else {
                    continue;
                };
                for last in first + least.max(1)..=count.min(first.saturating_add(most)) {
                    if self.own(first, last) > self.room {
                        break;
                    }
                    for next in 0..2 {
                        let join = joins[last][next].as_ref();
                        if last < count && join.is_none() || last == count && next > 0 {
                            continue;
                        }
                        let before = joins[first][owner].as_ref();
                        let tabs = before.map_or(Length::ZERO, |join| join.tab(false))
                            + join.map_or(Length::ZERO, |join| join.tab(true));
                        // What its neighbours' tabs cover of it must have room beside each other.
                        let covered = before.map_or(Length::ZERO, |join| join.tab(true))
                            + join.map_or(Length::ZERO, |join| join.tab(false));
                        if self.own(first, last) + tabs > self.room
                            || covered > self.panels(first, last)
                        {
                            continue;
                        }
                        let mut cost = here.cost;
                        cost[1] += 1;
                        cost[4] += ((last - first) * (last - first)) as u64;
                        let between = first > 0 && last < count;
                        cost[2] += u64::from(between && (last - first).is_multiple_of(2));
                        if let Some(join) = join {
                            cost[0] += u64::from(join.over_words);
                            cost[3] += self.beside(join);
                            cost[5] += u64::from(!join.tab_at_left);
                        }
                        let known = &mut reached[last][next];
                        if known.is_none_or(|known| cost < known.cost) {
                            *known = Some(Reached {
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

    /// How long panels are.
    fn panels(&self, first: usize, last: usize) -> Length {
        let paper = self.strip.paper();
        let along = |panels: usize| paper.along(u16::try_from(panels).unwrap_or(u16::MAX));
        along(last) - along(first)
    }

    /// How long their paper is, without tabs.
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
        let paper = self.strip.paper();
        let count = paper.panels.per_side;
        let before = u16::try_from(before).unwrap_or(count);
        if before == 0 || before >= count {
            return [None, None];
        }
        let along = paper.along(before);
        let after = PanelName::front(match paper.reads {
            Direction::LeftToRight => before,
            Direction::RightToLeft => count - before,
        });
        let join = |tab_at_left: bool| {
            let behind = match tab_at_left {
                true => paper.along(before + 1) - along,
                false => along - paper.along(before - 1),
            };
            let kind = self.plan.join;
            let mut join = Join {
                before,
                after,
                along,
                kind,
                tab_at_left,
                width: if kind == JoinKind::Doubled {
                    behind
                } else {
                    self.plan.tab
                },
                tissue_on: Side::Back,
                over_words: false,
            };
            let words = |side| {
                let (from, to) = join.zone();
                (self.carried.words)(side, from - CLEAR, to + CLEAR)
            };
            match kind {
                // A whole panel is carried by the one sheet, with its words.
                JoinKind::Doubled => {}
                JoinKind::Tab => {
                    let (from, to) = join.zone();
                    // At the fold itself words keep their own distance.
                    let (from, to) = match tab_at_left {
                        true => (from, to + CLEAR),
                        false => (from - CLEAR, to),
                    };
                    join.over_words = (self.carried.words)(Side::Back, from, to);
                }
                JoinKind::Hinge if !words(Side::Back) => {}
                JoinKind::Hinge => {
                    join.over_words = words(Side::Front);
                    join.tissue_on = if join.over_words {
                        Side::Back
                    } else {
                        Side::Front
                    };
                }
            }
            join
        };
        match self.plan.join {
            JoinKind::Hinge => [Some(join(true)), None],
            _ => [Some(join(true)), Some(join(false))],
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
