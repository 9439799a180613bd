//! The strip of paper as the plan asks for it.

use crate::names::{Cover, Direction, FoldKind, Length, PanelName, PanelSet, Side, Sides, Turned};

/// How far words keep from folds and trimmed edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Safety {
    /// From a fold.
    pub fold: Length,
    /// From a trimmed edge.
    pub edge: Length,
}

/// The widths of the panels at the two ends of the strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ends {
    /// Of front 1.
    pub first: Length,
    /// Of the last front panel.
    pub last: Length,
}

/// The strip of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Paper {
    /// Width of every panel but the two at the ends, above zero.
    pub panel_width: Length,
    /// Height of every panel, above zero.
    pub panel_height: Length,
    /// Widths of front 1 and of the last front panel, and so of what lies behind them.
    pub ends: Ends,
    /// The panels there are.
    pub panels: PanelSet,
    /// What holds the ends.
    pub cover: Cover,
    /// The fold after front 1.
    pub first_fold: FoldKind,
    /// How the reader turns the strip over.
    pub turned: Turned,
    /// Which way panels follow each other.
    pub reads: Direction,
    /// Art beyond the trim; not negative.
    pub bleed: Length,
    /// How far words keep from folds and edges.
    pub safety: Safety,
}

impl Paper {
    /// How wide a panel is: as the front panel that it is, or that lies on its other side.
    pub fn width_of(&self, panel: PanelName) -> Length {
        let front = match panel.side {
            Side::Front => Some(panel),
            Side::Back => self.behind(panel),
        };
        match front.map(|front| front.number) {
            Some(1) => self.ends.first,
            Some(number) if number == self.panels.per_side => self.ends.last,
            _ => self.panel_width,
        }
    }

    /// How long the first panels are together that lie at the left, seen from the front.
    pub fn along(&self, panels: u16) -> Length {
        let count = self.panels.per_side;
        let ends = match self.reads {
            Direction::LeftToRight => [self.ends.first, self.ends.last],
            Direction::RightToLeft => [self.ends.last, self.ends.first],
        };
        match panels {
            0 => Length::ZERO,
            // The only panel of a strip is both its ends.
            _ if panels >= count && count > 1 => {
                ends[0] + self.panel_width * i64::from(count - 2) + ends[1]
            }
            _ => ends[0] + self.panel_width * i64::from(panels.min(count) - 1),
        }
    }

    /// Whether two panels meet at an edge: neighbours of one side at their fold, and the two faces of a panel at an end of
    /// the strip around that end.
    pub fn meet(&self, one: PanelName, other: PanelName) -> bool {
        let at_end = one.number == 1 || one.number == self.panels.per_side;
        match one.side == other.side {
            true => one.number.abs_diff(other.number) == 1,
            false => at_end && self.behind(one) == Some(other),
        }
    }

    /// The width of the narrowest panel.
    pub fn narrowest(&self) -> Length {
        self.panel_width.min(self.ends.first).min(self.ends.last)
    }

    /// The width of the widest panel.
    pub fn widest(&self) -> Length {
        self.panel_width.max(self.ends.first).max(self.ends.last)
    }

    /// The fold after the front panel of that number, as seen from the front; nothing where no fold
    /// follows it.
    pub fn fold_after(&self, front: u16) -> Option<FoldKind> {
        if !(1..self.panels.per_side).contains(&front) {
            return None;
        }
        Some(match front % 2 {
            1 => self.first_fold,
            _ => self.first_fold.other(),
        })
    }

    /// The panel on the other side of the paper; the back is numbered in its own reading order. Nothing
    /// for a number that no side has.
    pub fn behind(&self, panel: PanelName) -> Option<PanelName> {
        let last = self.panels.per_side;
        if !(1..=last).contains(&panel.number) {
            return None;
        }
        let number = match self.turned {
            Turned::HeadToHead => last + 1 - panel.number,
            Turned::HeadToFoot => panel.number,
        };
        let side = match panel.side {
            Side::Front => Side::Back,
            Side::Back => Side::Front,
        };
        Some(PanelName { side, number })
    }

    /// The fold after panel `k` of a side, as seen from that side.
    pub fn fold_seen(&self, side: Side, k: u16) -> Option<FoldKind> {
        match side {
            Side::Front => self.fold_after(k),
            Side::Back => {
                // The fold between back k and back k + 1 lies behind the fold between two front panels;
                // take the lower number of those two.
                let behind = |number| {
                    self.behind(PanelName::back(number))
                        .map(|panel| panel.number)
                };
                let before = behind(k)?.min(behind(k + 1)?);
                self.fold_after(before).map(FoldKind::other)
            }
        }
    }

    /// What is seen at once when the strip is leafed through, from first to last: the pairs, and each face in no
    /// pair by itself; those of the front, then, turned over, those of the back.
    pub fn leafing(&self) -> Vec<Vec<PanelName>> {
        let mut seen: Vec<Vec<PanelName>> = Vec::new();
        for panel in self.panels.all() {
            let joined = self.fold_seen(panel.side, panel.number.wrapping_sub(1));
            match seen.last_mut() {
                Some(spread) if panel.number > 1 && joined == Some(FoldKind::Valley) => {
                    spread.push(panel);
                }
                _ => seen.push(vec![panel]),
            }
        }
        seen
    }

    /// The two faces on the outside of the closed book, front before back: those that no fold joins to
    /// another as a valley of their own side. They are there whether the back is printed or not.
    pub fn outside_faces(&self) -> Vec<PanelName> {
        let mut alone: Vec<_> = PanelSet {
            sides: Sides::Both,
            ..self.panels
        }
        .all()
        .collect();
        for number in 1..self.panels.per_side {
            let (one, other) = (PanelName::front(number), PanelName::front(number + 1));
            let joined = match self.fold_after(number) {
                Some(FoldKind::Valley) => [Some(one), Some(other)],
                // A mountain of the front is a valley of the back.
                _ => [self.behind(one), self.behind(other)],
            };
            alone.retain(|panel| !joined.contains(&Some(*panel)));
        }
        alone
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn outside(per_side: u16, first_fold: FoldKind, turned: Turned) -> Vec<String> {
        let paper = Paper {
            panel_width: Length::mm(105),
            panel_height: Length::mm(148),
            ends: Ends {
                first: Length::mm(105),
                last: Length::mm(105),
            },
            panels: PanelSet {
                per_side,
                sides: Sides::Both,
            },
            cover: Cover::SelfCover,
            first_fold,
            turned,
            reads: Direction::LeftToRight,
            bleed: Length::mm(3),
            safety: Safety {
                fold: Length::mm(6),
                edge: Length::mm(5),
            },
        };
        let faces = paper.outside_faces();
        faces.iter().map(ToString::to_string).collect()
    }

    /// Worked out on strips of 8, 7 and 2 panels: each face but two lies in a valley of its side.
    #[test]
    fn the_outside_faces_are_those_of_a_folded_strip() {
        use FoldKind::{Mountain, Valley};
        use Turned::{HeadToFoot, HeadToHead};
        assert_eq!(outside(8, Valley, HeadToHead), ["back 1", "back 8"]);
        assert_eq!(outside(8, Mountain, HeadToHead), ["front 1", "front 8"]);
        assert_eq!(outside(7, Valley, HeadToHead), ["front 7", "back 7"]);
        assert_eq!(outside(7, Mountain, HeadToHead), ["front 1", "back 1"]);
        assert_eq!(outside(7, Valley, HeadToFoot), ["front 7", "back 1"]);
        assert_eq!(outside(7, Mountain, HeadToFoot), ["front 1", "back 7"]);
        assert_eq!(outside(8, Valley, HeadToFoot), ["back 1", "back 8"]);
        assert_eq!(outside(2, Valley, HeadToHead), ["back 1", "back 2"]);
    }
}
